"""The shop: letterhead, money, paper, and the texts that it words itself."""

import re
from decimal import Decimal

from babel import Locale
from babel.numbers import list_currencies
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as lazy

from jobs.language.choices import LANGUAGES, PLAIN
from jobs.models import shop_texts as texts
from jobs.rate import READING_S, WRIST_C

_NO_COUNTRIES = {"EU", "EZ", "QO", "UN", "XA", "XB", "ZZ"}
COUNTRIES = {code for code in map(str, Locale("en").territories) if len(code) == 2 and code.isalpha()} - _NO_COUNTRIES
"""Two-letter country codes, from the Unicode data."""
PERCENT = [MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(100))]


def _currency(value):
    if value not in list_currencies():
        raise ValidationError(
            lazy("{value} is not a currency code. Type three letters, such as EUR.").format(value=value)
        )


def country_known(value):
    """Refuse what is no two-letter country code."""
    if value not in COUNTRIES:
        raise ValidationError(lazy("{value} is not a country code. Type two letters, such as IE.").format(value=value))


def _prefix(value):
    plain = value.replace("{year}", "2026")
    if not re.fullmatch(r"[A-Za-z0-9 ./-]*", plain):
        raise ValidationError(lazy("Use letters, digits, blanks, dots, slashes, hyphens and {year} only."))
    if plain[-1:].isdigit():
        raise ValidationError(
            lazy("“{value}” ends in a digit, and numbers would run into it. End it with a sign, such as -.").format(
                value=value
            )
        )


def has_place_for_text(text):
    """Refuse the frame of a letter that would say nothing."""
    if "{text}" not in text:
        raise ValidationError(lazy("Put {text} where the sentence about the watch goes."))


