"""The words for a customer whose watch wants looking after, in the customer's language."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from django.utils.translation import gettext as _

from jobs.language.choices import speaking
from jobs.language.formats import day, month
from jobs.models import FollowUp, Job, Shop
from jobs.quotes.texts import filled
from jobs.shop.words import in_language, language_for

if TYPE_CHECKING:
    from jobs.after.due import Due


_OF_KIND: dict[str, str] = {
    FollowUp.Kind.CELL: "after_cell",
    FollowUp.Kind.WARRANTY: "after_warranty",
    FollowUp.Kind.PROMISE: "after_promise",
}
"""What the shop says of each kind; a letter puts it where it has {text}."""
PLACES = ("name", "watch", "number", "shop", "text", "begun", "month", "day", "words")
"""What the shop's texts may name in braces: {begun} the month that the cell is of, {month} and {day} when it is due."""


class Texts(NamedTuple):
    """What can be sent: an e-mail with its subject, and a short message, all in `language`."""

    language: str
    subject: str
    email: str
    message: str


def texts_for(*, job: Job, due: Due) -> Texts | None:
    """The texts; None where the customer wants no letters, or no month is known."""
    if job.customer.no_letters or due.first is None:
        return None
    shop = Shop.current()
    language = language_for(job.customer, shop)
    shop = in_language(shop, language)
    with speaking(language):
        values = {
            "name": job.customer.name,
            "watch": job.title,
            "number": job.number,
            "shop": str(shop),
            "words": due.note.words if due.note else "",
            "begun": month(due.begins),
            "month": month(due.first),
            "day": day(due.first),
        }
        values["text"] = filled(getattr(shop, _OF_KIND[due.kind]), values)
        subject = filled(_("Your watch, job {number}"), values)
        return Texts(language, subject, filled(shop.after_email, values), filled(shop.after_message, values))
