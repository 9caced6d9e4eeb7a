"""Pictures: judged by content, turned upright, re-encoded without metadata."""

import io
import warnings
from contextlib import contextmanager

from PIL import Image, ImageOps
from pillow_heif import register_heif_opener

from parts.tools.kept_files import kept_file_response

register_heif_opener(thumbnails=False)

FORMATS = ("JPEG", "PNG", "WEBP", "HEIF")
TYPES = "image/jpeg,image/png,image/webp,image/heic,image/heif,.heic,.heif"
"""What a file field offers to choose from; the content decides all the same."""
MOST_BYTES = 25_000_000
MOST_PIXELS = 60_000_000
MOST_AT_ONCE = 40
LARGE, SMALL = 2400, 240
"""Longest sides of a kept picture and of its small one, pixels."""


class PhotoError(ValueError):
    """A file that is no photo we take; says which, the limit and what to do."""


@contextmanager
def opened_photo(file):
    """The picture in an uploaded file, its content not decoded yet. Raises PhotoError for what is none that we take."""
    if file.size > MOST_BYTES:
        raise PhotoError(
            f"{file.name} is {file.size / 1e6:.0f} MB; the limit is {MOST_BYTES / 1e6:.0f} MB. Choose a smaller one."
        )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            picture = Image.open(file, formats=FORMATS)
            width, height = picture.size
            if width * height > MOST_PIXELS:
                raise PhotoError(_too_large(f"{file.name} has {width} × {height} pixels"))
            yield picture
    except PhotoError:
        raise
    except (Image.DecompressionBombWarning, Image.DecompressionBombError) as error:
        raise PhotoError(_too_large(f"{file.name} has far more pixels than a photo")) from error
    except Exception as error:
        raise PhotoError(f"{file.name} is not a JPEG, PNG, WebP or HEIC photo. Choose another.") from error


def read_photo(file):
    """The picture in an uploaded file, upright, in plain colours, no larger than it is kept. Raises PhotoError."""
    with opened_photo(file) as picture:
        picture.draft("RGB", (2 * LARGE, 2 * LARGE))
        upright = ImageOps.exif_transpose(picture).convert("RGB")
        upright.thumbnail((LARGE, LARGE), Image.Resampling.LANCZOS)
        return upright


def _too_large(fault):
    return f"{fault}; the limit is {MOST_PIXELS / 1e6:.0f} million pixels. Make it smaller."


def read_all(files):
    """The pictures in several files. Raises PhotoError for the first that is none, and for too many at once."""
    if len(files) > MOST_AT_ONCE:
        raise PhotoError(f"{len(files)} photos are too many at once; choose up to {MOST_AT_ONCE}, then the rest.")
    return [read_photo(file) for file in files]


def encoded(picture, size):
    """JPEG bytes of the picture, at most `size` pixels along its longer side; nothing but the picture is written."""
    plain = Image.new("RGB", picture.size)
    plain.paste(picture)
    plain.thumbnail((size, size), Image.Resampling.LANCZOS)
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=85, optimize=True)
    return out.getvalue()


def picture_response(file, name):
    """A kept picture, for the browser to keep for a week. Raises Http404 where the file is gone."""
    week = {"Cache-Control": "private, max-age=604800"}
    return kept_file_response(file, name=name, content_type="image/jpeg", **week)
