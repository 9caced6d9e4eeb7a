"""Choosing what is shown, one entry at a time; each step stands in the job's history and has a way back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from jobs.history import record
from jobs.models import Event, WindowPhoto

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.contrib.auth.models import User

    from jobs.models import Window, WindowEntry, WindowHolder


@transaction.atomic
def save(*, entry: WindowEntry, photos: Iterable[WindowPhoto], by: User) -> None:
    """Save an entry with the photos that it shows; a new one is put in the window. Archived photos keep their place."""
    is_new = entry.pk is None
    entry.by = by
    entry.save()
    entry.photos.filter(photo__archived=False).delete()
    for photo in photos:
        photo.entry = entry
    WindowPhoto.objects.bulk_create(photos)
    if is_new:
        show(entry=entry, shown=True, by=by)


@transaction.atomic
def show(*, entry: WindowEntry, shown: bool, by: User) -> None:
    """Put an entry in the window, or take it out; the site changes when it is written next."""
    if entry.shown == shown:
        return
    entry.shown = shown
    entry.first_shown = entry.first_shown or timezone.now()
    entry.save(update_fields=["shown", "first_shown"])
    kind = Event.Kind.SHOWN if shown else Event.Kind.TAKEN_OUT
    record(job=entry.job, by=by, kind=kind, data={"entry": entry.pk}, after=entry.title)


def clear(*, record_of: WindowEntry | WindowHolder | Window, key: str, cleared: bool) -> None:
    """Note that a word of an entry's, or the window's, is not the person who has it too; or take that back."""
    words = [word for word in record_of.cleared if word != key]
    record_of.cleared = [*words, key] if cleared else words
    record_of.save(update_fields=["cleared"] if record_of.pk else None)
