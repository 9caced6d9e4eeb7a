"""Taking a picture in: judged by its content, upright, without anything but the picture; the focal length is noted."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

from django.core.files.base import ContentFile
from PIL import ExifTags, Image, ImageOps

from parts.models import PartPicture
from parts.tools.pictures import in_plain_colours, opened_photo

if TYPE_CHECKING:
    from django.core.files.uploadedfile import UploadedFile

MOST = 16_000_000
"""Pixels that a picture is measured in; a larger one is made smaller, which loses nothing on a mat that fills it."""
_QUALITY = 93
_DIAGONAL_35 = 43.27
"""Diagonal of a frame of 24 x 36 mm, that the focal length in files counts by."""


def add_picture(
    *, part: Any, field: str, subject: str, file: UploadedFile, height: float, height_pm: float
) -> PartPicture:
    """Store a picture of a part. Raises PhotoError for what is none."""
    with opened_photo(file) as opened:
        focal = _focal(opened)
        opened.draft("RGB", (4 * 1300, 4 * 1000))
        upright = in_plain_colours(ImageOps.exif_transpose(opened))
    share = min(1.0, (MOST / (upright.width * upright.height)) ** 0.5)
    if share < 1.0:
        size = (round(upright.width * share), round(upright.height * share))
        upright = upright.resize(size, Image.Resampling.LANCZOS, reducing_gap=2.0)
    out = io.BytesIO()
    upright.save(out, "JPEG", quality=_QUALITY)
    picture = PartPicture(subject=subject, height=height, height_pm=height_pm, **{field: part})
    picture.focal = focal * (upright.width**2 + upright.height**2) ** 0.5 if focal else None
    picture.file.save("picture.jpg", ContentFile(out.getvalue()), save=False)
    picture.save()
    return picture


def _focal(opened):
    """The focal length that the file tells, as a share of the picture's diagonal; None where it tells none."""
    try:
        length = float(opened.getexif().get_ifd(ExifTags.IFD.Exif).get(ExifTags.Base.FocalLengthIn35mmFilm) or 0)
    except Exception:
        return None
    return length / _DIAGONAL_35 if 8 <= length <= 400 else None
