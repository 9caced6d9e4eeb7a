"""The customer's yes to opening the watch: recorded, and undone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from jobs.history import record
from jobs.models import Event, GoAhead

if TYPE_CHECKING:
    import datetime as dt

    from django.contrib.auth.models import User

    from jobs.models import Job


@transaction.atomic
def give(*, job: Job, how: str, said_by: str, on: dt.date, note: str, by: User) -> GoAhead:
    """Record the customer's go-ahead."""
    made = GoAhead.objects.create(job=job, how=how, said_by=said_by, on=on, note=note, by=by)
    record(job=job, by=by, kind=Event.Kind.GO_AHEAD, data={"go_ahead": made.pk, "how": how}, after=said_by)
    return made


@transaction.atomic
def undo(*, go_ahead: GoAhead, by: User) -> None:
    """Undo a go-ahead; it stays on record."""
    go_ahead.undone = True
    go_ahead.save(update_fields=["undone"])
    facts = {"go_ahead": go_ahead.pk, "how": go_ahead.how}
    record(job=go_ahead.job, by=by, kind=Event.Kind.GO_AHEAD_UNDONE, data=facts, before=go_ahead.said_by)
