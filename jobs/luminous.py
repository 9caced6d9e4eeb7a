"""The gate of unmarked aged luminous material: treated as radium until the person records how it was cleared."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from django.db import transaction

from jobs.history import record
from jobs.models import Job, LuminousClearance

if TYPE_CHECKING:
    from django.contrib.auth.models import User

CAUTIONS = (
    "Old luminous paint without a mark counts as radium until an instrument says otherwise. That it no longer glows "
    "proves nothing.",
    "Do not open the watch. Do not scrape or relume. Do not blow off dust.",
    "Keep the watch closed in a bag. Wash your hands. Keep food and drink off the bench.",
    "Local radiation rules and licensed practice decide who may work on it and where it may go.",
)


def is_blocked(job):
    """Whether the watch must stay closed."""
    if job.luminous != Job.Luminous.AGED:
        return False
    return not job.clearances.filter(taken_back=False).exists()


@transaction.atomic
def clear(*, job: Job, how: str, note: str, on: dt.date, by: User) -> LuminousClearance:
    """Write down how the material was cleared."""
    made = LuminousClearance.objects.create(job=job, how=how, note=note, on=on, by=by)
    record(job=job, by=by, what="Luminous material cleared", stage="teardown", after=f"{made}: {note}")
    return made


@transaction.atomic
def take_back(*, clearance: LuminousClearance, by: User) -> None:
    """Take a clearance back; the watch must stay closed again unless there is another."""
    clearance.taken_back = True
    clearance.save(update_fields=["taken_back"])
    record(
        job=clearance.job, by=by, what="Clearance of luminous material taken back", stage="teardown", before=clearance
    )
