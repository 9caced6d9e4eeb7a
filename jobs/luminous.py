"""The gate of unmarked aged luminous material: treated as radium until the person records how it was cleared."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from django.db import transaction

from jobs.history import record
from jobs.models import Event, Job, LuminousClearance

if TYPE_CHECKING:
    from django.contrib.auth.models import User

CAUTIONS = (
    (
        "Old luminous paint without a mark counts as radium until an instrument says otherwise. "
        "That it no longer glows proves nothing."
    ),
    "Do not open the watch. Do not scrape or relume. Do not blow off dust.",
    "Keep the watch closed in a bag. Wash your hands. Keep food and drink off the bench.",
    "Local radiation rules and licensed practice decide who may work on it and where it may go.",
)


def is_blocked(job):
    """Whether the watch must stay closed."""
    if job.luminous != Job.Luminous.AGED:
        return False
    return not job.clearances.filter(undone=False).exists()


@transaction.atomic
def clear(*, job: Job, how: str, note: str, on: dt.date, by: User) -> LuminousClearance:
    """Write down how the material was cleared."""
    made = LuminousClearance.objects.create(job=job, how=how, note=note, on=on, by=by)
    facts = {"clearance": made.pk, "how": made.how}
    record(job=job, by=by, kind=Event.Kind.CLEARED, data=facts, stage="teardown", after=note)
    return made


@transaction.atomic
def undo(*, clearance: LuminousClearance, by: User) -> None:
    """Undo a clearance; the watch must stay closed again unless there is another."""
    clearance.undone = True
    clearance.save(update_fields=["undone"])
    facts = {"clearance": clearance.pk, "how": clearance.how}
    record(job=clearance.job, by=by, kind=Event.Kind.CLEARANCE_UNDONE, data=facts, stage="teardown")
