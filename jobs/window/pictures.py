"""Photos for the site: nothing but the picture, in the widths that screens ask for, under names that stay.

A stored photo is never changed, so its file and the width name what is made of it: what lies there need not be made
again.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from PIL import Image

from parts.tools.pictures import encoded

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.db.models.fields.files import FieldFile

WIDTHS = (480, 960, 1600)
"""Pixels along the longer side; none is larger than the photo itself."""
_RECIPE = 1
"""Raised when the same photo is to be made in another way."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A photo on the site: (path, width) of each size, the smallest first; width and height of the largest."""

    sizes: tuple[tuple[str, int], ...]
    width: int
    height: int

    @property
    def path(self) -> str:
        """The largest."""
        return self.sizes[-1][0]


class Pictures:
    """The photos that pages name, each with what makes its file."""

    def __init__(self) -> None:
        self.files: dict[str, Callable[[], bytes]] = {}

    def add(self, file: FieldFile) -> Shown | None:
        """Have the photo on the site; None where its file is gone."""
        try:
            with file.open("rb") as opened, Image.open(opened) as picture:
                width, height = picture.size
        except FileNotFoundError:
            return None
        longer = max(width, height)
        sides = [*(side for side in WIDTHS if side < longer), min(longer, WIDTHS[-1])]
        sizes = []
        for side in dict.fromkeys(sides):
            path = f"photos/{hashlib.sha256(f'{_RECIPE} {file.name} {side}'.encode()).hexdigest()[:16]}.jpg"
            self.files[path] = partial(_made, file, _size(width, height, side))
            sizes.append((path, _size(width, height, side)[0]))
        return Shown(tuple(sizes), *_size(width, height, sides[-1]))


def _size(width, height, side):
    scale = side / max(width, height)
    return max(1, round(width * scale)), max(1, round(height * scale))


def _made(file, size):
    with file.open("rb") as opened, Image.open(opened) as picture:
        return encoded(picture.convert("RGB").resize(size, Image.Resampling.LANCZOS), max(size))
