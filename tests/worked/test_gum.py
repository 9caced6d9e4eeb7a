"""GUM (JCGM 100:2008), example H.1 and the rules for readings, and the same by an independent library (gtc 1.5.1).

End gauge: l = l_s + d - l_s (d_alpha theta + alpha_s d_theta), lengths in nm, temperatures in degrees Celsius.
"""

from math import floor, inf, sqrt

import GTC
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.dimensions.readings import Tool, take
from parts.dimensions.uncertainty import (
    Component,
    combined,
    expanded,
    of_limit,
    of_mean,
    of_readings,
    of_step,
)

STANDARD = 50.000623e6
BENCH = [2.14, 2.16, 2.15, 2.13, 2.17]


def end_gauge():
    """The components of example H.1, each times its sensitivity: table H.1."""
    difference = combined([Component(5.8, 24), Component(3.9, 5), Component(6.7, 8)])
    expansion, temperature = STANDARD * 0.1 * 0.58e-6, STANDARD * 11.5e-6 * 0.029
    return [Component(25.0, 18), difference, Component(expansion, 50), Component(temperature, 2)]


def test_the_end_gauge_of_example_h1():
    together = combined(end_gauge())
    assert end_gauge()[1].u == pytest.approx(9.7, abs=0.05)
    assert end_gauge()[1].freedom == pytest.approx(25.6, abs=0.2)
    assert together.u == pytest.approx(32, abs=0.5)
    assert floor(together.freedom) == 16
    assert expanded(together, 0.99) / together.u == pytest.approx(2.92, abs=0.005)
    assert expanded(together, 0.99) == pytest.approx(93, abs=0.5)


def test_the_end_gauge_as_the_independent_library_has_it():
    standard = GTC.ureal(STANDARD, 25.0, 18)
    difference = GTC.ureal(215.0, 5.8, 24) + GTC.ureal(0.0, 3.9, 5) + GTC.ureal(0.0, 6.7, 8)
    theta, alpha = GTC.ureal(-0.1, 0.41), GTC.ureal(11.5e-6, 1.2e-6)
    d_alpha, d_theta = GTC.ureal(0.0, 0.58e-6, 50), GTC.ureal(0.0, 0.029, 2)
    length = standard + difference - standard * (d_alpha * theta + alpha * d_theta)
    ours = combined(end_gauge())
    assert length.x == pytest.approx(50.000838e6, abs=1)
    assert ours.u == pytest.approx(length.u, rel=1e-4)
    assert ours.freedom == pytest.approx(length.df, rel=1e-3)


def test_five_readings_by_calliper():
    parts = [of_readings(BENCH), of_limit(0.03), of_step(0.01)]
    together = combined(parts)
    assert parts[0].u == pytest.approx(0.00707, abs=5e-6)
    assert together.u == pytest.approx(0.01893, abs=5e-6)
    assert floor(together.freedom) == 205
    mean, plus_minus = of_mean(BENCH, limit=0.03, step=0.01)
    assert mean == pytest.approx(2.150)
    assert plus_minus == pytest.approx(0.037, abs=5e-4)
    taken = take("2.14 2.16 2.15 2.13 2.17", tool=Tool("Calliper", 0.03, 0.01))
    assert (taken.value, taken.plus_minus) == (2.15, 0.037)


def test_the_bench_readings_as_the_independent_library_has_them():
    theirs = (
        GTC.type_a.estimate(BENCH) + GTC.ureal(0, GTC.type_b.uniform(0.03)) + GTC.ureal(0, GTC.type_b.uniform(0.005))
    )
    ours = combined([of_readings(BENCH), of_limit(0.03), of_step(0.01)])
    assert ours.u == pytest.approx(theirs.u)
    assert ours.freedom == pytest.approx(theirs.df)


@given(
    st.lists(st.floats(0.1, 50), min_size=2, max_size=30),
    st.floats(0.001, 0.5),
    st.floats(0, 0.1),
)
def test_any_readings_as_the_independent_library_has_them(readings, limit, step):
    theirs = GTC.type_a.estimate(readings) + GTC.ureal(0, limit / sqrt(3)) + GTC.ureal(0, step / sqrt(12))
    ours = combined([of_readings(readings), of_limit(limit), of_step(step)])
    assert ours.u == pytest.approx(theirs.u, rel=1e-9)
    if theirs.df < 1e5:
        assert ours.freedom == pytest.approx(theirs.df, rel=1e-6)


@given(st.lists(st.tuples(st.floats(1e-4, 10), st.integers(1, 60)), min_size=1, max_size=8))
def test_together_they_are_never_less_than_the_largest_nor_freer_than_all(pairs):
    parts = [Component(*pair) for pair in pairs]
    together = combined(parts)
    assert max(part.u for part in parts) <= together.u * (1 + 1e-12)
    assert min(freedom for _, freedom in pairs) <= together.freedom * (1 + 1e-9)
    assert together.freedom <= sum(freedom for _, freedom in pairs) * (1 + 1e-9)
    assert expanded(together) >= 1.95 * together.u


def test_nothing_uncertain_is_exact():
    assert combined([Component(0.0), Component(0.0, 3)]) == (0.0, inf)
    assert expanded(Component(0.0)) == 0.0
