"""The words of an answer, in the customer's language."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.utils.translation import gettext as _

from jobs.after.texts import Texts
from jobs.language.choices import speaking
from jobs.models import Enquiry, Shop
from jobs.money.sums import shown
from jobs.quotes.texts import filled
from jobs.shop.words import in_language, language_for

if TYPE_CHECKING:
    from collections.abc import Mapping


def texts_for(*, enquiry: Enquiry, sees_money: bool) -> Texts | None:
    """The texts of the answer; None before there is one. The price is left out for who does not see money."""
    if not enquiry.answer:
        return None
    shop = Shop.current()
    language = language_for(enquiry.customer, shop)
    shop = in_language(shop, language)
    with speaking(language):
        price = shown(enquiry.price_from, shop.currency) if sees_money and enquiry.price_from is not None else ""
        values = {"name": enquiry.customer.name, "watch": enquiry.about, "price": price, "shop": str(shop)}
        values["text"] = filled(_sentences(enquiry.answer, values), values)
        subject = filled(_("Your enquiry: {watch}") if enquiry.about else _("Your enquiry"), values)
        email = filled(_("Hello {name},\n\n{text}\n\nKind regards\n{shop}"), values)
        return Texts(language, subject, email, filled(_("Hello {name}. {text} {shop}"), values))


def _sentences(answer: str, values: Mapping[str, str]) -> str:
    if answer == Enquiry.Answer.MEASURE:
        return _(
            "Thank you for asking. Before we can say whether it fits, we have to know more: please fill in the "
            "sheet that comes with this, as far as you can without opening anything by force, and send it back with "
            "photos of the front, the back, the crown's side and, if the back is open, the inside."
        )
    if answer == Enquiry.Answer.NOT:
        return _("Thank you for asking. As far as we can tell from here, this movement would not fit your watch.")
    if values["price"]:
        return _(
            "Thank you for asking. It would fit, from {price}. You get a binding quote once we have seen and "
            "measured the watch; nothing is done before you agree."
        )
    return _(
        "Thank you for asking. It would fit. You get a binding quote once we have seen and measured the watch; "
        "nothing is done before you agree."
    )
