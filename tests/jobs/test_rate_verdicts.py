"""The rate against limits, and how long to wait: boundary rows and sums by hand."""

from math import hypot

import pytest

from jobs.rate import NORMAL_T, fit_rate
from jobs.timing.verdicts import LONGEST_WAIT_H, first_wait, judge_rate, limit_of

HOUR = 3600.0
FIT = fit_rate([(0.0, 0.0), (24 * HOUR, 0.5), (48 * HOUR, 1.0)])  # 0.50 ±0.277 s/day


@pytest.mark.parametrize(
    ("low", "high", "word"),
    [
        (-1.0, 1.0, "within"),
        (None, 0.78, "within"),
        (None, 0.77, "wait"),
        (-1.0, 0.23, "wait"),
        (-1.0, 0.22, "outside"),
        (0.78, None, "outside"),
        (None, None, "no limits"),
    ],
)
def test_the_verdict_goes_by_the_interval(low, high, word):
    assert FIT.half_width == pytest.approx(0.2772, abs=1e-4)
    assert judge_rate(FIT, low, high, 48 * HOUR).word == word


def test_one_more_reading_after_the_wait_decides_it():
    wait = judge_rate(FIT, -1.0, 0.6, 48 * HOUR)
    at = 48 + wait.hours
    later = fit_rate([(0.0, 0.0), (24 * HOUR, 0.5), (48 * HOUR, 1.0), (at * HOUR, 0.5 * at / 24)])
    assert later.half_width == pytest.approx(0.1, rel=1e-9)


def test_at_the_limit_itself_no_wait_is_named():
    assert judge_rate(FIT, -1.0, FIT.rate, 48 * HOUR).hours is None
    assert judge_rate(FIT, -1.0, FIT.rate + 1e-4, 48 * HOUR).hours is None


def test_with_three_scattered_readings_the_wait_is_that_of_four():
    """Three readings off any line have one degree of freedom, t 12.7; with the reading waited for two, t 4.3.

    Reckoned with t 12.7 it would be 319 h.
    """
    points = [(0.0, 0.0), (24 * HOUR, -1.2), (48 * HOUR, 0.0)]
    fit = fit_rate(points)
    wait = judge_rate(fit, -1.0, 1.0, 48 * HOUR)
    at = 48 * HOUR + wait.hours * HOUR
    usual = hypot(fit.scale * 0.2, fit.error_at(at))
    assert not fit.agrees
    assert fit_rate([*points, (at, fit.offset_at(at) + usual)]).half_width == pytest.approx(1.0)
    assert wait.hours == pytest.approx(86.06, abs=0.01)


@pytest.mark.parametrize(
    ("low", "high", "limit"),
    [
        (-0.5, 0.5, 0.5),
        (-10.0, 20.0, 15.0),
        (None, 0.7, 0.7),
        (-0.4, None, 0.4),
        (None, None, 1.0),
        (None, 0.0, 1.0),
        (0.0, None, 1.0),
        (0.2, 0.2, 1.0),
    ],
)
def test_the_size_of_the_limits(low, high, limit):
    assert limit_of(low, high) == pytest.approx(limit)


@pytest.mark.parametrize(("half_width", "word"), [(9.99, "within"), (10.01, "early")])
def test_no_rate_before_its_half_width_is_ten_limits(half_width, word):
    hours = NORMAL_T * 0.2 * 2**0.5 / half_width * 24
    fit = fit_rate([(0.0, 0.0), (hours * HOUR, 0.0)])
    assert fit.half_width == pytest.approx(half_width)
    assert judge_rate(fit, -1.0, 1.0, hours * HOUR).word == ("wait" if word == "within" else word)
    assert judge_rate(fit, None, None, hours * HOUR).word == ("no limits" if word == "within" else word)


def test_after_one_tap_it_is_said_when_the_next_tells_a_rate():
    wait = first_wait(0.2, -1.0, 1.0)
    assert wait.word == "early"
    assert wait.hours == pytest.approx(NORMAL_T * 0.2 * 2**0.5 / 10 * 24)
    assert wait.decides == pytest.approx(NORMAL_T * 0.2 * 2**0.5 * 24)
    second = fit_rate([(0.0, 0.0), (wait.hours * HOUR * 1.0001, 0.0)])
    assert judge_rate(second, -1.0, 1.0, wait.hours * HOUR).word == "wait"
    assert judge_rate(fit_rate([(0.0, 0.0), (wait.decides * HOUR * 1.0001, 0.0)]), -1, 1, 0.0).word == "within"


def test_without_limits_no_verdict_is_promised():
    assert first_wait(0.2, None, None).decides is None
    assert first_wait(0.2, None, 1.0).decides is None


def test_a_poor_first_reading_takes_longer():
    assert first_wait(1.0, -1.0, 1.0).hours > 3 * first_wait(0.2, -1.0, 1.0).hours


def test_an_early_rate_says_when_it_will_be_one():
    fit = fit_rate([(0.0, 0.0), (600.0, 0.0)])
    wait = judge_rate(fit, -0.5, 0.5, 600.0)
    at = 600.0 + wait.hours * HOUR
    assert wait.word == "early"
    assert fit_rate([(0.0, 0.0), (600.0, 0.0), (at, 0.0)]).half_width == pytest.approx(5.0)


def test_a_wait_of_more_than_two_months_is_not_named():
    assert first_wait(5.0, -0.001, 0.001).hours is None
    assert LONGEST_WAIT_H == 60 * 24


def test_limits_are_held_against_the_rate_where_it_is_carried_to():
    assert judge_rate(FIT, -1.0, 0.6, 48 * HOUR).word == "wait"
    assert judge_rate(FIT, -1.0, 0.6, 48 * HOUR, shift=-0.2).word == "within"
    assert judge_rate(FIT, -1.0, 0.6, 48 * HOUR, shift=0.5).word == "outside"
