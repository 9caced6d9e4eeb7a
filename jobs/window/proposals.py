"""What an entry begins with: read from the job, in the words of customers' papers; the owner changes all of it."""

from __future__ import annotations

from decimal import ROUND_CEILING, Decimal
from math import ceil
from typing import TYPE_CHECKING, Any

from django.db.models import Max
from django.utils.translation import gettext as _

from jobs.invoices.account import accepted_way
from jobs.language.choices import speaking
from jobs.models import Event, Photo, Shop, WindowPhoto
from jobs.options.choosing import chosen_option, report_of
from jobs.photos.arranging import pairs_of
from jobs.quotes.customer_words import option_title
from jobs.quotes.lines import what_it_takes
from parts.models import Movement

if TYPE_CHECKING:
    from jobs.models import Job

Role = WindowPhoto.Role


def proposed(job: Job, shop: Shop) -> dict[str, Any]:
    """The entry's fields by their names; what the job does not say is left out."""
    option = chosen_option(job)
    movement = option.pairing.movement if option else None
    fields = {
        "family": job.case_family,
        "movement": movement and Movement.objects.filter(pk=movement.original.pk, made_for="").first(),
        "price_from": _price(job, shop),
        "days": _days(job),
    } | proposed_words(job, shop.language)
    return {name: value for name, value in fields.items() if value}


def proposed_words(job: Job, language: str) -> dict[str, str]:
    """Title and what it takes, in a language."""
    option = chosen_option(job)
    if option is None:
        return {"title": job.case_family.name} if job.case_family else {}
    with speaking(language):
        movement = option_title(option.pairing)
        watch = job.case_family.name if job.case_family else ""
        title = _("{watch}: {movement}").format(watch=watch, movement=movement) if watch and movement else watch
        return {"title": title, "takes": "\n".join(map(str, what_it_takes(option, report_of(option))))}


def in_another_language(job: Job, lines: list[str], *, written: str, language: str) -> dict[str, str]:
    """Those of the lines of what it takes that stand as they were proposed, `written` in one language, in another."""
    option = chosen_option(job)
    composed = what_it_takes(option, report_of(option)) if option else []
    with speaking(written):
        known = {str(words): words for words in composed}
    with speaking(language):
        return {line: str(known[line]) for line in lines if line in known}


def proposed_window_words(language: str) -> dict[str, str]:
    """What the site says of the shop before the owner words it, in a language."""
    with speaking(language):
        steps = (
            _("You write to us: which watch it is, and what it should do."),
            _("We measure it, and tell you what fits, what changes and what it costs."),
            _("You agree; only then is anything made or ordered."),
            _("Your watch is converted, timed and sent back, with its old parts."),
        )
        return {"tagline": _("Your watch keeps its face, and gets a new movement."), "steps": "\n".join(steps)}


def showable_photos(job: Job) -> list[Photo]:
    """The photos of the job that may be chosen: no signed papers, none archived."""
    return list(job.photos.filter(kind=Photo.Kind.WATCH, archived=False))


def proposed_roles(photos: list[Photo]) -> dict[int, str]:
    """Roles by photo (primary key): the first pair; else the first photo of intake and the last of a later stage."""
    first = next((photo for photo in photos if photo.stage == "intake"), None)
    last = next((photo for photo in reversed(photos) if photo.stage != "intake"), None)
    before, after = next(iter(pairs_of(photos)), (first, last))
    chosen = ((before, Role.BEFORE), (after, Role.AFTER))
    return {photo.pk: role for photo, role in chosen if photo}


def _price(job: Job, shop: Shop) -> Decimal | None:
    """What the customer agreed to, in the shop's currency of today, rounded up to two figures."""
    way = accepted_way(job.quotes.all())
    if way is None or way.part.quote.currency != shop.currency or not way.sums.total:
        return None
    step = Decimal(1).scaleb(way.sums.total.adjusted() - 1)
    return ((way.sums.total / step).to_integral_value(ROUND_CEILING) * step).quantize(Decimal("0.01"))


def _days(job: Job) -> int | None:
    """Whole days from logging to the last closing; None for an open job."""
    closed = job.events.filter(kind=Event.Kind.CLOSED).aggregate(last=Max("at"))["last"]
    return max(1, ceil((closed - job.logged).total_seconds() / 86_400)) if closed else None
