"""Round plates under even pressure against coefficients of the handbooks, and worked values of check-values 16a.

Source: handbook table of circular plates of constant thickness, nu 0.3, y = k q a⁴ / (E t³): k = 0.171 with the edge
held fast, 0.696 with it resting.
"""

import pytest

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.pressure.plate import gives_way, resting
from parts.fit.records.materials import BACKS, CRYSTALS, Material


def bends(bar, across, thickness, material):
    fast = gives_way(Quantity(bar), Quantity(across), Quantity(thickness), material)
    return fast.value, resting(fast, material).value


@pytest.mark.parametrize(("a", "t", "bar", "modulus"), [(100.0, 5.0, 10.0, 200_000.0), (14.0, 0.5, 1.0, 193_000.0)])
def test_coefficients_of_the_handbook(a, t, bar, modulus):
    fast, free = bends(bar, 2 * a, t, Material(modulus, 0.3))
    unit = bar * 0.1 * a**4 / (modulus * t**3)
    assert fast / unit == pytest.approx(0.171, abs=0.0005)
    assert free / unit == pytest.approx(0.696, abs=0.0005)


@pytest.mark.parametrize(
    ("material", "across", "thickness", "fast", "free"),
    [(CRYSTALS["acrylic"], 27.4, 1.5, 0.056, 0.221), (BACKS["steel"], 28.0, 0.5, 0.027, 0.111)],
)
def test_worked_crystal_and_back_at_one_bar(material, across, thickness, fast, free):
    assert bends(1.0, across, thickness, material) == pytest.approx((fast, free), abs=0.0005)
