"""Handbook of Mathematical Functions (AMS 55), table 2.4: standard gravity 9.80665 m/s2, exact.

A milligram at a millimetre turns its axis with 0.00980665 uN.m. Example: a rectangular minute hand of brass, 0.12 x 0.8
x 12 mm at 8.5 mg/mm3, with its axis at one end: 9.792 mg, centre at 6 mm, 58.752 mg.mm, 0.57616 uN.m.
"""

import pytest

from parts.fit import check_sheet
from parts.fit.checks.hands import GRAVITY


def unbalance(mass, centre, limit=1.0):
    hands = {"minute": {"mass": mass, "centre_of_mass": centre}}
    return check_sheet({"hands": hands, "movement": {"unbalance_limits": {"minute": limit}}})["unbalance-minute"]


def test_the_constant():
    assert GRAVITY == 9.80665


def test_a_milligram_at_a_millimetre():
    assert unbalance(1.0, 1.0).value.value == pytest.approx(0.00980665, abs=1e-15)


def test_the_minute_hand_of_brass():
    mass = 8.5 * 0.12 * 0.8 * 12
    assert mass == pytest.approx(9.792)
    assert mass * 6.0 == pytest.approx(58.752)
    found = unbalance(mass, 12 / 2)
    assert found.value.value == pytest.approx(0.57616, abs=5e-6)
    assert found.unit == "uN·m"
    assert found.verdict == "fits"
    assert unbalance(mass, 6.0, limit=0.57).verdict == "no"
