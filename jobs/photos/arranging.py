"""Captions, order, cover and pairs of a job's photos."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from jobs.history import changed, record_change
from jobs.models import Event, Job, Photo

if TYPE_CHECKING:
    from django.contrib.auth.models import User


class NoPair(ValueError):
    """Two photos that make no pair; says why."""


@transaction.atomic
def caption(*, photo: Photo, words: str, by: User) -> None:
    """Say what a photo shows."""
    before, photo.caption = photo.caption, words
    if before == words:
        return
    photo.save(update_fields=["caption"])
    field = Photo._meta.get_field("caption")
    kind, facts = Event.Kind.PHOTO_CAPTION, {"photo": photo.pk}
    record_change(job=photo.job, by=by, kind=kind, field=field, before=before, after=words, stage=photo.stage, **facts)


@transaction.atomic
def move(*, photo: Photo, steps: int) -> None:
    """Move a photo so many places later among those of its stage, earlier below 0; at an end it stays there."""
    Job.objects.select_for_update().get(pk=photo.job_id)
    shown = list(Photo.objects.filter(job=photo.job_id, stage=photo.stage, archived=False))
    at = next((i for i, each in enumerate(shown) if each.pk == photo.pk), None)
    if at is None:
        return
    shown.insert(min(max(at + steps, 0), len(shown) - 1), shown.pop(at))
    others = [each for each in Photo.objects.filter(job=photo.job_id) if each not in shown]
    _number([*shown, *others], photo.job)


def _number(photos, job):
    for place, photo in enumerate(photos, start=1):
        Photo.objects.filter(pk=photo.pk).update(place=place)
    changed(job=job)


@transaction.atomic
def cover(*, photo: Photo, is_cover: bool) -> None:
    """Have a photo stand for its job, or no photo more than another."""
    Job.objects.select_for_update().get(pk=photo.job_id)
    Photo.objects.filter(job=photo.job_id, is_cover=True).update(is_cover=False)
    if is_cover:
        Photo.objects.filter(pk=photo.pk).update(is_cover=True)
    changed(job=photo.job)


@transaction.atomic
def pair(*, photo: Photo, before: Photo | None) -> None:
    """Set a photo beside the one that shows the same before the work; None parts them. Raises NoPair."""
    Job.objects.select_for_update().get(pk=photo.job_id)
    if before is not None and (before.pk == photo.pk or before.job_id != photo.job_id):
        raise NoPair("Choose another photo of this job.")
    if before is not None and before.before_id:
        raise NoPair("That photo is itself the second of a pair. Choose another, or part that pair first.")
    if before is not None:
        Photo.objects.filter(before=before).update(before=None)
        Photo.objects.filter(before=photo).update(before=None)
    Photo.objects.filter(pk=photo.pk).update(before=before)
    changed(job=photo.job)


def pairs_of(photos: list[Photo]) -> list[tuple[Photo, Photo]]:
    """(before, after) of each chosen pair among photos that are shown."""
    by_key = {photo.pk: photo for photo in photos}
    return [(by_key[photo.before_id], photo) for photo in photos if photo.before_id in by_key]