class Shop(models.Model):
    """The one shop of this workshop; `tax_by_line` rounds the tax of each line, otherwise that of each rate's sum.

    `words` are its texts in other languages than its own: {"de": {"greeting": "..."}}; `jobs/shop/words.py` reads them.
    """

    class Paper(models.TextChoices):
        A4 = "A4", lazy("A4")
        LETTER = "letter", lazy("US Letter")

    class Label(models.TextChoices):
        """The tray label's sizes; jobs/papers/labels.py has their dimensions."""

        ROLL_90 = "90x40", lazy("single, 90 × 40 mm")
        ROLL_62 = "62x29", lazy("single, 62 × 29 mm")
        ROLL_57 = "57x32", lazy("single, 57 × 32 mm")
        SHEET_24 = "a4-24", lazy("A4 sheet of 24, 70 × 37 mm")
        SHEET_21 = "a4-21", lazy("A4 sheet of 21, 63.5 × 38.1 mm")
        SHEET_30 = "letter-30", lazy("US Letter sheet of 30, 66.7 × 25.4 mm")

    name = models.CharField(max_length=120, blank=True)
    address = models.TextField(max_length=500, blank=True)
    tax_number = models.CharField(lazy("tax number"), max_length=60, blank=True)
    logo = models.ImageField(upload_to="shop/", blank=True)
    paper = models.CharField(max_length=6, choices=Paper.choices, default=Paper.A4)
    label = models.CharField(lazy("tray label"), max_length=9, choices=Label.choices, default=Label.ROLL_90)
    language = models.CharField(
        lazy("own language"),
        max_length=5,
        choices=LANGUAGES,
        default=PLAIN,
        help_text=lazy("The texts below are in it, and so are papers for new customers, unless you choose another."),
    )
    keep_originals = models.BooleanField(
        lazy("keep photos as they came"),
        default=False,
        help_text=lazy(
            "Beside the smaller ones that are shown: at full size, without place, camera and other such data. "
            "A job with 40 photos may take 300 MB."
        ),
    )
    words = models.JSONField(default=dict, blank=True, editable=False)
    currency = models.CharField(
        max_length=3, default="EUR", validators=[_currency], help_text=lazy("Three letters: EUR, GBP.")
    )
    hourly_rate = models.DecimalField(
        lazy("rate per hour"),
        max_digits=8,
        decimal_places=2,
        default=Decimal(60),
        validators=[MinValueValidator(Decimal(0))],
    )
    mark_up = models.DecimalField(
        lazy("mark-up on parts, %"),
        max_digits=5,
        decimal_places=2,
        default=Decimal(30),
        validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(500))],
    )
    tax_rate = models.DecimalField(
        lazy("tax, %"), max_digits=5, decimal_places=2, default=Decimal(0), validators=PERCENT
    )
    tax_inclusive = models.BooleanField(lazy("prices include tax"), default=True)
    tax_by_line = models.BooleanField(lazy("round tax line by line"), default=False)
    deposit = models.DecimalField(
        lazy("deposit, %"), max_digits=5, decimal_places=2, default=Decimal(0), validators=PERCENT
    )
    valid_days = models.PositiveSmallIntegerField(lazy("quotes are valid for, days"), default=30)
    country = models.CharField(
        max_length=2,
        blank=True,
        validators=[country_known],
        help_text=lazy("Two letters, such as IE; electronic invoices need it."),
    )
    invoice_prefix = models.CharField(
        lazy("invoice numbers begin with"),
        max_length=20,
        default="{year}-",
        blank=True,
        validators=[_prefix],
        help_text=lazy("{year} becomes the year, and each year has a series of its own."),
    )
    invoice_start = models.PositiveIntegerField(
        lazy("first number"),
        default=1,
        validators=[MinValueValidator(1), MaxValueValidator(999_999)],
        help_text=lazy("Of a series that has no number yet; a series that has begun goes on without a gap."),
    )
    credit_prefix = models.CharField(
        lazy("credit note numbers begin with"),
        max_length=20,
        blank=True,
        validators=[_prefix],
        help_text=lazy("Leave it blank to number credit notes with the invoices."),
    )
    payment_days = models.PositiveSmallIntegerField(
        lazy("invoices are due after, days"), default=14, validators=[MaxValueValidator(365)]
    )
    how_to_pay = models.TextField(
        lazy("how to pay"),
        max_length=1000,
        blank=True,
        help_text=lazy("Printed on invoices: bank, account, what to quote."),
    )
    no_tax_reason = models.CharField(
        lazy("why no tax is charged"),
        max_length=200,
        blank=True,
        help_text=lazy("Printed on invoices with lines at 0 %, where the law asks for it."),
    )
    tap_s = models.FloatField(
        lazy("tap uncertainty, s"),
        default=READING_S,
        validators=[MinValueValidator(0.01), MaxValueValidator(5.0)],
        help_text=lazy("Standard uncertainty of one reading of a timing run; common practice, no source."),
    )
    wrist_c = models.FloatField(
        lazy("temperature at the wrist, °C"),
        default=WRIST_C,
        validators=[MinValueValidator(-10.0), MaxValueValidator(45.0)],
        help_text=lazy("The rate is converted to this temperature; common practice, no source."),
    )
    greeting = models.TextField(default=texts.GREETING, max_length=2000, blank=True)
    terms = models.TextField(default=texts.TERMS, max_length=4000, blank=True)
    warranty = models.TextField(default=texts.WARRANTY, max_length=4000, blank=True)
    warranty_months = models.PositiveSmallIntegerField(
        lazy("warranty, months"),
        default=12,
        help_text=lazy("The handover note names the first and the last day; 0 names none."),
    )
    liability = models.TextField(
        lazy("declared value and liability"), default=texts.LIABILITY, max_length=2000, blank=True
    )
    uncollected = models.TextField(lazy("uncollected watches"), default=texts.UNCOLLECTED, max_length=2000, blank=True)
    privacy = models.TextField(lazy("privacy line"), default=texts.PRIVACY, max_length=2000, blank=True)
    quote_email = models.TextField(lazy("e-mail with a quote"), default=texts.QUOTE_EMAIL, max_length=2000, blank=True)
    quote_message = models.TextField(
        lazy("message with a quote"), default=texts.QUOTE_MESSAGE, max_length=600, blank=True
    )
    after_email = models.TextField(
        lazy("e-mail, looking after"),
        default=texts.AFTER_EMAIL,
        max_length=2000,
        blank=True,
        validators=[has_place_for_text],
        help_text=lazy("{text} becomes one of the sentences below."),
    )
    after_message = models.TextField(
        lazy("message, looking after"),
        default=texts.AFTER_MESSAGE,
        max_length=600,
        blank=True,
        validators=[has_place_for_text],
    )
    after_cell = models.TextField(lazy("a cell falls due"), default=texts.AFTER_CELL, max_length=2000, blank=True)
    after_warranty = models.TextField(
        lazy("the warranty ends"), default=texts.AFTER_WARRANTY, max_length=2000, blank=True
    )
    after_promise = models.TextField(
        lazy("you promised to ask"), default=texts.AFTER_PROMISE, max_length=2000, blank=True
    )
    care = models.TextField(default=texts.CARE, max_length=2000, blank=True)
    button_cell = models.TextField(lazy("button-cell caution"), default=texts.BUTTON_CELL, max_length=2000)
    water = models.TextField(lazy("water resistance"), default=texts.WATER, max_length=2000)
    nickel = models.TextField(lazy("nickel caution"), default=texts.NICKEL, max_length=2000, blank=True)

    def __str__(self):
        return self.name or gettext("this workshop")

    @classmethod
    def current(cls, shops=None):
        """The shop as it is set now; defaults where nobody has set anything yet."""
        return (cls.objects.all() if shops is None else shops).first() or cls()
