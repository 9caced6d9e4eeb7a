"""Photos: judged by content, re-encoded without metadata, kept with a small picture."""

import io
import warnings

from django.core.files.base import ContentFile
from django.db import transaction
from PIL import Image, ImageOps

from jobs.history import record
from jobs.models import Photo

FORMATS = ("JPEG", "PNG", "WEBP")
MOST_BYTES = 25_000_000
MOST_PIXELS = 60_000_000
MOST_AT_ONCE = 40
_LARGE, _SMALL = 2400, 240


class PhotoError(ValueError):
    """A file that is no photo we take; says which, the limit and what to do."""


def read_photo(file):
    """The picture in an uploaded file, upright, in plain colours, no larger than it is kept. Raises PhotoError."""
    if file.size > MOST_BYTES:
        raise PhotoError(
            f"{file.name} has {file.size / 1e6:.0f} MB; a photo has at most {MOST_BYTES / 1e6:.0f} MB. "
            "Choose a smaller one."
        )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            picture = Image.open(file, formats=FORMATS)
            width, height = picture.size
            if width * height > MOST_PIXELS:
                limit = f"{MOST_PIXELS / 1e6:.0f} million"
                raise PhotoError(
                    f"{file.name} has {width} x {height} pixels; at most {limit} are taken. Make it smaller."
                )
            picture.draft("RGB", (2 * _LARGE, 2 * _LARGE))
            upright = ImageOps.exif_transpose(picture).convert("RGB")
            upright.thumbnail((_LARGE, _LARGE), Image.Resampling.LANCZOS)
            return upright
    except PhotoError:
        raise
    except Exception as error:
        raise PhotoError(f"{file.name} is no JPEG, PNG or WebP picture. Choose a photo.") from error


def read_all(files):
    """The pictures in several files. Raises PhotoError for the first that is none, and for too many at once."""
    if len(files) > MOST_AT_ONCE:
        raise PhotoError(f"{len(files)} photos at once are too many; choose at most {MOST_AT_ONCE}, then the others.")
    return [read_photo(file) for file in files]


def add_photos(*, job, stage, files, by, caption=""):
    """Store photos; returns them. Raises PhotoError before any is stored where one of the files is no photo."""
    return store_pictures(job=job, stage=stage, pictures=read_all(files), by=by, caption=caption)


def store_pictures(*, job, pictures, by, stage="intake", caption=""):
    """Store pictures that `read_photo` gave."""
    return [_store(job, stage, picture, by, caption) for picture in pictures]


@transaction.atomic
def _store(job, stage, picture, by, caption):
    photo = Photo(job=job, stage=stage, by=by, caption=caption)
    for field, size in ((photo.file, _LARGE), (photo.thumbnail, _SMALL)):
        field.save("photo.jpg", ContentFile(encoded(picture, size)), save=False)
    photo.save()
    record(job=job, by=by, what="Photo added", stage=stage, after=caption)
    return photo


def encoded(picture, size):
    """JPEG bytes of the picture, at most `size` pixels along its longer side; nothing but the picture is written."""
    plain = Image.new("RGB", picture.size)
    plain.paste(picture)
    plain.thumbnail((size, size), Image.Resampling.LANCZOS)
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=85, optimize=True)
    return out.getvalue()


def put_away(*, photo, away, by):
    """Put a photo away, or bring it back."""
    if photo.put_away == away:
        return
    photo.put_away = away
    photo.save(update_fields=["put_away"])
    record(job=photo.job, by=by, what="Photo put away" if away else "Photo brought back", stage=photo.stage)
