"""A date window by itself: the cleanest box of its size, inside its frame if it has one."""

from collections.abc import Iterator

import cv2
import numpy as np

from parts.picture.camera import Array
from parts.picture.edges.face import Face, Picked
from parts.picture.edges.straight import box
from parts.picture.errors import PictureError
from parts.picture.propose.coarse import COARSE, flat

_WINDOW = (0.9, 4.0)
"""Sides of a date window, mm; common practice, no source."""
_REACH = 0.25
"""How far off the box that was seen its edges are looked for, mm; common practice, no source."""


def window(face: Face, outside: Picked) -> list[Picked] | None:
    """The four edges of a date window: the cleanest box of its size between the middle and the edge."""
    grey, plane = flat(face, 2 * COARSE)
    x0, y0, radius0 = outside.values
    for corners in _boxes(grey, plane.scale):
        places = plane.to_mm(corners)
        away = np.hypot(*(places.mean(axis=0) - [x0, y0]))
        if not 0.25 * radius0 < away < 0.9 * radius0:
            continue
        try:
            return box(face, places, _REACH)
        except PictureError:
            continue
    return None


def _boxes(grey: cv2.typing.MatLike, scale: float) -> Iterator[Array]:
    """Four-cornered outlines of a window's size in the picture, in pixels, the most box-like first."""
    boxes = []
    for light in (grey, 255 - grey):
        parts = cv2.adaptiveThreshold(light, 255, cv2.ADAPTIVE_THRESH_MEAN_C, cv2.THRESH_BINARY, int(4 * scale) | 1, -6)
        outlines, _ = cv2.findContours(parts, cv2.RETR_LIST, cv2.CHAIN_APPROX_NONE)
        for outline in outlines:
            (_, size, _) = box = cv2.minAreaRect(outline)
            sides = sorted(side / scale for side in size)
            if not (_WINDOW[0] <= sides[0] and sides[1] <= _WINDOW[1]):
                continue
            filled = cv2.contourArea(outline) / (size[0] * size[1])
            if filled > 0.85:
                boxes.append((filled, cv2.boxPoints(box).astype(float)))
    for _, corners in sorted(boxes, key=lambda item: -item[0]):
        yield corners
