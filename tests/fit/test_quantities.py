"""Worst case, root sum of squares and shares, carried through the arithmetic."""

from math import sqrt

import pytest

from parts.fit.arithmetic.quantities import (
    Quantity,
    greatest,
    least,
    measured,
    missing_of,
    product,
    quotient,
    through,
    unknown,
)
from tests.fit.sheets import judged

A, B = measured("a", 5.0, 0.3), measured("b", 2.0, 0.4)


@pytest.mark.parametrize(
    ("value", "nominal", "worst", "rss"),
    [
        (A + B, 7.0, 0.7, 0.5),
        (A - B, 3.0, 0.7, 0.5),
        (A + 1.0, 6.0, 0.3, 0.3),
        (A - 1.0, 4.0, 0.3, 0.3),
        (2.0 * A - B, 8.0, 1.0, sqrt(0.52)),
        (A - A, 0.0, 0.0, 0.0),
        (A + B - A, 2.0, 0.4, 0.4),
        (product(A, B), 10.0, 0.6 + 2.0, sqrt(0.36 + 4.0)),
        (quotient(A, B), 2.5, 0.15 + 0.5, sqrt(0.15**2 + 0.5**2)),
        (Quantity(3.0), 3.0, 0.0, 0.0),
    ],
)
def test_arithmetic(value, nominal, worst, rss):
    assert (value.value, value.half_width, value.rss) == pytest.approx((nominal, worst, rss), abs=1e-12)


def test_shares_are_of_the_worst_case_and_add_up():
    assert (A - B).shares == pytest.approx({"a": 3 / 7, "b": 4 / 7})
    assert measured("a", 1.0).shares == {"a": 0.0}


def test_shares_name_the_inputs_of_a_check_that_have_no_uncertainty():
    found = judged("dial-seat", {"case.dial_seat_diameter": [28.6, 0.05]})
    assert found.value.shares == {"case.dial_seat_diameter": 1.0, "dial.diameter": 0.0}


def test_rss_stands_beside_the_worst_case_and_does_not_decide():
    found = judged("dial-seat", {"case.dial_seat_diameter": [28.6, 0.05], "dial.diameter": [28.5, 0.05]})
    assert (found.low, found.high) == pytest.approx((0.0, 0.2))
    assert found.value.rss == pytest.approx(0.05 * sqrt(2))
    assert found.verdict == "work"


def test_an_interval_may_reach_below_zero():
    assert judged("case-bore", {"case.bore_diameter": [28.7, 0.2]}).low == pytest.approx(-0.15)


def test_a_distance_has_no_interval_below_zero():
    found = judged("date-position", {"movement.date.numeral_radius": [10.1, 0.2]})
    assert (found.low, found.high) == pytest.approx((0.0, 0.3))


def test_missing_is_carried_and_named_once():
    lost = unknown("x")
    for value in (A + lost, lost + A, lost - A, 2.0 * lost, lost + 1.0, product(A, lost), quotient(lost, A)):
        assert (value.value, value.missing) == (None, ("x",))
    assert missing_of(lost, unknown("y", "x"), A) == ("x", "y")
    assert through(lambda x, y: x, (1.0, lost), (1.0, unknown("y"))).missing == ("x", "y")


def test_least_and_greatest():
    assert least(A, B) is B
    assert greatest(A, B) is A
    wide = measured("w", 2.0, 0.9)
    assert least(B, wide) is wide
    assert greatest(B, wide) is wide
    assert least(A, unknown("x")).missing == ("x",)
    assert greatest(A, unknown("x")).missing == ("x",)
