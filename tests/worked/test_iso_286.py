"""ISO 286 limits and fits, from the hole and shaft tables of JIS B 0401 (1999): clearance intervals of common fits.

A limit of size is a nominal size with an interval, and the difference of two is the interval of their clearance.
"""

import pytest

from parts.fit import check_sheet
from parts.fit.arithmetic.quantities import measured

ROWS = [
    (3, (0, 10), (-8, -2), (2, 18)),
    (3, (0, 10), (-6, 0), (0, 16)),
    (3, (0, 10), (6, 12), (-12, 4)),
    (6, (0, 12), (-12, -4), (4, 24)),
    (6, (0, 12), (-8, 0), (0, 20)),
    (6, (0, 12), (12, 20), (-20, 0)),
    (10, (0, 15), (-14, -5), (5, 29)),
    (10, (0, 15), (15, 24), (-24, 0)),
    (30, (0, 21), (-20, -7), (7, 41)),
    (30, (0, 21), (-13, 0), (0, 34)),
    (30, (0, 21), (22, 35), (-35, -1)),
    (50, (0, 25), (-25, -9), (9, 50)),
    (50, (0, 25), (-16, 0), (0, 41)),
    (50, (0, 25), (26, 42), (-42, -1)),
    (29, (0, 21), (-33, 0), (0, 54)),
]
"""Size in mm, limits of hole and of shaft and of their clearance in um; the last is the published 29 H7/h8."""


def limits(name, size, deviations):
    low, high = deviations
    return measured(name, size + (low + high) / 2000, (high - low) / 2000)


@pytest.mark.parametrize(("size", "hole", "shaft", "clearance"), ROWS)
def test_clearance_of_a_fit(size, hole, shaft, clearance):
    found = limits("hole", size, hole) - limits("shaft", size, shaft)
    low, high = found.value - found.half_width, found.value + found.half_width
    assert (1000 * low, 1000 * high) == pytest.approx(clearance, abs=1e-9)


@pytest.mark.parametrize(
    ("shaft", "verdict"),
    [((-20, -7), "work"), ((-53, -20), "fits"), ((-13, 0), "work"), ((-6.5, 6.5), "unclear"), ((22, 35), "no")],
)
def test_a_movement_of_29_in_a_bore_of_29_h7(shaft, verdict):
    """f7 drops in for certain, g6 and h6 pass but may want easing, js6 may not pass, p6 never does."""

    def told(deviations):
        quantity = limits("x", 29, deviations)
        return [quantity.value, quantity.half_width]

    found = check_sheet({"case": {"bore_diameter": told((0, 21))}, "movement": {"overall_diameter": told(shaft)}})
    assert found["case-bore"].verdict == verdict
