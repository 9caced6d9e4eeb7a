"""The demo's shop and the invented people about it."""

from django.contrib.auth import get_user_model
from django.core.files.base import ContentFile
from PIL import Image, ImageDraw

from jobs.language.choices import PLAIN
from jobs.models import Customer, Shop
from parts.tools.pictures import encoded

_CUSTOMERS = {
    # name: phone, e-mail, address, how to reach, notes
    "Ottilie Reed": ("555 0101", "ottilie@reed.example", "3 Weir Lane\nHollin Ferry", "phone", "Has two of a pair."),
    "Ben Alder": ("555 0117", "ben.alder@post.example", "18 Quarry Row\nNether Coombe", "message", ""),
    "Marit Holm": ("555 0122", "marit@holm.example", "7 Chandler's Yard\nHollin Ferry", "email", ""),
    "Ivo Castle": ("555 0135", "", "The Lock House\nTollbridge", "phone", "Ring after six."),
    "Thea Lund": ("555 0148", "thea.lund@post.example", "2 Ferry Steps\nSaltreach", "email", ""),
    "Ida Fern": ("555 0160", "ida@fern.example", "22 Mill Street\nHollin Ferry", "email", ""),
    "Rolf Ekman": ("555 0163", "", "5 Harbour Steps\nSaltreach", "post", ""),
    "Jörg Ahlen": ("555 0171", "joerg@ahlen.example", "41 High Bank\nTollbridge", "message", ""),
    "Hedda Quist": ("555 0192", "hedda@quist.example", "", "email", ""),
    "Milo Sarn": ("555 0196", "", "", "phone", ""),
    "Zoë Marsh": ("555 0184", "zoe.marsh@post.example", "9 Weir Lane\nHollin Ferry", "message", ""),
}


_PAPERS_IN = {"Jörg Ahlen": "de", "Zoë Marsh": "fr"}
"""Whose papers come in another language than the shop's."""


def visitor():
    """The account that everything in the demo is done with."""
    return get_user_model().objects.get_or_create(username="demo", defaults={"is_staff": True, "is_superuser": True})[0]


def customer(name):
    """The customer of that name, with all that is known, saved or not."""
    phone, email, address, reach, notes = _CUSTOMERS[name]
    facts = {"phone": phone, "email": email, "address": address, "reach": reach, "notes": notes}
    facts["language"] = _PAPERS_IN.get(name, PLAIN)
    return Customer.objects.filter(name=name).first() or Customer(name=name, **facts)


def open_shop():
    """The demo's letterhead, prices and tax."""
    shop = Shop(
        name="Weir Lane Watches",
        address="Ada and Colm Pell\n12 Weir Lane\nHollin Ferry\n555 0199",
        country="IE",
        tax_number="HF 0000 0000",
        how_to_pay="By transfer to Tollbridge Savings, account 0000 0000, or in the shop.\n"
        "Please give the number of this invoice.",
        hourly_rate=64,
        tax_rate=20,
        deposit=30,
    )
    shop.logo.save("logo.jpg", ContentFile(encoded(_logo(), 300)), save=False)
    shop.save()


def _logo():
    """A dial ring with two hands."""
    image = Image.new("RGB", (600, 600), "white")
    draw = ImageDraw.Draw(image)
    draw.ellipse((40, 40, 560, 560), outline=(11, 85, 102), width=36)
    draw.line((300, 300, 180, 215), fill=(11, 85, 102), width=36)
    draw.line((300, 300, 470, 160), fill=(11, 85, 102), width=26)
    draw.ellipse((268, 268, 332, 332), fill=(11, 85, 102))
    return image.resize((300, 300), Image.Resampling.LANCZOS)
