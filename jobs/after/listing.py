"""What falls due as the page lists it: overdue first, then month by month, later, and what has no month."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from jobs.after.due import Due, all_due
from jobs.models import FollowUp, Job
from jobs.papers.dates import months_later

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable

MONTHS = 6
"""Months with a heading of their own; what comes after stands under Later."""
SHOWN = 100
"""Lines of one group at most."""


@dataclass(frozen=True, slots=True)
class Line:
    """One thing with its job, and when it falls due in words."""

    due: Due
    job: Job
    when: str
    is_late: bool

    @property
    def head(self) -> str:
        """What it is."""
        promised = self.due.note.words if self.due.note else ""
        return promised or str(FollowUp.Kind(self.due.kind).label)


@dataclass(frozen=True, slots=True)
class Group:
    """The lines under one heading; `count` counts also those that are not shown."""

    key: str
    head: str
    lines: list[Line]
    count: int


def groups(today: dt.date) -> list[Group]:
    """The groups that hold something."""
    sorted_in: dict[tuple[str, str], list[Due]] = {("late", "Overdue"): []}
    this_month = today.replace(day=1)
    months = [months_later(this_month, ahead) for ahead in range(MONTHS)]
    sorted_in |= {("month", f"{month:%B %Y}"): [] for month in months}
    last = (("later", "Later"), ("unknown", "No month known"), ("dropped", "No longer wanted"))
    sorted_in |= {head: [] for head in last}
    for due in all_due():
        sorted_in[_place(due, today, months)].append(due)
    jobs = _jobs([due for listed in sorted_in.values() for due in listed[:SHOWN]])
    return [
        Group(*head, [_line(due, jobs[due.job], today) for due in listed[:SHOWN]], len(listed))
        for head, listed in sorted_in.items()
        if listed
    ]


def with_jobs(listed: Iterable[Due], today: dt.date) -> list[Line]:
    """A line for each of them."""
    listed = list(listed)
    jobs = _jobs(listed)
    return [_line(due, jobs[due.job], today) for due in listed]


def when(due: Due) -> str:
    """When it falls due, in words: a range of months, or a day for what has one."""
    if due.first is None:
        return f"not measured: {', '.join(due.missing)}" if due.missing else "not within a lifetime"
    if due.kind != FollowUp.Kind.CELL:
        return f"{due.first:%-d %B %Y}"
    if due.last is None:
        return f"from {due.first:%B %Y}"
    if due.first == due.last:
        return f"{due.first:%B %Y}"
    head = f"{due.first:%B}" if due.first.year == due.last.year else f"{due.first:%B %Y}"
    return f"{head} to {due.last:%B %Y}"


def _place(due, today, months):
    if not due.is_wanted:
        return "dropped", "No longer wanted"
    month = due.month(today)
    if month is None:
        return "unknown", "No month known"
    if due.is_late(today):
        return "late", "Overdue"
    return ("month", f"{month:%B %Y}") if month in months else ("later", "Later")


def _jobs(listed):
    return Job.objects.select_related("customer", "case_family").in_bulk({due.job for due in listed})


def _line(due, job, today):
    return Line(due, job, when(due), due.is_late(today))
