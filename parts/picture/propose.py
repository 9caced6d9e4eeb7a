"""Picks that the program proposes by itself, for the person to accept: rim, centre hole, window, feet, a hand's ends.

Looked for coarsely in the rectified picture; what is handed back is snapped to the edge, with how well it fits.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import cv2
import numpy as np

from parts.picture.camera import Array
from parts.picture.edges import Face, Picked
from parts.picture.errors import PictureError
from parts.picture.find import sample
from parts.picture.plane import Plane

_COARSE = 10.0
"""Pixels per mm in which circles are looked for."""
_SURE = 0.7
"""Share of a circle's edge that must be seen before it is proposed."""
HOLES, FEET = (0.35, 1.7), (0.2, 0.65)
"""Radii of centre holes and dial feet, mm; common practice, no source."""
_LAST, _FADE, _BESIDE, _STEP = 1.3, 0.5, 1.0, 0.02
"""The last part of a blade that its width is followed over, how much of it fades at a sharp tip, how far to each side
it is looked at, and the steps, mm; common practice, no source."""
_LEAST_DARKER = 20.0
"""Grey values by which a hand is darker than the paper, at least; common practice, no source."""
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
    grey, plane = _flat(face, 2 * _COARSE)
    x0, y0, radius0 = outside.values
    for corners in _boxes(grey, plane.scale):
        places = plane.to_mm(corners)
        away = np.hypot(*(places.mean(axis=0) - [x0, y0]))
        if not 0.25 * radius0 < away < 0.9 * radius0:
            continue
        try:
            return [face.line(places[i], places[(i + 1) % 4], 0.25) for i in range(4)]
        except PictureError:
            continue
    return None


@dataclass(frozen=True)
class HandSeen:
    """A hand on the paper: its outline's corners (n x 2, mm), and its hole, tip and tail where they are seen."""

    outline: Array
    hole: Picked | None = None
    tip: Picked | None = None
    tail: Picked | None = None


def hand(face: Face, plus_minus: float) -> HandSeen | None:
    """The one hand that lies in the field, darker than the paper; its ends are known to `plus_minus`, mm."""
    grey, plane = _flat(face, 2 * _COARSE, even=False)
    scale = plane.scale
    paper = cv2.GaussianBlur(cv2.morphologyEx(grey, cv2.MORPH_CLOSE, _disc(4.0 * scale)), (0, 0), scale)
    darkness = paper.astype(np.float32) - grey
    level, _ = cv2.threshold(np.clip(darkness, 0, 255).astype(np.uint8), 0, 255, cv2.THRESH_OTSU)
    parts = (darkness > max(level, _LEAST_DARKER)).astype(np.uint8)
    outlines, nesting = cv2.findContours(parts, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    outer = [i for i in range(len(outlines)) if nesting[0][i][3] < 0]
    if not outer:
        return None
    largest = max(outer, key=lambda i: cv2.contourArea(outlines[i]))
    if cv2.contourArea(outlines[largest]) < scale**2 or _at_the_edge(outlines[largest], plane.side):
        return None
    edge = plane.to_mm(outlines[largest].reshape(-1, 2))
    corners = plane.to_mm(cv2.approxPolyDP(outlines[largest], 0.03 * scale, closed=True).reshape(-1, 2))
    inside = [outlines[i] for i in range(len(outlines)) if nesting[0][i][3] == largest]
    around = _hole_of(face, plane, inside)
    if around is None:
        return HandSeen(corners)
    away = edge - around.values[:2]
    reach = np.hypot(*away.T)
    seen_tip = edge[reach.argmax()]
    tip = _very_end(darkness, plane, around.values[:2], seen_tip)
    faded = 0.5 * float(np.hypot(*(tip - seen_tip)))
    behind = (away @ away[reach.argmax()]) / (reach * reach.max()) < -0.8
    tail = None
    if behind.any() and reach[behind].max() > 2.5 * around.values[2]:
        x, y = edge[behind][reach[behind].argmax()]
        tail = face.point(x, y, plus_minus)
    return HandSeen(corners, around, face.point(tip[0], tip[1], plus_minus + faded), tail)


def _very_end(darkness: Array, plane: Plane, centre: Array, tip: Array) -> Array:
    """The end of a blade, pointed or blunt, by how much dark there is: blur moves that about but takes none away.

    The width goes on as it runs along the blade's last part; the end lies where the dark that is left is used up.
    """
    way = (tip - centre) / np.hypot(*(tip - centre))
    across = np.array([-way[1], way[0]])
    stations, sides = np.arange(-_LAST, 2 * _FADE, _STEP), np.arange(-_BESIDE, _BESIDE, _STEP)
    places = tip + stations[:, None, None] * way + sides[:, None] * across
    values = sample(darkness, plane.to_pixels(places.reshape(-1, 2))).reshape(len(stations), len(sides))
    values = values - np.median(values[:, np.abs(sides) > 0.8 * _BESIDE])
    widths = values.sum(axis=1)
    whole = stations < -_FADE
    slope, level = np.polyfit(stations[whole] + _FADE, widths[whole], 1)
    left = widths[~whole].sum() * _STEP
    slope = min(slope, 0.0)
    root = level**2 + 2 * slope * left
    beyond = (np.sqrt(root) - level) / slope if slope and root > 0 else -level / slope if slope else left / level
    return np.asarray(tip + np.clip(beyond - _FADE, -_FADE, 2 * _FADE) * way)


def _disc(diameter: float) -> cv2.typing.MatLike:
    side = int(diameter) | 1
    return cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (side, side))


def _at_the_edge(outline: cv2.typing.MatLike, side: int) -> bool:
    return bool(outline.min() <= 1 or outline.max() >= side - 2)


def _hole_of(face: Face, plane: Plane, inside: list[cv2.typing.MatLike]) -> Picked | None:
    """The largest round opening in a hand, by its edge."""
    for opening in sorted(inside, key=cv2.contourArea, reverse=True):
        (x, y), radius = cv2.minEnclosingCircle(opening)
        if cv2.contourArea(opening) < 0.6 * np.pi * radius**2:
            continue
        (middle,) = plane.to_mm(np.array([[x, y]]))
        radius /= plane.scale
        return _snapped(face, middle[0], middle[1], radius, max(0.5 * radius, 2 * face.pixel))
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
    grey, plane = _flat(face, _COARSE if least > 2 else 2 * _COARSE)
    scale = plane.scale
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


def _flat(face: Face, scale: float, *, even: bool = True) -> tuple[cv2.typing.MatLike, Plane]:
    """The field near a scale, with its light evened out if wanted, and the plane of that picture."""
    straight = face.plane.rectified(face.grey) if face.straight is None else face.straight
    whole = len(straight)
    side = min(whole, 2 * round(face.plane.half * scale) + 1)
    scale = face.plane.scale * side / whole
    grey = cv2.resize(straight, (side, side), interpolation=cv2.INTER_AREA)
    plane = replace(face.plane, scale=scale, half=(side - 1) / 2 / scale)
    return cv2.createCLAHE(2.0, (4, 4)).apply(grey) if even else grey, plane


def _snapped(face: Face, x: float, y: float, radius: float, reach: float) -> Picked | None:
    try:
        return face.circle(x, y, radius, reach)
    except PictureError:
        return None
