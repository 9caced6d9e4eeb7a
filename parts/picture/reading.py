"""A dimension from what was picked: its value, and a plus-minus of two standard uncertainties.

Everything that was picked on one face sways together with the camera, the printer's scale and the height: what they
share cancels where it should (propagation of uncertainty with correlations, JCGM 100 5.2).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import copysign

import numpy as np

from parts.picture.camera import Array
from parts.picture.edges.face import Picked
from parts.picture.plane import Plane

COVERAGE = 2.0
"""The plus-minus is so many standard uncertainties: about 95 %."""
_STEP = 1e-4


@dataclass(frozen=True)
class Reading:
    """A dimension, mm or degrees, with its plus-minus."""

    value: float
    plus_minus: float

    def agrees(self, other: "Reading", *, degrees: bool = False) -> bool:
        """Whether two readings of one thing lie no farther apart than both plus-minus together."""
        apart = abs(self.value - other.value)
        apart = min(apart, 360.0 - apart) if degrees else apart
        return apart <= self.plus_minus + other.plus_minus


def read(plane: Plane, formula: Callable[..., float], *picked: Picked) -> Reading:
    """formula(values of each) with the uncertainty of all that was picked."""
    values = [pick.values for pick in picked]
    value = formula(*values)
    shared, own = np.zeros(len(plane.covariance)), 0.0
    for i, pick in enumerate(picked):
        slope = np.array([_slope(formula, values, i, j) for j in range(len(pick.values))])
        shared = shared + slope @ pick.sway
        own += slope @ pick.own @ slope
    variance = own + shared @ plane.covariance @ shared
    return Reading(float(value), float(COVERAGE * np.sqrt(variance)))


def _slope(formula: Callable[..., float], values: Sequence[Array], which: int, place: int) -> float:
    ends = []
    for step in (_STEP, -_STEP):
        moved = [value.copy() for value in values]
        moved[which][place] += step
        ends.append(formula(*moved))
    change = ends[0] - ends[1]
    if abs(change) > 180.0:  # an angle that goes round
        change -= copysign(360.0, change)
    return change / (2 * _STEP)
