"""Edges along rays: the strongest steps of light near a start, to a fraction of a pixel."""

from dataclasses import dataclass

import cv2
import numpy as np

from parts.picture.camera import Array
from parts.picture.edges.face import Face

ALIKE = 6.0
"""Neighbouring rays see the same noise: so many count as one."""
_NEARNESS = 0.4
"""Share of the reach within which an edge counts as one that was meant; common practice, no source."""
LEAST_SHARE = 0.35
"""Share of the rays across an edge that see it, at least; common practice, no source."""
_LEAST_CONTRAST = 8.0


@dataclass(frozen=True)
class Found:
    """Edges along rays: distances from the start and steps of light, 4 x rays.

    The strongest and the next of the sense that most rays have, then of the other; nan where there is none.
    """

    places: Array
    steps: Array

    def meant(self, reach: float) -> Array:
        """How well each may be what was meant: its step beside the strongest one's of its ray, and how near it lies."""
        steps = np.nan_to_num(self.steps)
        nearness = np.exp(-((np.nan_to_num(self.places) / (_NEARNESS * reach)) ** 2))
        return np.asarray(steps / np.maximum(steps.max(axis=0), 1e-9) * nearness)

    def nearest(self, reach: float) -> Array:
        """The place on each ray that may best be what was meant; nan where there is none."""
        return np.asarray(self.places[self.meant(reach).argmax(axis=0), np.arange(self.places.shape[1])])


def edges_along(
    face: Face, starts: Array, directions: Array, reach: float, *, beside: int = 1, rise: float = 0.0
) -> Found:
    """The edges within `reach` of each start along its direction, by the light of so many rays `beside` it.

    `rise` is 1 for those where light steps up alone, -1 for those where it steps down, 0 for both.
    """
    step = 0.5 * face.pixel
    count = max(3, int(np.ceil(reach / step)))
    stations = np.arange(-count - 1, count + 2) * step
    points = starts[:, None, :] + stations[None, :, None] * directions[:, None, :]
    values = cv2.blur(face.values(points.reshape(-1, 2)).reshape(len(starts), -1), (1, beside))
    smooth = np.apply_along_axis(np.convolve, 1, values, np.array([0.25, 0.5, 0.25]), "same")
    slopes = np.gradient(smooth, axis=1)[:, 2:-2]
    stations = stations[2:-2]
    sense = rise or np.sign(np.median(slopes[np.arange(len(slopes)), np.abs(slopes).argmax(axis=1)]) or 1.0)
    peaks = np.array([[_peaks(stations, way * row) for row in slopes] for way in (sense, -sense)])
    places, steps = np.moveaxis(peaks, (0, 1, 2, 3), (1, 3, 2, 0)).reshape(2, 4, len(starts))
    if rise:
        places[2:], steps[2:] = np.nan, np.nan
    return Found(places, steps)


def _peaks(stations: Array, slopes: Array) -> list[tuple[float, float]]:
    """Place and step of the strongest edge and of the next: nan where there is none worth the name."""
    first, step, span = _peak(stations, slopes)
    rest = slopes.copy()
    rest[span] = 0.0
    return [(first, step), _peak(stations, rest)[:2]]


def _peak(stations: Array, slopes: Array) -> tuple[float, float, slice]:
    """Where an edge is, its step and its span: the centroid of its slope round the steepest place; nan for none."""
    top = int(slopes.argmax())
    low = top
    while low > 0 and slopes[low - 1] > 0.3 * slopes[top]:
        low -= 1
    high = top
    while high < len(slopes) - 1 and slopes[high + 1] > 0.3 * slopes[top]:
        high += 1
    span = slice(low, high + 1)
    part = np.clip(slopes[span], 0, None)
    if part.sum() < _LEAST_CONTRAST or top in (0, len(slopes) - 1):
        return float("nan"), float("nan"), span
    return float((stations[span] * part).sum() / part.sum()), float(part.sum()), span
