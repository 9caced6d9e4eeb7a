"""Changing what was agreed about a job after it was logged."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from jobs.history import record_change
from jobs.models import Event, Job

if TYPE_CHECKING:
    from django.contrib.auth.models import User


@transaction.atomic
def save_changes(*, job: Job, before: dict[str, object], by: User) -> None:
    """Save the job, with a line of history for each of its fields that differs from `before` (name to value)."""
    job.save()
    for name, value in before.items():
        if getattr(job, name) != value:
            values = {"field": Job._meta.get_field(name), "before": value, "after": getattr(job, name)}
            record_change(job=job, by=by, kind=Event.Kind.CHANGED, **values)
