"""Optics handbook page "Sag": SAG = R - sqrt(R^2 - (D/2)^2), with figures worked out from it.

The parabola D^2/(8R) is often used instead; it is off by up to a tenth at the depths of a watch crystal.
"""

import pytest

from parts.fit import check_sheet
from parts.fit.arithmetic.dome import sagitta

FIGURES = [(100, 30, 1.131400), (40, 28, 2.530012), (25, 30, 5.0), (50, 30, 2.303040)]


@pytest.mark.parametrize(("radius", "chord", "sag"), FIGURES)
def test_the_sag_of_a_chord(radius, chord, sag):
    assert sagitta(radius, chord / 2) == pytest.approx(sag, abs=5e-7)


@pytest.mark.parametrize(("radius", "chord", "sag"), FIGURES)
def test_the_parabola_is_not_taken_for_it(radius, chord, sag):
    assert abs(chord**2 / (8 * radius) - sagitta(radius, chord / 2)) > 0.005


def test_a_crystal_cut_from_the_15_20_25_triangle():
    """Centre gap 6, edge gap 1 at 15: a sphere of 25. At 7 from the centre it has fallen by 25 - 24 = 1, to 5."""
    hand = {"length": 7.0, "tail": 1.0, "thickness": 0.1, "hub_height": 0.1}
    found = check_sheet(
        {
            "case": {
                "stem_axis_depth": 2.0,
                "crystal_gap_centre": 6.0,
                "crystal_gap_edge": 1.0,
                "crystal_edge_radius": 15.0,
            },
            "dial": {"thickness": 0.4},
            "movement": {"stem_axis_depth": 1.6, "posts": {"hour": {"height": 1.4}, "minute": {"height": 2.4}}},
            "hands": {"hour": hand, "minute": hand},
        }
    )
    assert found["gap-crystal"].value.value == pytest.approx(5.0 - (2.4 - 0.4))
