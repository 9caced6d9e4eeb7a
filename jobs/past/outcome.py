"""What came of a job, and what the bench said of each check: stored with its history."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from django.db import transaction

from jobs.history import record, record_change
from jobs.models import Event, Hindsight, OptionReport, Outcome
from parts.models import HolderDesign

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Job


def outcome_of(job):
    """What was said of the job; an empty one, not saved, where nothing was."""
    return Outcome.objects.select_related("ring", "spacer").filter(job=job).first() or Outcome(job=job)


def saved_report_of(job):
    """The last kept report of the chosen option; None where none is chosen."""
    return OptionReport.objects.filter(option__job=job, option__chosen=True).order_by("-pk").first()


def designs_for(job):
    """The holder rings and spacers kept for the job's case family."""
    designs = HolderDesign.objects.in_drawers().filter(family=job.case_family_id or 0)
    return designs.select_related("family", "movement")


@transaction.atomic
def store(
    *, outcome: Outcome, before: Mapping[str, str], said: Iterable[tuple[dict[str, Any], tuple[str, str]]], by: User
) -> None:
    """Save what was said, with a line of history for each thing that changed.

    `before` maps the outcome's fields to their values until now, `said` checks (dicts of the kept report) to (found,
    note).
    """
    outcome.save()
    for name, old in before.items():
        if (new := getattr(outcome, name)) != old:
            values = {"field": Outcome._meta.get_field(name), "before": old, "after": new}
            record_change(job=outcome.job, by=by, kind=Event.Kind.OUTCOME, **values)
    known = {hindsight.check_key: hindsight for hindsight in outcome.job.hindsights.all()}
    for check, (at_bench, note) in said:
        _say(outcome.job, check, at_bench, note, by, known.get(check["key"]))


def _say(job, check, at_bench, note, by, known):
    if known is None and not at_bench:
        return
    said = known or Hindsight(job=job, check_key=check["key"])
    if known and (known.found, known.note) == (at_bench, note):
        return
    before, before_note = said.found, said.note
    said.title, said.said, said.found, said.note, said.by = check["title"], check["verdict"], at_bench, note, by
    said.save()
    facts = {"check": said.check_key, "title": said.title, "before": before, "after": at_bench}
    record(job=job, by=by, kind=Event.Kind.HINDSIGHT, data=facts, before=before_note, after=note)


@transaction.atomic
def mark_to_learn(*, job: Job, learn: bool, why: str, by: User) -> None:
    """Mark a job as one to learn from, with the reason, or take the mark back; the reason stays for the next time."""
    outcome = outcome_of(job)
    if outcome.learn == learn and outcome.learn_why == why:
        return
    before = outcome.learn_why if outcome.learn else ""
    outcome.learn, outcome.learn_why = learn, why
    outcome.save()
    kind = Event.Kind.TO_LEARN if learn else Event.Kind.NOT_TO_LEARN
    record(job=job, by=by, kind=kind, before=before, after=why)
