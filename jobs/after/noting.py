"""What is noted about a thing that falls due: asked, done, no longer wanted; each has a way back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from jobs.history import record
from jobs.models import Event, FollowUp

if TYPE_CHECKING:
    import datetime as dt

    from django.contrib.auth.models import User

    from jobs.after.due import Due
    from jobs.models import Job


class TooEarly(ValueError):
    """A day before the thing itself began; says which day that is."""


@transaction.atomic
def promise(*, job: Job, on: dt.date, words: str, by: User) -> FollowUp:
    """Promise the customer to come back to something on a day."""
    made = FollowUp.objects.create(job=job, kind=FollowUp.Kind.PROMISE, begins=on, words=words, by=by)
    _write(made, Event.Kind.PROMISED, by, on)
    return made


@transaction.atomic
def ask(*, job: Job, due: Due, on: dt.date, by: User) -> None:
    """Note that the customer was asked."""
    if due.kind != FollowUp.Kind.PROMISE:
        _not_before(due, on)
    _change(_note(job, due, by), Event.Kind.ASKED, by, on, asked_on=on)


@transaction.atomic
def finish(*, job: Job, due: Due, on: dt.date, by: User) -> None:
    """Note that it is done. A cell that was replaced is the beginning of the next range."""
    if due.kind == FollowUp.Kind.CELL:
        _not_before(due, on, 1)
    _change(_note(job, due, by), Event.Kind.FOLLOWED_UP, by, on, done_on=on)


@transaction.atomic
def undo(*, note: FollowUp, by: User) -> None:
    """Take back that it was done."""
    _change(note, Event.Kind.FOLLOW_UP_UNDONE, by, note.done_on, done_on=None)


@transaction.atomic
def want(*, job: Job, due: Due, is_wanted: bool, by: User) -> None:
    """Note that the customer does not want it any more, or does again."""
    kind = Event.Kind.WANTED_AGAIN if is_wanted else Event.Kind.NOT_WANTED
    _change(_note(job, due, by), kind, by, None, is_wanted=is_wanted)


def _note(job, due, by):
    if due.note:
        return due.note
    return FollowUp.objects.get_or_create(job=job, kind=due.kind, begins=due.begins, defaults={"by": by})[0]


def _not_before(due, on, days=0):
    """Refuse a day that is not at least so many days after it began."""
    if (on - due.begins).days < days:
        raise TooEarly(f"It began on {due.begins:%-d %b %Y}. Enter a later day than {on:%-d %b %Y}.")


def _change(note, kind, by, on, **values):
    for name, value in values.items():
        setattr(note, name, value)
    note.save()
    _write(note, kind, by, on)


def _write(note, kind, by, on):
    facts = {"follow_up": note.pk, "of": note.kind, "on": on}
    record(job=note.job, by=by, kind=kind, data=facts, after=note.words)
