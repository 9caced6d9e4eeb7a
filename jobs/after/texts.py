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
        values["text"] = filled(_sentences(due.kind), values)
        subject = filled(_("Your watch, job {number}"), values)
        email = filled(_("Hello {name},\n\n{text}\n\nKind regards\n{shop}"), values)
        return Texts(language, subject, email, filled(_("Hello {name}. {text} {shop}, job {number}"), values))


def _sentences(kind):
    if kind == FollowUp.Kind.CELL:
        return _(
            "The battery in your watch ({watch}) dates from {begun} and is due for a change from about {month}. An "
            "empty one that stays in can leak and damage the movement. Shall we fit a new one?"
        )
    if kind == FollowUp.Kind.WARRANTY:
        return _(
            "The warranty on our work on your watch ({watch}) runs until {day}. If anything about it is not as it "
            "should be, please tell us before then."
        )
    return _("We promised to come back to you about your watch ({watch}): {words}")
