"""The one line by least squares, against an independent regression."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import linregress

from parts.tools.statistics.straight_line import least_squares

NUMBERS = st.floats(-1e3, 1e3).map(lambda number: round(number, 3))


@given(st.lists(st.tuples(NUMBERS, NUMBERS), min_size=3, max_size=12))
def test_slope_and_rests_are_those_of_a_library(points):
    line = least_squares(points)
    if len({x for x, _ in points}) == 1:
        assert line is None
        return
    known = linregress(*zip(*points, strict=True))
    assert line.slope == pytest.approx(known.slope, rel=1e-6, abs=1e-6)
    assert line.intercept == pytest.approx(known.intercept, rel=1e-6, abs=1e-4)
    far = sum((y - known.intercept - known.slope * x) ** 2 for x, y in points)
    assert line.rests == pytest.approx(far, rel=1e-6, abs=1e-3)


@pytest.mark.parametrize("points", [[], [(1.0, 2.0)], [(1.0, 2.0), (1.0, 3.0)], [(682.836, 0.0)] * 3])
def test_without_two_places_there_is_no_line(points):
    assert least_squares(points) is None


def test_by_hand():
    line = least_squares([(0.0, 1.0), (1.0, 3.0), (2.0, 4.0)])
    assert (line.count, line.mean_x, line.squares) == (3, 1.0, 2.0)
    assert (line.slope, line.intercept) == (1.5, pytest.approx(7 / 6))
    assert line.rests == pytest.approx(1 / 6)
