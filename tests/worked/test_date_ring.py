"""Horological reference pages on the calendar: the date ring has 31 teeth and steps once a day.

From that the pitch is 360/31 = 11.612903 degrees, and a ring made for one window shows leaning numerals in another.
"""

from math import radians

import pytest

from parts.fit import check_sheet
from parts.fit.checks.window import PITCH, turn_between


def test_the_pitch():
    assert pytest.approx(11.612903, abs=5e-7) == PITCH
    assert radians(PITCH) * 10.0 == pytest.approx(2.02683, abs=5e-6)


@pytest.mark.parametrize(("window", "pitches"), [(180, 7.75), (270, 15.5), (135, 3.875)])
def test_from_3_oclock_no_other_usual_window_is_a_whole_number_of_steps_away(window, pitches):
    steps, rest = turn_between(90.0, window)
    assert abs(steps * PITCH + rest) / PITCH == pytest.approx(pitches)
    assert abs(rest) > 1.0


@pytest.mark.parametrize(("window", "steps"), [(180, 8), (135, 4)])
def test_a_ring_for_3_oclock_behind_another_window(window, steps):
    """The nearest whole step leaves the numeral a quarter, or an eighth, of a pitch beside the window's middle."""
    found = check_sheet(
        {
            "case": {"stem_angle": 90},
            "dial": {"window": {"angle": window, "radius": 10.0, "radial": 1.6, "tangential": 2.0}},
            "movement": {"date": {"angle": 0, "numeral_radius": 10.0}},
        }
    )
    assert found["date-tilt"].value.value == pytest.approx(steps * PITCH)
    assert found["date-tilt"].verdict == "work"
    assert [remedy.kind for remedy in found["date-tilt"].remedies] == ["part"]
    beside = abs(steps - (window - 90) / PITCH)
    assert found["date-position"].value.value == pytest.approx(radians(beside * PITCH) * 10.0, rel=1e-3)
