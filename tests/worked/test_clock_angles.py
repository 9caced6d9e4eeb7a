"""Polar angles counted clockwise from 12 o'clock: x = r sin c to 3 o'clock, y = r cos c to 12 o'clock (convention)."""

from math import hypot

import pytest

from parts.fit import check_sheet
from parts.fit.checks.feet import on_dial
from parts.fit.drawings.dial import place

HOURS = [(0, 0.0, 1.0), (90, 1.0, 0.0), (180, 0.0, -1.0), (270, -1.0, 0.0), (135, 0.70710678, -0.70710678)]


@pytest.mark.parametrize(("angle", "x", "y"), HOURS)
def test_hours_on_the_dial(angle, x, y):
    assert on_dial(angle, 10.0) == pytest.approx((10 * x, 10 * y), abs=1e-7)


@pytest.mark.parametrize(("angle", "x", "y"), HOURS)
def test_on_paper_y_runs_down(angle, x, y):
    assert place(angle, 10.0) == pytest.approx((10 * x, -10 * y), abs=1e-7)


def test_half_a_degree_at_12_mm():
    (x1, y1), (x2, y2) = on_dial(45.0, 12.0), on_dial(45.5, 12.0)
    assert hypot(x2 - x1, y2 - y1) == pytest.approx(0.10472, abs=5e-6)


@pytest.mark.parametrize(
    ("stem", "hole", "angle", "minute"), [(90, 315, 45, 7.5), (90, 270, 0, 0), (120, 30, 150, 25), (0, 90, 90, 15)]
)
def test_a_hole_counts_clockwise_from_the_stem_and_a_minute_is_six_degrees(stem, hole, angle, minute):
    holes = [{"angle": hole, "radius": 11.0, "diameter": 0.8}]
    found = check_sheet({"case": {"stem_angle": stem}, "movement": {"foot_holes": holes}})
    assert (found.foot_marks[0].angle, found.foot_marks[0].minute) == pytest.approx((angle, minute))
