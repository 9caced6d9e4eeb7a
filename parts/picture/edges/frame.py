"""The frame round an opening: a narrow strip, as wide all round, inside the edge that is most seen."""

from dataclasses import dataclass

import cv2
import numpy as np

from parts.picture.camera import Array
from parts.picture.edges.face import Face

_TONES = 20.0
"""Grey values by which a frame differs from side to side, at most; common practice, no source."""
_WIDEST, _UNEVEN, _STEP = 0.6, 0.08, 1.0
"""Width of a frame at most and how far it differs from side to side, mm; grey values by which the light steps back at
its inner edge from half a pixel to the next; common practice, no source."""


@dataclass(frozen=True)
class Framed:
    """An opening's corners in its frame, and the frame's width in mm.

    `rises` is 1 where light steps up to the right of the way along a side, -1 where it steps down.
    """

    corners: Array
    width: float
    rises: Array


def in_frame(face: Face, corners: Array, reach: float) -> Framed | None:
    """The opening in a frame; None where no frame is seen.

    `corners` (4 x 2) are those of the frame or of its opening, to within `reach`, mm. No wall and no shadow is as wide
    and as dark all round.
    """
    sides = np.roll(corners, -1, axis=0) - corners
    along = sides / np.hypot(*sides.T)[:, None]
    inwards = np.column_stack([-along[:, 1], along[:, 0]])
    right = np.sign((inwards * (corners.mean(axis=0) - corners)).sum(axis=1))
    inwards *= right[:, None]
    stations = np.arange(-reach - 2 * _UNEVEN, _WIDEST, face.pixel / 2)
    shares = np.linspace(0.2, 0.8, 25)
    starts = corners[:, None] + shares[:, None] * sides[:, None]
    places = starts[:, :, None] + stations[:, None] * inwards[:, None, None]
    light = face.values(places.reshape(-1, 2)).reshape(4, len(shares), -1).mean(axis=1)
    slopes = np.gradient(cv2.GaussianBlur(light, (0, 0), 1.0, sigmaY=1e-3), axis=1)
    for way in (1.0, -1.0):
        outer, inner = np.array([_strip(stations, way * row, face.pixel) for row in slopes]).T
        if not np.isfinite(inner).all() or np.ptp(inner - outer) > max(_UNEVEN, 2 * face.pixel):
            continue
        tones = [np.interp(middle, stations, row) for middle, row in zip(0.5 * (outer + inner), light, strict=True)]
        if np.ptp(tones) < _TONES:
            moved = inner[:, None] * inwards
            opening = corners + moved + np.roll(moved, 1, axis=0)
            return Framed(opening, float((inner - outer).mean()), -way * right)
    return None


def _strip(stations: Array, slopes: Array, pixel: float) -> tuple[float, float]:
    """Between which two places, from without inwards, light most steps up and then back; nan where it does not."""
    apart = stations - stations[:, None]
    least = np.minimum(slopes[:, None], -slopes)
    there = (apart > 1.5 * pixel) & (apart < _WIDEST) & (stations[:, None] < 2 * _UNEVEN) & (least > _STEP)
    outer, inner = np.unravel_index(np.where(there, slopes[:, None] - slopes, 0.0).argmax(), apart.shape)
    return (float(stations[outer]), float(stations[inner])) if there[outer, inner] else (float("nan"), float("nan"))
