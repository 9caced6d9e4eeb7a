"""Writing the history of a job."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.db import models

from jobs.models import Event, Job, StaleRecord

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import HolderOrder


def record(
    *,
    job: Job,
    by: User,
    kind: str,
    data: dict[str, Any] | None = None,
    stage: str = "",
    before: object = "",
    after: object = "",
) -> Event:
    """Write down that something happened: facts in `data`, what people said or called it in `before` and `after`."""
    changed(job=job)
    return Event.objects.create(
        job=job, by=by, kind=kind, data=data or {}, stage=stage, before=str(before), after=str(after)
    )


def record_of(
    *, of: Job | HolderOrder, by: User, kind: str, data: dict[str, Any], before: object = "", after: object = ""
) -> None:
    """Write it down where it happened to a job; a holder order has no history beside its records."""
    if isinstance(of, Job):
        record(job=of, by=by, kind=kind, data=data, before=before, after=after)


def record_change(
    *, job: Job, by: User, kind: str, field: Any, before: object, after: object, stage: str = "", **data: Any
) -> Event:
    """Write down that a model's field was given another value.

    One that has a name or was typed in words is kept as text, others as themselves.
    """
    data["field"] = field.name
    if is_in_words(field):
        before, after = ("" if value is None else value for value in (before, after))
        return record(job=job, by=by, kind=kind, data=data, stage=stage, before=before, after=after)
    return record(job=job, by=by, kind=kind, data=data | {"before": before, "after": after}, stage=stage)


def is_in_words(field):
    """Whether the field's values are words of somebody's own, or records with a name."""
    return field.is_relation or (isinstance(field, models.CharField | models.TextField) and not field.choices)


def changed(*, job: Job) -> None:
    """Have the job's record for searching and counting made anew before it is read again."""
    StaleRecord.objects.create(job=job)
