"""JCGM 101:2008, 9.2.3: the sum of four rectangular quantities, each of mean 0 and standard deviation 1.

The 95 % interval is ±3.88 (closed form: (4 sqrt(3) - y)^4 = 0.025 * 24 * 144, y = 3.8794); the linear rule says ±3.92.
"""

from math import sqrt

import numpy as np
import pytest

from parts.fit.arithmetic.quantities import Quantity
from parts.trials.chance import draw

TRIALS = 1_000_000


def test_the_closed_form():
    y = 4 * sqrt(3) - (0.025 * 24 * 144) ** 0.25
    assert y == pytest.approx(3.8794, abs=5e-5)


def test_the_programs_own_draw_finds_the_interval():
    chance = np.random.default_rng(101)
    total = sum(draw(Quantity(0.0), sqrt(3), chance, TRIALS) for _ in range(4))
    assert total.std() == pytest.approx(2.0, abs=0.01)
    low, high = np.quantile(total, [0.025, 0.975])
    assert (-low, high) == pytest.approx((3.88, 3.88), abs=0.015)
    assert high < 1.96 * 2.0 - 0.02


def test_one_draw_is_rectangular():
    column = draw(Quantity(5.0), 0.3, np.random.default_rng(1), TRIALS)
    assert (column.min(), column.max()) == pytest.approx((4.7, 5.3), abs=1e-4)
    assert column.std() == pytest.approx(0.3 / sqrt(3), rel=0.01)
    shares, _ = np.histogram(column, bins=6, range=(4.7, 5.3))
    assert shares / TRIALS == pytest.approx(np.full(6, 1 / 6), abs=0.003)
