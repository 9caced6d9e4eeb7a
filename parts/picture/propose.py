"""Picks that the program proposes by itself, for the person to accept: rim, centre hole, date window, feet.

Looked for coarsely in the rectified picture; what is handed back is snapped to the edge, with how well it fits.
"""

from collections.abc import Iterator
from dataclasses import replace

import cv2
import numpy as np

from parts.picture.camera import Array
from parts.picture.edges import Face, Picked
from parts.picture.errors import PictureError

_COARSE = 10.0
"""Pixels per mm in which circles are looked for."""
_SURE = 0.7
"""Share of a circle's edge that must be seen before it is proposed."""
HOLES, FEET = (0.35, 1.7), (0.2, 0.65)
"""Radii of centre holes and dial feet, mm; common practice, no source."""
_WINDOW = (0.9, 4.0)
"""Sides of a date window, mm; common practice, no source."""


def rim(face: Face) -> Picked | None:
    """The outside of a round part in the field: the largest circle that is well seen."""
    half = face.plane.half
    best = None
    for x, y, radius in _circles(face, 0.25 * half, 0.98 * half):
        circle = _snapped(face, x, y, radius, 0.06 * radius)
        if circle and circle.share >= _SURE and (best is None or circle.values[2] > best.values[2]):
            best = circle
    return best


def hole(face: Face, outside: Picked) -> Picked | None:
    """The centre hole: the circle of its size nearest to the middle of the part."""
    middle = outside.values[:2]
    near = [(np.hypot(x - middle[0], y - middle[1]), x, y, radius) for x, y, radius in _circles(face, *HOLES)]
    for away, x, y, radius in sorted(near):
        if away > 1.5:
            return None
        circle = _snapped(face, x, y, radius, 0.5 * radius)
        if circle and circle.share >= _SURE:
            return circle
    return None


def feet(face: Face, outside: Picked) -> list[Picked]:
    """Up to two dial feet: small circles in the outer half of the dial's back, the best seen first."""
    x0, y0, radius0 = outside.values
    proposed: list[Picked] = []
    for x, y, radius in _circles(face, *FEET):
        away = np.hypot(x - x0, y - y0)
        if not 0.5 * radius0 < away < 0.97 * radius0:
            continue
        circle = _snapped(face, x, y, radius, 0.6 * radius)
        apart = all(np.hypot(*(circle.values - other.values)[:2]) > 1.0 for other in proposed) if circle else False
        if circle and circle.share >= _SURE and apart:
            proposed.append(circle)
    return sorted(proposed, key=lambda circle: -circle.share)[:2]


def window(face: Face, outside: Picked) -> list[Picked] | None:
    """The four edges of a date window: the cleanest box of its size between the middle and the edge."""
    grey, scale = _flat(face, 2 * _COARSE)
    plane = replace(face.plane, scale=scale)
    x0, y0, radius0 = outside.values
    for corners in _boxes(grey, scale):
        places = plane.to_mm(corners)
        away = np.hypot(*(places.mean(axis=0) - [x0, y0]))
        if not 0.25 * radius0 < away < 0.9 * radius0:
            continue
        try:
            return [face.line(places[i], places[(i + 1) % 4], 0.25) for i in range(4)]
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


def _circles(face: Face, least: float, most: float) -> list[tuple[float, float, float]]:
    """Circles of these radii in the field, x, y and radius in mm, the clearest first."""
    scale = _COARSE if least > 2 else 2 * _COARSE
    grey, scale = _flat(face, scale)
    plane = replace(face.plane, scale=scale)
    rows = cv2.HoughCircles(
        cv2.GaussianBlur(grey, (0, 0), 1.2),
        cv2.HOUGH_GRADIENT_ALT,
        1.5,
        0.6 * least * scale,
        param1=120,
        param2=0.6,
        minRadius=int(least * scale),
        maxRadius=int(np.ceil(most * scale)),
    )
    if rows is None:
        return []
    return [(*plane.to_mm(row[:2]).tolist(), float(row[2]) / scale) for row in np.reshape(rows, (-1, rows.shape[-1]))]


def _flat(face: Face, scale: float) -> tuple[cv2.typing.MatLike, float]:
    """The field at a scale, with its light evened out, and that scale."""
    scale = min(scale, face.plane.scale)
    grey = replace(face.plane, scale=scale).rectified(face.grey)
    spread = cv2.createCLAHE(2.0, (4, 4)).apply(grey)
    return spread, scale


def _snapped(face: Face, x: float, y: float, radius: float, reach: float) -> Picked | None:
    try:
        return face.circle(x, y, radius, reach)
    except PictureError:
        return None
