"""Photos of a job, kept with a small picture, and as they came where the shop says so."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from django.core.files.base import ContentFile
from django.db import transaction
from django.db.models import Max

from jobs.history import record
from jobs.models import Event, Photo, Shop, Stage
from jobs.photos.originals import without_metadata
from parts.tools.pictures import read_each

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Job, Quote
    from parts.tools.pictures import Kept, PhotoError


def stage_now(job: Job) -> str:
    """The stage of a photo that is taken now: intake until a step of teardown is ticked, handover once all is done."""
    if job.stage == Stage.Kind.TEARDOWN and not job.stages.filter(ticks__isnull=False).exists():
        return Stage.Kind.INTAKE
    return job.stage or Stage.Kind.HANDOVER


def add_photos(
    *, job: Job, stage: str, files: Sequence[Any], by: User, caption: str = ""
) -> tuple[list[Photo], list[PhotoError]]:
    """Store the photos among the files; returns them, and why the others are none."""
    pictures, faults = read_each(files)
    return store_pictures(job=job, stage=stage, pictures=pictures, by=by, caption=caption), faults


@transaction.atomic
def store_pictures(
    *, job: Job, pictures: Iterable[Kept], by: User, stage: str = "intake", caption: str = ""
) -> list[Photo]:
    """Store pictures, all of them or none."""
    return [_store(job, stage, picture, by, caption) for picture in pictures]


def store_signed(*, quote: Quote, picture: Kept, by: User) -> Photo:
    """Store the photo of a signed quote, which shows its prices."""
    caption = f"Signed: version {quote.version}"
    return _store(quote.job, "intake", picture, by, caption, kind=Photo.Kind.SIGNED, quote=quote)


def _store(job, stage, picture, by, caption, **signed):
    last = Photo.objects.filter(job=job).aggregate(place=Max("place"))["place"] or 0
    photo = Photo(job=job, stage=stage, by=by, caption=caption, place=last + 1, **signed)
    for field, content in ((photo.file, picture.large), (photo.thumbnail, picture.small)):
        field.save("photo.jpg", ContentFile(content), save=False)
    if picture.upload is not None and Shop.current().keep_originals:
        content, suffix = without_metadata(picture.upload)
        photo.original.save(f"photo.{suffix}", ContentFile(content), save=False)
    photo.save()
    record(job=job, by=by, kind=Event.Kind.PHOTO_ADDED, data={"photo": photo.pk}, stage=stage, after=caption)
    return photo


@transaction.atomic
def archive(*, photo: Photo, archived: bool, by: User) -> None:
    """Archive a photo, or bring it back."""
    if photo.archived == archived:
        return
    photo.archived = archived
    photo.save(update_fields=["archived"])
    kind = Event.Kind.PHOTO_ARCHIVED if archived else Event.Kind.PHOTO_BACK
    record(job=photo.job, by=by, kind=kind, data={"photo": photo.pk}, stage=photo.stage)
