"""Time spent: a timer that runs on when the browser is closed, and minutes put in by hand."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from jobs.history import changed, record
from jobs.models import Event, WorkTime

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Stage


@transaction.atomic
def start_timer(*, stage: Stage, by: User) -> WorkTime:
    """Start the person's timer in a stage; one that runs elsewhere is stopped first."""
    for running in WorkTime.objects.filter(by=by, ended=None, undone=False):
        _stop(running)
    return WorkTime.objects.create(stage=stage, started=timezone.now(), by=by)


def stop_timers(*, stage: Stage, by: User | None = None) -> None:
    """Stop the timers that run in a stage, those of one person or of all."""
    running = stage.work_times.filter(ended=None, undone=False)
    for timer in running.filter(by=by) if by else running:
        _stop(timer)


def _stop(running):
    """End a timer now; one whose start lies ahead, after the clock was set back, ends at its start."""
    running.ended = max(timezone.now(), running.started)
    running.save(update_fields=["ended"])
    changed(job=running.stage.job)


@transaction.atomic
def add_minutes(*, stage: Stage, minutes: int, note: str, by: User) -> WorkTime:
    """Put in time by hand, as if it ended now."""
    now = timezone.now()
    made = WorkTime.objects.create(
        stage=stage, started=now - timedelta(minutes=minutes), ended=now, by_hand=True, note=note, by=by
    )
    facts = {"time": made.pk, "minutes": minutes}
    record(job=stage.job, by=by, kind=Event.Kind.TIME_ADDED, data=facts, stage=stage.kind, after=note)
    return made


@transaction.atomic
def undo(*, work_time: WorkTime, by: User, undone: bool = True) -> None:
    """Leave a stretch of time out of the sum, or count it again."""
    work_time.undone = undone
    work_time.ended = work_time.ended or timezone.now()
    work_time.save(update_fields=["undone", "ended"])
    kind = Event.Kind.TIME_LEFT_OUT if undone else Event.Kind.TIME_COUNTED
    facts = {"time": work_time.pk, "minutes": minutes_of([work_time])}
    record(job=work_time.stage.job, by=by, kind=kind, data=facts, stage=work_time.stage.kind)


def minutes_of(work_times, now=None):
    """Minutes of these stretches, running ones up to now."""
    now = now or timezone.now()
    spent = ((stretch.ended or max(now, stretch.started)) - stretch.started for stretch in work_times)
    return sum(spent, timedelta()).total_seconds() / 60


def as_hours(minutes):
    """Minutes as a person says them: 53 as "53 min", 81 as "1 h 21"."""
    hours, rest = divmod(round(minutes), 60)
    return f"{hours}\xa0h {rest:02d}" if hours else f"{rest}\xa0min"
