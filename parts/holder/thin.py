"""What of a body is too thin, seen in cuts between its faces: splinters that a slicer loses, what no process makes."""

from collections.abc import Iterator
from itertools import pairwise
from math import pi
from typing import Any

import numpy as np
from manifold3d import CrossSection, JoinType, Manifold
from numpy.typing import NDArray

THIN = 0.002
"""What is narrower than this, mm, is a splinter: a slicer counts in micrometres and loses it (measured), and"""
LONG = 0.05
"""longer than this, mm, it is told: a corner of more than 2.3° between two sides is none."""
LAYER = 0.1
"""About as thick as layers are: what is lower, mm, is not looked at by itself. Common practice, no source."""
_NOTHING = 1e-8
"""Less of an area than this, mm², is rounding."""


def splinters(solid: Manifold) -> list[float]:
    """Heights at which the piece has a splinter or a slit that a slicer loses, mm above the dial side."""
    return [z for z in _between_faces(solid) if _is_splintered(solid.slice(z))]


def thinner_than(solid: Manifold, least: float) -> Iterator[tuple[float, CrossSection]]:
    """What of the piece is thinner than this, mm: heights above the dial side, each with one place there.

    What is smaller than half a square of that width is only a corner.
    """
    for z in _between_faces(solid):
        area = solid.slice(z).simplify(LONG / 10)
        opened = area.offset(-least / 2, JoinType.Miter, 2).offset(least / 2 + LONG / 2, JoinType.Round, 2, 16)
        yield from ((z, part) for part in (area - opened).decompose() if part.area() > least**2 / 2)


def _between_faces(solid: Manifold) -> list[float]:
    """A height between each two of its faces, mm above the dial side; of a round's many one for each layer."""
    faces = np.unique(np.round(solid.to_mesh().vert_properties[:, 2].astype(float), 3))
    heights: list[float] = []
    for low, high in pairwise(faces):
        if high - (heights[-1] if heights else low) > LAYER:
            heights.append(float(low + high) / 2)
    return heights


def _is_splintered(area: CrossSection) -> bool:
    """Whether setting the edge in and out again, or out and in, by half of `THIN` takes more than `LONG` of it away.

    A chip that stands by itself, or a hole, is one wherever it is no longer than that in any direction.
    """
    rings = area.to_polygons()
    if any(np.ptp(ring, axis=0).max() < LONG for ring in rings):
        return True
    if not any(map(_is_pinched, rings)):
        return False

    def moved(by: float) -> CrossSection:
        return area.offset(-by, JoinType.Miter, 2).offset(by * (1 + 2 * LONG / THIN), JoinType.Round, 2, 32)

    lost = area - moved(THIN / 2), moved(-THIN / 2) - area
    return any(part.area() > _NOTHING for part in lost)


def _is_pinched(ring: NDArray[Any]) -> bool:
    """Whether an outline turns back upon itself, as it does round a splinter's tip: quick to see."""
    along = np.roll(ring, -1, axis=0) - ring
    along = along[np.hypot(*along.T) > THIN]
    after = np.roll(along, -1, axis=0)
    across = along[:, 0] * after[:, 1] - along[:, 1] * after[:, 0]
    turns = np.abs(np.arctan2(across, (along * after).sum(axis=1)))
    return len(along) < 3 or bool((turns > pi - THIN / LONG).any())
