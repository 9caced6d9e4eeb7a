"""Writing the history of a job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jobs.models import Event, StaleRecord

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Job


def record(*, job: Job, by: User, what: str, stage: str = "", before: object = "", after: object = "") -> Event:
    """Write down that something happened: `what` in a few words, what it was and what it became."""
    changed(job=job)
    return Event.objects.create(job=job, by=by, what=what, stage=stage, before=str(before), after=str(after))


def changed(*, job: Job) -> None:
    """Have the job's record for searching and counting made anew before it is read again."""
    StaleRecord.objects.create(job=job)
