"""A flat scanner in place of a camera: its own scale is read off a scan of a mat once, then no mat is needed.

A scanner looks straight up at every place of its glass, so a scan has one scale across and another one down it. Only
what lies on the glass is at that scale. Lengths in mm.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from parts.picture.camera import Array, Camera
from parts.picture.errors import PictureError
from parts.picture.find import Sighting, find_mat
from parts.picture.plane import LEAST_SCALE, MOST_SCALE, Bars, Height, Plane, bars_of, true_places

MOST_SIDE = 90.0
"""Longest side of a part's scan, mm; common practice, no source."""
_FAR = 1e6
"""Distance, mm, of the camera that sees what a scanner sees: everything from straight above."""
_SKEW = 0.004
"""Radians that the two ways of a scanner may be off square; common practice, no source."""


@dataclass(frozen=True)
class Calibration:
    """True pixels per mm over those that the scan's file states, across and down; `plus_minus` is relative, of each."""

    across: float
    down: float
    plus_minus: float


def calibrate(grey: NDArray[np.uint8], *, bars: dict[int, Bars], stated: tuple[float, float]) -> Calibration:
    """The scale of a scanner from its scan of a mat; `stated` are the pixels per mm that the file states.

    PictureError, with the way on, where it cannot be trusted.
    """
    sighting = find_mat(grey)
    own = bars_of(sighting, bars)
    linear, off = _fitted(sighting, true_places(sighting, own))
    across, down = np.hypot(*linear.T)
    skew = float(abs(linear[0] @ linear[1]) / (across * down))
    if skew > _SKEW:
        raise PictureError(
            f"The mat lies {np.degrees(skew):.1f}° out of square in this scan.",
            "Press it flat under the lid, and scan it again in one go.",
        )
    reach = float(np.ptp(sighting.pixels, axis=0).min())
    printed = own.plus_minus / min(own.across, own.down)
    return Calibration(
        float(across / stated[0]), float(down / stated[1]), float(printed + 2.0 * np.abs(off).max() / reach)
    )


def _fitted(sighting: Sighting, places: Array) -> tuple[Array, Array]:
    """Pixels per mm as a matrix (its first row across the scan), and what each corner is off by, pixels."""
    design = np.column_stack([places, np.ones(len(places))])
    solved, *_ = np.linalg.lstsq(design, sighting.pixels, rcond=None)
    return np.asarray(solved[:2].T), sighting.pixels - design @ solved


def scan_plane(size: tuple[int, int], *, per_mm: float, plus_minus: float) -> Plane:
    """The plane of a scan of `size` pixels, made square: `per_mm` pixels per mm each way, `plus_minus` relative.

    PictureError, with the way on, where it is too coarse or too large.
    """
    if per_mm < LEAST_SCALE:
        raise PictureError(
            f"The scan has only {per_mm:.0f} pixels to a millimetre.",
            f"At least {LEAST_SCALE:.0f} are needed: scan at 600 dots to the inch or more.",
        )
    wide, high = (side / per_mm for side in size)
    if max(wide, high) > MOST_SIDE:
        raise PictureError(
            f"The scan shows {wide:.0f} × {high:.0f} mm.",
            f"Scan only the part and a little round it, at most {MOST_SIDE:.0f} mm a side.",
        )
    numbers = np.zeros(10)
    numbers[:3] = per_mm * _FAR, (size[0] - 1) / 2, (size[1] - 1) / 2
    numbers[9] = _FAR
    camera = Camera(numbers, np.zeros((10, 10)), 0.0, 0, size)
    scale = min(MOST_SCALE, float(round(per_mm)))
    return Plane(camera, Height(), Bars(1.0, 1.0, plus_minus), None, max(wide, high) / 2, scale)
