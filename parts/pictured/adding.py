"""Taking a picture in: judged by its content, upright, nothing but the picture; focal length or scale are noted."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

from django.core.files.base import ContentFile
from PIL import ExifTags, Image, ImageOps

from parts.models import PartPicture
from parts.tools.pictures import PhotoError, alone, in_plain_colours, opened_photo

if TYPE_CHECKING:
    from django.core.files.uploadedfile import UploadedFile

    from parts.models import Scanner

MOST = 16_000_000
"""Pixels that a picture is measured in; a larger one is made smaller, which loses nothing on a mat that fills it."""
_ENOUGH = 0.86
"""Share of those pixels along a side that is enough, where the picture is halved while it is read."""
_QUALITY = 93
_DIAGONAL_35 = 43.27
"""Diagonal of a frame of 24 x 36 mm, that the focal length in files counts by."""


def add_picture(
    *,
    part: Any,
    field: str,
    subject: str,
    file: UploadedFile,
    height: float,
    height_pm: float,
    scanner: Scanner | None = None,
) -> PartPicture:
    """Store a picture of a part, or a scan of it by a `scanner`. Raises PhotoError for what is none."""
    per_mm = None
    with opened_photo(file) as opened:
        focal = None if scanner else _focal(opened)
        if scanner:
            stated = stated_per_mm(opened, file.name)
        small, share = _no_larger(opened)
        upright = in_plain_colours(ImageOps.exif_transpose(small))
        if scanner:
            upright, per_mm = _squared(upright, across=stated[0] * scanner.across, down=stated[1] * scanner.down)
            per_mm *= share
    out = io.BytesIO()
    alone(upright).save(out, "JPEG", quality=_QUALITY)
    picture = PartPicture(subject=subject, height=height, height_pm=height_pm, **{field: part})
    picture.scanner, picture.per_mm = scanner, per_mm
    picture.focal = focal * (upright.width**2 + upright.height**2) ** 0.5 if focal else None
    picture.file.save("picture.jpg", ContentFile(out.getvalue()), save=False)
    picture.save()
    return picture


def _no_larger(opened: Image.Image) -> tuple[Image.Image, float]:
    """The picture in no more pixels than it is measured in, and by what share it was made smaller.

    Made so before its colours are turned, and halved while it is read where enough is left: it never lies in memory
    twice at its full size.
    """
    width = opened.width
    share = (MOST / (width * opened.height)) ** 0.5
    if share >= 1.0:
        return opened, 1.0
    opened.draft("RGB", (round(_ENOUGH * share * width), round(_ENOUGH * share * opened.height)))
    share = min(1.0, (MOST / (opened.width * opened.height)) ** 0.5)
    small = opened
    if share < 1.0:
        size = (round(opened.width * share), round(opened.height * share))
        small = opened.resize(size, Image.Resampling.LANCZOS, reducing_gap=2.0)
        opened.close()
    return small, small.width / width


def stated_per_mm(opened: Image.Image, name: str | None) -> tuple[float, float]:
    """Pixels per mm across and down that a scan's file states. Raises PhotoError where it states none."""
    across, down = (float(dots) / 25.4 for dots in opened.info.get("dpi", (0, 0)))
    if not (4 <= across <= 400 and 4 <= down <= 400):
        raise PhotoError(
            f"{name} does not say how many dots to the inch it was scanned with. Save it from the scanner’s own "
            "program as PNG or JPEG, and bring it here without sending it through a messenger."
        )
    return across, down


def _squared(scan: Image.Image, *, across: float, down: float) -> tuple[Image.Image, float]:
    """The scan with as many pixels to a mm down as across, and how many that are."""
    if abs(across / down - 1) > 1e-6:
        scan = scan.resize((scan.width, max(1, round(scan.height * across / down))), Image.Resampling.LANCZOS)
    return scan, across


def _focal(opened):
    """The focal length that the file tells, as a share of the picture's diagonal; None where it tells none."""
    try:
        length = float(opened.getexif().get_ifd(ExifTags.IFD.Exif).get(ExifTags.Base.FocalLengthIn35mmFilm) or 0)
    except Exception:
        return None
    return length / _DIAGONAL_35 if 8 <= length <= 400 else None
