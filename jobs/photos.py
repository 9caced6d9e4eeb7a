"""Photos of a job, kept with a small picture."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from django.core.files.base import ContentFile
from django.db import transaction

from jobs.history import record
from jobs.models import Photo
from parts.tools.pictures import LARGE, SMALL, encoded, read_all

if TYPE_CHECKING:
    from django.contrib.auth.models import User
    from PIL.Image import Image

    from jobs.models import Job


def add_photos(*, job: Job, stage: str, files: Iterable[Any], by: User, caption: str = "") -> list[Photo]:
    """Store photos; returns them. Raises PhotoError before any is stored where one of the files is no photo."""
    return store_pictures(job=job, stage=stage, pictures=read_all(files), by=by, caption=caption)


def store_pictures(
    *, job: Job, pictures: Iterable[Image], by: User, stage: str = "intake", caption: str = ""
) -> list[Photo]:
    """Store pictures that `read_photo` gave."""
    return [_store(job, stage, picture, by, caption) for picture in pictures]


@transaction.atomic
def _store(job, stage, picture, by, caption):
    photo = Photo(job=job, stage=stage, by=by, caption=caption)
    for field, size in ((photo.file, LARGE), (photo.thumbnail, SMALL)):
        field.save("photo.jpg", ContentFile(encoded(picture, size)), save=False)
    photo.save()
    record(job=job, by=by, what="Photo added", stage=stage, after=caption)
    return photo


def put_away(*, photo: Photo, away: bool, by: User) -> None:
    """Put a photo away, or bring it back."""
    if photo.put_away == away:
        return
    photo.put_away = away
    photo.save(update_fields=["put_away"])
    record(job=photo.job, by=by, what="Photo put away" if away else "Photo brought back", stage=photo.stage)
