"""Round things by themselves: the rim, the centre hole and the feet."""

import cv2
import numpy as np

from parts.picture.camera import Array
from parts.picture.edges.face import Face, Picked
from parts.picture.propose.coarse import COARSE, flat, snapped

_CALM = 2.0
"""Pixels that the light is smoothed by where small circles are looked for: grain and brushing are full of them."""
_TRIED = 12
"""Of the circles of a size the clearest that are looked at; a dial's back has many small ones."""
_SURE = 0.7
"""Share of a circle's edge that must be seen before it is proposed."""
_OFF_MIDDLE = 1.5
"""How far from a part's middle its centre hole lies at most, mm; common practice, no source."""
HOLES, FEET = (0.35, 1.7), (0.2, 0.65)
"""Radii of centre holes and dial feet, mm; common practice, no source."""


def rim(face: Face) -> Picked | None:
    """The outside of a round part in the field: the largest circle that is well seen."""
    half = face.plane.half
    best = None
    for x, y, radius in _circles(face, 0.25 * half, 0.98 * half)[:_TRIED]:
        if best is not None and 1.06 * radius < best.values[2]:
            continue
        circle = snapped(face, x, y, radius, 0.06 * radius, "inside")
        if circle and circle.share >= _SURE and (best is None or circle.values[2] > best.values[2]):
            best = circle
    return best


def hole(face: Face, outside: Picked) -> Picked | None:
    """The centre hole: the circle of its size nearest to the middle of the part."""
    middle = outside.values[:2]
    circles = _circles(face, *HOLES, around=(middle, _OFF_MIDDLE + HOLES[1] + 0.5))
    near = [(np.hypot(x - middle[0], y - middle[1]), x, y, radius) for x, y, radius in circles]
    for away, x, y, radius in sorted(near):
        if away > _OFF_MIDDLE:
            return None
        circle = snapped(face, x, y, radius, 0.5 * radius, "outside")
        if circle and circle.share >= _SURE:
            return circle
    return None


def feet(face: Face, outside: Picked) -> list[Picked]:
    """Up to two dial feet: small circles in the outer half of the dial's back, the best seen first."""
    x0, y0, radius0 = outside.values
    proposed: list[Picked] = []
    for x, y, radius in _circles(face, *FEET)[: 3 * _TRIED]:
        away = np.hypot(x - x0, y - y0)
        if not 0.5 * radius0 < away < 0.97 * radius0:
            continue
        circle = snapped(face, x, y, radius, 0.6 * radius, "inside")
        apart = all(np.hypot(*(circle.values - other.values)[:2]) > 1.0 for other in proposed) if circle else False
        if circle and circle.share >= _SURE and apart:
            proposed.append(circle)
    return sorted(proposed, key=lambda circle: -circle.share)[:2]


def _circles(
    face: Face, least: float, most: float, around: tuple[Array, float] | None = None
) -> list[tuple[float, float, float]]:
    """Circles of these radii in the field or `around` a place, x, y and radius in mm, the clearest first."""
    grey, plane = flat(face, COARSE if least > 2 else 2 * COARSE)
    scale = plane.scale
    left = upper = 0
    if around:
        left, upper = np.maximum(0, plane.to_pixels(around[0] - around[1])).astype(int)
        right, lower = np.maximum(1, plane.to_pixels(around[0] + around[1])).astype(int)
        grey = grey[upper:lower, left:right]
    rows = cv2.HoughCircles(
        cv2.GaussianBlur(grey, (0, 0), 1.2 if least > 2 else _CALM),
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
    return [
        (*plane.to_mm(row[:2] + np.array([left, upper])).tolist(), float(row[2]) / scale)
        for row in np.reshape(rows, (-1, rows.shape[-1]))
    ]
