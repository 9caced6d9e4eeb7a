"""What falls due as a calendar that phones and computers read (iCalendar, RFC 5545).

The same things give the same bytes: an entry is stamped with when it was last changed, not with now.
"""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from icalendar import Calendar, Event

from jobs.after.due import Due, open_due
from jobs.models import FollowUp, Job
from jobs.papers.dates import months_later

if TYPE_CHECKING:
    from collections.abc import Iterable

_HEADS: dict[str, str] = {
    FollowUp.Kind.CELL: "New cell due",
    FollowUp.Kind.WARRANTY: "Warranty ends",
    FollowUp.Kind.PROMISE: "Follow-up promised",
}


def calendar(*, with_names: bool = False) -> bytes:
    """The calendar: of each thing the job's number and the watch, and the customer's name only where asked for.

    A cell lies over the whole of its months, for no day of them is known.
    """
    listed = [due for due in open_due() if due.first]
    jobs = Job.objects.select_related("customer", "case_family").in_bulk([due.job for due in listed])
    made = Calendar()
    made.add("prodid", "-//Dialside//Looking after//EN")
    made.add("version", "2.0")
    made.add("x-wr-calname", "Dialside: looking after")
    for event in _events(listed, jobs, with_names):
        made.add_component(event)
    return made.to_ical()


def _events(listed: Iterable[Due], jobs, with_names):
    for due in listed:
        job = jobs[due.job]
        name = f", {job.customer}" if with_names else ""
        event = Event()
        event.add("uid", f"{job.number}-{due.key}-{due.begins:%Y%m%d}@dialside")
        event.add("dtstamp", _stamp(due))
        event.add("summary", f"{_HEADS[due.kind]}: {job.number} {job.title}{name}")
        event.add("dtstart", due.first)
        event.add("dtend", _end(due))
        event.add("transp", "TRANSPARENT")
        yield event


def _end(due):
    """The day after its last."""
    if due.kind != FollowUp.Kind.CELL:
        return due.first + dt.timedelta(days=1)
    return months_later(due.last or due.first, 1)


def _stamp(due):
    if due.note:
        return due.note.changed.astimezone(dt.UTC).replace(microsecond=0)
    return dt.datetime.combine(due.begins, dt.time(), dt.UTC)
