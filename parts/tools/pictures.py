"""Pictures: judged by content, turned upright, re-encoded without metadata."""

import io
import warnings
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any

from PIL import Image, ImageCms, ImageOps
from pillow_heif import register_heif_opener

from parts.tools.kept_files import kept_file_response

register_heif_opener(thumbnails=False)

FORMATS = ("JPEG", "PNG", "WEBP", "HEIF")
TYPES = "image/jpeg,image/png,image/webp,image/heic,image/heif,.heic,.heif"
"""What a file field offers to choose from; the content decides all the same."""
MOST_BYTES = 25_000_000
MOST_PIXELS = 60_000_000
MOST_AT_ONCE = 40
_SRGB = ImageCms.createProfile("sRGB")
LARGE, SMALL = 2400, 240
"""Longest sides of a kept picture and of its small one, pixels."""
_LEAST, _LONGEST = 600, 10_000
"""Of a panorama, pixels: its shorter side is kept at least so, its longer one at most."""
_SLIMMEST = 2
"""Longer to shorter side of a small picture at most: of a panorama it shows the middle."""


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
        upright = in_plain_colours(ImageOps.exif_transpose(picture))
        return _no_larger(upright, kept_size(*upright.size))


def kept_size(width, height):
    """Width and height that a picture is kept with: LARGE along its longer side, a panorama longer than that."""
    longer, shorter = max(width, height), min(width, height)
    scale = min(1.0, max(LARGE / longer, _LEAST / shorter), _LONGEST / longer)
    return max(1, round(width * scale)), max(1, round(height * scale))


def _no_larger(picture, size):
    return picture if picture.size == size else picture.resize(size, Image.Resampling.LANCZOS)


def in_plain_colours(picture):
    """The picture as every screen shows it: its own colours turned into sRGB, on white where it is transparent."""
    profile = picture.info.get("icc_profile")
    if picture.mode.startswith("I") or picture.mode == "F":
        picture = _eight_bit(picture)
    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        layer = picture.convert("RGBA")
        picture = Image.new("RGB", layer.size, "white")
        picture.paste(layer, mask=layer.getchannel("A"))
    if profile and picture.mode in ("RGB", "CMYK", "L"):
        try:
            own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            return ImageCms.profileToProfile(picture, own, _SRGB, outputMode="RGB")
        except (ImageCms.PyCMSError, OSError, ValueError):
            pass  # a profile that cannot be read is as good as none
    return picture.convert("RGB")


def _eight_bit(picture):
    """A picture of more than 8 bits in 8; 16 bits hold 65,535 steps whatever the type says."""
    most = 65535.0 if picture.getextrema()[1] > 255 else 255.0
    return picture.convert("F").point(lambda value: value * (255.0 / most) + 0.5).convert("L")


@dataclass(frozen=True, slots=True)
class Kept:
    """A photo as it is kept: JPEG bytes, those of its small picture, and the upload that it came in, if it did."""

    large: bytes
    small: bytes
    upload: Any = None


def kept_photo(file) -> Kept:
    """What is kept of an uploaded photo. Raises PhotoError. Nothing of it stays in memory but this."""
    return replace(as_kept(read_photo(file)), upload=file)


def as_kept(picture) -> Kept:
    """What is kept of a picture."""
    large = _no_larger(picture, kept_size(*picture.size))
    return Kept(encoded(large, max(large.size)), encoded(_middle(picture), SMALL))


def _middle(picture):
    """The picture, of a panorama its middle."""
    width, height = picture.size
    wide, high = min(width, _SLIMMEST * height), min(height, _SLIMMEST * width)
    left, top = (width - wide) // 2, (height - high) // 2
    return picture.crop((left, top, left + wide, top + high))


def _too_large(fault):
    return f"{fault}; the limit is {MOST_PIXELS / 1e6:.0f} million pixels. Make it smaller."


def read_each(files) -> tuple[list[Kept], list[PhotoError]]:
    """The photos among several files, read one after the other, and why the others are none."""
    if len(files) > MOST_AT_ONCE:
        return [], [
            PhotoError(f"{len(files)} photos are too many at once; choose up to {MOST_AT_ONCE}, then the rest.")
        ]
    photos, faults = [], []
    for file in files:
        try:
            photos.append(kept_photo(file))
        except PhotoError as error:
            faults.append(error)
    return photos, faults


def read_all(files) -> list[Kept]:
    """The photos in several files. Raises PhotoError for the first that is none, and for too many at once."""
    photos, faults = read_each(files)
    if faults:
        raise faults[0]
    return photos


def alone(picture):
    """A copy of the picture without what its file held beside it and would be written along, such as comments."""
    plain = Image.new("RGB", picture.size)
    plain.paste(picture)
    return plain


def encoded(picture, size):
    """JPEG bytes of the picture, at most `size` pixels along its longer side; nothing but the picture is written."""
    plain = alone(picture)
    plain.thumbnail((size, size), Image.Resampling.LANCZOS)
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=85, optimize=True)
    return out.getvalue()


def picture_response(file, name):
    """A kept picture, for the browser to keep for a week. Raises Http404 where the file is gone."""
    week = {"Cache-Control": "private, max-age=604800"}
    return kept_file_response(file, name=name, content_type="image/jpeg", **week)
