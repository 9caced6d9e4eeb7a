"""A hand by itself: its outline on the paper, its hole, tip and tail."""

from dataclasses import dataclass

import cv2
import numpy as np

from parts.picture.camera import Array
from parts.picture.edges.face import Face, Picked
from parts.picture.find import sample
from parts.picture.plane import Plane
from parts.picture.propose.coarse import COARSE, flat, snapped

_LAST, _FADE, _BESIDE, _STEP = 1.3, 0.5, 1.0, 0.02
"""The last part of a blade that its width is followed over, how much of it fades at a sharp tip, how far to each side
it is looked at, and the steps, mm; common practice, no source."""
_LEAST_DARKER = 20.0
"""Grey values by which a hand is darker than the paper, at least; common practice, no source."""


@dataclass(frozen=True)
class HandSeen:
    """A hand on the paper: its outline's corners (n x 2, mm), and its hole, tip and tail where they are seen."""

    outline: Array
    hole: Picked | None = None
    tip: Picked | None = None
    tail: Picked | None = None


def hand(face: Face, plus_minus: float) -> HandSeen | None:
    """The one hand that lies in the field, darker than the paper; its ends are known to `plus_minus`, mm."""
    grey, plane = flat(face, 2 * COARSE, even=False)
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
        return snapped(face, middle[0], middle[1], radius, max(0.5 * radius, 2 * face.pixel), "outside")
    return None
