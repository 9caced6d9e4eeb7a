"""Flat scanners: the scale of each is read off one scan of a measured print of a mat."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from parts.models import Scanner
from parts.picture.scan import calibrate
from parts.pictured.adding import stated_per_mm
from parts.pictured.reading import measured_bars
from parts.tools.pictures import opened_photo

if TYPE_CHECKING:
    from django.core.files.uploadedfile import UploadedFile


def add_scanner(*, name: str, file: UploadedFile) -> Scanner:
    """Store a scanner by its scan of a mat. Raises PhotoError and PictureError for one that tells nothing."""
    with opened_photo(file) as opened:
        stated = stated_per_mm(opened, file.name)
        grey = np.asarray(opened.convert("L"))
    scale = calibrate(grey, bars=measured_bars(), stated=stated)
    return Scanner.objects.create(name=name, across=scale.across, down=scale.down, plus_minus=scale.plus_minus)
