"""What falls due, and when: worked out anew from the jobs each time, so that nothing has to be kept in step."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db.models import Max, Q
from django.utils import timezone

from jobs.models import Event, FollowUp, Job, Option, Shop
from jobs.papers.dates import months_later
from parts.dimensions.field import Source
from parts.fit.arithmetic.quantities import at_least, measured, unknown
from parts.fit.checks.cell import SELF_DISCHARGE, months_running
from parts.fit.units import MONTH_DAYS
from parts.models import Movement

if TYPE_CHECKING:
    from collections.abc import Iterator

    from parts.fit.arithmetic.quantities import Quantity

ENDED_SHOWN = dt.timedelta(days=31)
"""How long a warranty that has ended stays in the list."""
_FARTHEST = 1200
"""Months; a cell that runs longer falls due in no lifetime, and has no month."""
_WORDS = {"movement.cell_capacity": "cell capacity", "movement.current": "current"}


@dataclass(frozen=True, slots=True)
class Due:
    """One thing that falls due. A cell does so in the months from `first` to `last`, each the first day of its month.

    `last` is None where only a bound is known, `first` too where something is `missing`, in words. Warranties and
    promises have their day in both. `note` is what was noted about it.
    """

    job: int
    kind: str
    begins: dt.date
    first: dt.date | None
    last: dt.date | None
    missing: tuple[str, ...] = ()
    note: FollowUp | None = None

    @property
    def key(self) -> str:
        """What names it among those of its job."""
        return f"promise-{self.note.pk}" if self.kind == FollowUp.Kind.PROMISE and self.note else self.kind

    @property
    def is_wanted(self) -> bool:
        return self.note is None or self.note.is_wanted

    def is_late(self, today: dt.date) -> bool:
        """Whether its day, or its last month, is over."""
        if self.last is None or self.kind == FollowUp.Kind.WARRANTY:
            return False
        return today > self.last if self.kind == FollowUp.Kind.PROMISE else today >= months_later(self.last, 1)

    def month(self, today: dt.date) -> dt.date | None:
        """The month under which it is listed: this one where its months have begun."""
        return max(self.first, today).replace(day=1) if self.first else None


def all_due(*, job: Job | None = None) -> list[Due]:
    """Everything to look after, of one job or of all, the soonest first and what has no month last.

    Nothing of a customer whose personal data are erased.
    """
    home = {} if job and job.state != Job.State.FINISHED else _came_home(Q(pk=job.pk) if job else Q())
    notes: dict[tuple[int, str], list[FollowUp]] = {}
    for note in FollowUp.objects.filter(job__customer__is_erased=False, **({"job": job} if job else {})):
        notes.setdefault((note.job_id, note.kind), []).append(note)
    everything = [*_promises(notes)]
    if home:
        everything += [*_cells(home, notes), *_warranties(home, notes)]
    return sorted(everything, key=lambda due: (due.first is None, due.first or due.begins, due.job, due.key))


def open_due(*, job: Job | None = None) -> list[Due]:
    """What is still wanted and not done."""
    return [due for due in all_due(job=job) if due.is_wanted]


def waiting(today: dt.date) -> tuple[int, int]:
    """How many things are overdue, and how many more fall due this month."""
    listed = [due for due in open_due() if due.month(today) == today.replace(day=1)]
    late = sum(due.is_late(today) for due in listed)
    return late, len(listed) - late


def cell_months(movement: Movement) -> Quantity:
    """How long this movement's cell runs, in months, with what the cell loses by itself."""
    return months_running(_known(movement, "cell_capacity"), _known(movement, "current"), SELF_DISCHARGE)


def _known(movement, name):
    dimension = movement.dimensions[name]
    value, plus_minus, source = dimension.of(movement)
    if value is None:
        return unknown(dimension.path)
    return at_least(dimension.path, value) if source == Source.AT_LEAST else measured(dimension.path, value, plus_minus)


def _came_home(which):
    """The day on which each finished job was closed, the watch handed over."""
    closed = Event.objects.filter(kind=Event.Kind.CLOSED, job__state=Job.State.FINISHED)
    closed = closed.filter(job__in=Job.objects.filter(which, customer__is_erased=False))
    return {
        job: timezone.localdate(at) for job, at in closed.order_by().values_list("job").annotate(Max("at")).iterator()
    }


def _cells(home, notes) -> Iterator[Due]:
    chosen = Option.objects.filter(chosen=True, job__state=Job.State.FINISHED)
    if len(home) < 2:
        chosen = chosen.filter(job__in=home)
    movements = {
        movement.pk: (cell_months(movement) if movement.runs_on_cell else None)
        for movement in Movement.objects.filter(pk__in=chosen.order_by().values("pairing__movement"))
    }
    for job, movement in chosen.values_list("job", "pairing__movement"):
        life = movements.get(movement)
        if life is None or job not in home:
            continue
        ours = notes.get((job, FollowUp.Kind.CELL), [])
        begins = max([home[job], *(note.done_on for note in ours if note.done_on)])
        note = next((note for note in ours if note.begins == begins and not note.done_on), None)
        first, last, missing = _months(begins, life)
        yield Due(job, FollowUp.Kind.CELL, begins, first, last, missing, note)


def _months(begins, life):
    """The first and the last month of the range, and what is missing for it."""
    if life.missing:
        return None, None, tuple(_WORDS[name] for name in life.missing)
    first, last = (_month(begins, months) for months in (life.low, life.high))
    return (first, last, ()) if first else (None, None, ())


def _month(begins, months):
    if months > _FARTHEST:
        return None
    return (begins + dt.timedelta(days=max(months, 0.0) * MONTH_DAYS)).replace(day=1)


def _warranties(home, notes) -> Iterator[Due]:
    months = Shop.current().warranty_months
    oldest = timezone.localdate() - ENDED_SHOWN
    for job, day in home.items() if months else ():
        ends = months_later(day, months)
        if ends >= oldest:
            ours = notes.get((job, FollowUp.Kind.WARRANTY), [])
            note = next((note for note in ours if note.begins == day), None)
            if note is None or not note.done_on:
                yield Due(job, FollowUp.Kind.WARRANTY, day, ends, ends, note=note)


def _promises(notes) -> Iterator[Due]:
    for (job, kind), ours in notes.items():
        for note in ours if kind == FollowUp.Kind.PROMISE else ():
            if not note.done_on:
                yield Due(job, kind, note.begins, note.begins, note.begins, note=note)
