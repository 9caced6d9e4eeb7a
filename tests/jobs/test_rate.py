"""The rate of a watch, against scipy's regression and by hand."""

from math import inf

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats
from scipy.optimize import curve_fit

from jobs.rate import at_wrist, fit_rate, tap_offset
from parts.tools.statistics.student_t import central_probability, t_factor

HOUR = 3600.0
numbers = st.floats(-30, 30, allow_nan=False).map(lambda x: round(x, 3))


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 7, 10, 29, 30, 200])
@pytest.mark.parametrize("confidence", [0.5, 0.9, 0.95, 0.99])
def test_students_factor_agrees_with_scipy(freedom, confidence):
    assert t_factor(confidence, freedom) == pytest.approx(stats.t.ppf((1 + confidence) / 2, freedom), rel=1e-9)


def test_without_end_of_readings_the_factor_is_the_normal_one():
    assert t_factor(0.95, inf) == pytest.approx(1.959964, abs=1e-6)
    assert central_probability(1.0, 1) == pytest.approx(0.5)


@given(st.lists(numbers, min_size=3, max_size=25), st.floats(0.2, 12))
def test_the_line_and_its_error_agree_with_scipy(offsets, spacing):
    assume(len(set(offsets)) > 1)
    points = [(i * spacing * HOUR, offset) for i, offset in enumerate(offsets)]
    ours = fit_rate(points)
    theirs = stats.linregress([time for time, _ in points], offsets)
    assert ours.rate == pytest.approx(theirs.slope * 86_400, rel=1e-7, abs=1e-6)
    assert ours.slope_error == pytest.approx(theirs.stderr * 86_400, rel=1e-5, abs=1e-4)
    assert ours.offset_at(0.0) == pytest.approx(theirs.intercept, rel=1e-7, abs=1e-6)


def test_the_interval_is_scipys_where_the_scatter_is_wider_than_the_reading():
    points = [(0.0, 0.0), (6 * HOUR, 3.1), (12 * HOUR, 1.4), (18 * HOUR, 5.2), (24 * HOUR, 4.0)]
    ours = fit_rate(points)
    theirs = stats.linregress(*zip(*points, strict=True))
    assert ours.half_width == pytest.approx(stats.t.ppf(0.975, 3) * theirs.stderr * 86_400)


ERRORS = [0.2, 0.35, 0.2, 0.58, 0.2, 1.2]
TIMES = [0.0, 5 * HOUR, 12 * HOUR, 20 * HOUR, 31 * HOUR, 48 * HOUR]


def scipys(offsets, **options):
    """Rate and its standard error in s/day by scipy's weighted regression."""
    days = [time / 86_400 for time in TIMES]
    best, covariance = curve_fit(lambda x, a, b: a + b * x, days, offsets, sigma=ERRORS, **options)
    return best[1], covariance[1][1] ** 0.5


@pytest.mark.parametrize("offsets", [[0.1, 0.0, 0.4, 0.1, 0.7, 2.2], [0.1, 0.6, -0.1, 0.9, 0.5, -0.4]])
def test_readings_of_unequal_uncertainty_are_weighted_as_scipy_does(offsets):
    ours = fit_rate(list(zip(TIMES, offsets, strict=True)), ERRORS)
    by_claims, by_scatter = scipys(offsets, absolute_sigma=True), scipys(offsets, absolute_sigma=False)
    assert ours.rate == pytest.approx(by_claims[0], rel=1e-6)
    assert ours.slope_error == pytest.approx(by_scatter[1], rel=1e-6)
    assert ours.agrees
    assert ours.half_width == pytest.approx(stats.norm.ppf(0.975) * max(by_claims[1], by_scatter[1]), rel=1e-6)


def test_scatter_that_the_claims_do_not_explain_counts_with_its_own_freedom():
    offsets = [0.1, 1.4, -0.9, 1.1, 2.4, -0.4]
    ours = fit_rate(list(zip(TIMES, offsets, strict=True)), ERRORS)
    assert stats.chi2.sf(ours.rests, 4) < 0.05
    assert not ours.agrees
    assert ours.half_width == pytest.approx(stats.t.ppf(0.975, 4) * scipys(offsets, absolute_sigma=False)[1], rel=1e-6)


@pytest.mark.parametrize(("third", "agrees"), [(0.959, True), (0.961, False)])
def test_three_readings_disagree_from_five_in_a_hundred_on(third, agrees):
    """Off the line by 1.96 of its standard uncertainty 0.2 sqrt(6): chi-squared 3.84 with one degree of freedom."""
    ours = fit_rate([(0.0, third), (12 * HOUR, 0.0), (24 * HOUR, 0.0)])
    assert (ours.agrees, ours.freedom) == (agrees, inf if agrees else 1)


def test_one_poor_reading_does_not_spoil_the_run():
    times = [12 * i * HOUR for i in range(5)]
    sure = fit_rate([(time, 0.0) for time in times])
    with_poor = fit_rate([(time, 0.0) for time in [*times, 60 * HOUR]], [0.2] * 5 + [5.0])
    all_poor = fit_rate([(time, 0.0) for time in [*times, 60 * HOUR]], 5.0)
    assert with_poor.half_width < sure.half_width
    assert with_poor.half_width < all_poor.half_width / 10


def test_readings_that_lie_on_a_line_are_no_surer_than_a_tap():
    ours = fit_rate([(0.0, 0.0), (12 * HOUR, 0.25), (24 * HOUR, 0.5)])
    assert ours.rate == pytest.approx(0.5)
    assert ours.scale == 1.0
    assert ours.half_width == pytest.approx(1.959964 * 0.2 / (12 * HOUR * 2**0.5) * 86_400, rel=1e-5)


def test_two_readings_give_a_rate_with_the_taps_own_uncertainty():
    ours = fit_rate([(0.0, 1.0), (24 * HOUR, 1.5)])
    assert ours.rate == pytest.approx(0.5)
    assert ours.slope_error is None
    assert ours.half_width == pytest.approx(1.959964 * 0.2 * 2**0.5, rel=1e-5)


@pytest.mark.parametrize("points", [[], [(0.0, 1.0)], [(5.0, 1.0), (5.0, 1.2)]])
def test_too_little_gives_no_rate(points):
    assert fit_rate(points) is None


def test_month_and_ppm():
    ours = fit_rate([(0.0, 0.0), (24 * HOUR, 0.5)])
    assert ours.per_month == pytest.approx(15.21875)
    assert ours.ppm == pytest.approx(5.787037, abs=1e-6)


def test_the_wrist_is_warmer_than_the_bench():
    assert at_wrist(0.5, 20.0, 30.0) == pytest.approx(0.5)
    assert at_wrist(0.5, 25.0, 45.0, coefficient=-0.03) == pytest.approx(0.5 - 12 * 0.0864)


@pytest.mark.parametrize(
    ("seconds", "expected", "offset"),
    [(59.7, 0.0, 0.3), (0.4, 0.0, -0.4), (25.0, -20.0, -25.0), (25.0, 40.0, 35.0), (10.0, 110.0, 110.0)],
)
def test_a_tap_tells_the_offset_up_to_whole_minutes(seconds, expected, offset):
    assert tap_offset(seconds, expected) == pytest.approx(offset)
