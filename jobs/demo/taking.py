"""What the demo's open and past jobs share: logging a watch, its photos, its quote, and moving it into the past."""

from datetime import timedelta

from django.utils import timezone

from jobs.demo import photos
from jobs.demo.people import customer
from jobs.intake.arrival import log_watch
from jobs.models import Event, Job, Photo, QuoteLine
from jobs.options import choosing
from jobs.photos.storing import store_pictures
from jobs.quotes import versions
from parts.copies import unsaved_copy
from parts.models import Pairing
from parts.models.pairing import OTHER_HANDS
from parts.tools.pictures import as_kept

_PRICE = 18
"""What a line costs that nobody has priced, in the shop's currency."""


def log(by, name, family, watch, wish, pairing, conditions, **facts):
    """A watch logged with a photo as it came, and its option chosen; returns the job and the option."""
    facts = {"watch": watch, "wish": wish, "keep": "dial and case", "came_with": "strap"} | facts
    job = log_watch(by=by, customer=customer(name), family_name=family, conditions=conditions, **facts)
    chosen = Pairing.objects.with_parts().get(name=pairing, made_for="")
    option = choosing.add_option(job=job, pairing=chosen, by=by)
    for field in OTHER_HANDS:
        if option.pairing.holds(field):
            _as_the_watchs_own(job, option.pairing, field)
    choosing.choose(option=option, by=by)
    picture(job, by, "intake", "As it came", photos.front(chosen, watch, hands="old", at=(10, 8, 36), strap=True))
    return job, option


def _as_the_watchs_own(job, pairing, field):
    """Enter a single hand for the job: it came with the watch, and is nothing to buy."""
    original = getattr(pairing, field)
    own = unsaved_copy(original, made_for=job.number)
    own.save()
    for hand in original.hands.all():
        unsaved_copy(hand, hand_set=own).save()
    setattr(pairing, field, own)
    pairing.save(update_fields=[field])


def picture(job, by, stage, caption, image):
    """Store a picture at one of the job's stages."""
    store_pictures(job=job, pictures=[as_kept(image)], by=by, stage=stage, caption=caption)


def sent_quote(job, option, by):
    """A quote of the option, priced and sent."""
    quote = versions.propose(job=job, options=[option], by=by)
    QuoteLine.objects.filter(part__quote=quote, price=None).exclude(kind="accept").update(price=_PRICE)
    return versions.send(quote=quote, by=by)


def agreed(job, option, name, by):
    """A quote of the option, priced, sent and accepted; its parts have come."""
    quote = sent_quote(job, option, by)
    said = {"said_by": name, "how": "phone", "on": timezone.localdate(), "by": by}
    versions.accept(quote=quote, part=quote.parts.get(), taken=set(), **said)
    job.orders.update(state="arrived")


def put_back(job: Job, *, logged: int, closed: int = 0) -> None:
    """Move the job back by so many days: as if it had been logged, and closed where it was, then."""
    now = timezone.now()
    came, left = now - timedelta(days=logged), now - timedelta(days=closed)
    Job.objects.filter(pk=job.pk).update(logged=came)
    Event.objects.filter(job=job).update(at=left)
    Event.objects.filter(job=job, kind=Event.Kind.LOGGED).update(at=came)
    Photo.objects.filter(job=job).update(taken=left)
    Photo.objects.filter(job=job, stage="intake").update(taken=came)
