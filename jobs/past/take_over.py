"""A new job like a past one: its pairing, holder and quote lines, as copies that belong to the new job alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from jobs.history import record
from jobs.models import Event, Job, Outcome, Quote, QuoteLine, QuotePart, Shop
from jobs.options import choosing
from jobs.quotes.composed import say
from jobs.quotes.versions import empty_draft
from parts.models import Pairing

if TYPE_CHECKING:
    from django.contrib.auth.models import User


def source_of(number):
    """The past job of this number; None where there is none."""
    return Job.objects.select_related("case_family").filter(number=number.strip()).first() if number.strip() else None


def begun_like(data):
    """What the intake page begins with when ?like= names a past job; ?like= alone takes nothing over."""
    if "like" not in data:
        return {}
    source = source_of(data["like"].replace("\0", ""))
    if source is None:
        return {"like": ""}
    return {"like": source.number} | ({"family": source.case_family.name} if source.case_family else {})


def what_is_taken(source):
    """What a new job takes over from this one, in words."""
    option, part, outcome = _option_of(source), _part_of(source), _outcome_of(source)
    designs = [design for design in (outcome and outcome.ring, outcome and outcome.spacer) if design]
    taken = [f"the fit check “{option.pairing.name}”"] if option else []
    taken += [f"{design.get_kind_display()}, revision {design.revision}" for design in designs]
    if option and part and (count := part.lines.count()):
        taken.append(f"{count} quote line{'' if count == 1 else 's'} with prices as they were")
    return taken


@transaction.atomic
def take_over(*, job: Job, source: Job, by: User) -> None:
    """Copy the chosen pairing, name the same holder revisions, draft a quote of the same lines; told in the history.

    Prices stay as they were, without one where the shop's currency has changed; taxes are the shop's of today.
    """
    if not (option := _option_of(source)):
        return
    taken = what_is_taken(source)
    pairing = Pairing.objects.with_parts().get(pk=option.pairing_id)
    made = choosing.add_option(job=job, pairing=pairing, by=by)
    choosing.choose(option=made, by=by)
    outcome = _outcome_of(source)
    if outcome and (outcome.ring or outcome.spacer):
        Outcome.objects.create(job=job, ring=outcome.ring, spacer=outcome.spacer)
    if part := _part_of(source):
        _copy_lines(job, made, part, source, by)
    facts = {"job": source.pk, "number": source.number}
    record(job=job, by=by, kind=Event.Kind.TAKEN_OVER, data=facts, after="; ".join(taken))


def _copy_lines(job, option, part, source, by):
    shop = Shop.current()
    quote = empty_draft(job=job, by=by)
    way = QuotePart.objects.create(quote=quote, option=option, title=option.pairing.name, position=1)
    lines = list(part.lines.all())
    say(lines, language=quote.language, written=part.quote.language)
    for line in lines:
        line.pk, line._state.adding, line.part, line.taken = None, True, way, True
        line.tax_rate, line.basis = shop.tax_rate, f"as in job {source.number}"
        if part.quote.currency != shop.currency:
            line.price = line.cost = None
    QuoteLine.objects.bulk_create(lines)


def _option_of(job):
    return job.options.filter(chosen=True).select_related("pairing").first()


def _outcome_of(job):
    return Outcome.objects.filter(job=job).select_related("ring", "spacer").first()


def _part_of(job):
    """The way of the job's quotes that was accepted, else the chosen pairing's way of the last version."""
    parts = QuotePart.objects.filter(quote__job=job).select_related("quote").order_by("-quote__version", "position")
    accepted = parts.filter(quote__state=Quote.State.ACCEPTED, accepted=True).first()
    return accepted or parts.filter(option__chosen=True).first()
