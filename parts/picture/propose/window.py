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
_FRAME, _FRAME_FADE, _FRAME_STEP = 0.6, 0.08, 1.0
"""Width of a window's frame at most and how far it differs from side to side, mm; grey values by which the light
steps back at its inner edge from half a pixel to the next; common practice, no source."""


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
            opening = _in_frame(face, places)
            if opening is None:
                return box(face, places, 0.25)
            return box(face, opening, max(_FRAME_FADE, 3 * face.pixel), framed=True)
        except PictureError:
            continue
    return None


def _in_frame(face: Face, corners: Array) -> Array | None:
    """The corners of the opening, where those given are of its frame: a strip as wide all round; else None."""
    sides = np.roll(corners, -1, axis=0) - corners
    along = sides / np.hypot(*sides.T)[:, None]
    inwards = np.column_stack([-along[:, 1], along[:, 0]])
    inwards *= np.sign((inwards * (corners.mean(axis=0) - corners)).sum(axis=1))[:, None]
    stations = np.arange(-2 * _FRAME_FADE, _FRAME, face.pixel / 2)
    shares = np.linspace(0.2, 0.8, 25)
    starts = corners[:, None] + shares[:, None] * sides[:, None]
    places = starts[:, :, None] + stations[:, None] * inwards[:, None, None]
    light = face.values(places.reshape(-1, 2)).reshape(4, len(shares), -1).mean(axis=1)
    slopes = np.gradient(cv2.GaussianBlur(light, (0, 0), 1.0, sigmaY=1e-3), axis=1)
    outer, inner = np.array([_strip(stations, row, face.pixel) for row in slopes]).T
    if not np.isfinite(inner).all() or np.ptp(inner - outer) > max(_FRAME_FADE, 2 * face.pixel):
        return None
    moved = inner[:, None] * inwards
    return np.asarray(corners + moved + np.roll(moved, 1, axis=0))


def _strip(stations: Array, slopes: Array, pixel: float) -> tuple[float, float]:
    """Where the light steps inwards over an edge, and where it steps back the other way; nan where it does not."""
    outer = int(np.where(stations < 2 * _FRAME_FADE, np.abs(slopes), 0.0).argmax())
    back = np.where(stations > stations[outer] + 1.5 * pixel, -np.sign(slopes[outer]) * slopes, 0.0)
    inner = int(back.argmax())
    return float(stations[outer]), float(stations[inner]) if back[inner] > _FRAME_STEP else float("nan")


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
