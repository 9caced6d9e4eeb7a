"""Thousands of invented runs: how often the interval holds the true rate, and whether the hours told are needed."""

from random import Random
from statistics import quantiles

import pytest

from jobs.rate import DAY_S, fit_rate
from jobs.timing.outliers import IMPROBABLE, outliers
from jobs.timing.verdicts import judge_rate

pytestmark = pytest.mark.long

HOUR = 3600.0
RATE = 0.3
ERRORS = [0.2, 0.35, 0.2, 0.58, 0.2, 0.2, 0.35, 0.2, 0.2]


def a_run(random, count, *, rate=RATE, times_claimed=1.0, every_h=12.0, errors=ERRORS):
    times = [i * every_h * HOUR for i in range(count)]
    points = [
        (time, random.gauss(rate * time / DAY_S, times_claimed * error))
        for time, error in zip(times, errors, strict=False)
    ]
    return points, errors[:count]


def coverage(count, **how):
    random = Random(count)
    fits = [fit_rate(*a_run(random, count, **how)) for _ in range(6000)]
    return sum(abs(fit.rate - RATE) <= fit.half_width for fit in fits) / len(fits)


@pytest.mark.parametrize("count", [2, 3, 4, 5, 9])
def test_the_interval_holds_the_rate_95_times_in_100(count):
    """Up to 0.97: scatter that chance makes wide widens it, scatter that chance makes small does not narrow it."""
    assert 0.94 <= coverage(count) <= 0.975


@pytest.mark.parametrize(("count", "least"), [(3, 0.78), (5, 0.87), (9, 0.92)])
def test_readings_twice_as_poor_as_they_claim_are_seen_through_with_their_number(count, least):
    assert coverage(count, times_claimed=2.0) >= least


@pytest.mark.parametrize("count", [4, 5, 9])
def test_sound_runs_show_an_outlier_about_once_in_a_hundred(count):
    random = Random(count)
    marked = sum(bool(outliers(*a_run(random, count))) for _ in range(4000)) / 4000
    assert 0.3 * IMPROBABLE <= marked <= 1.5 * IMPROBABLE


@pytest.mark.parametrize("count", [5, 9])
def test_a_tap_two_seconds_off_is_marked_and_it_alone(count):
    random, right = Random(count), 0
    for _ in range(1500):
        points, errors = a_run(random, count, errors=[0.2] * 9)
        place = random.randrange(count)
        points[place] = (points[place][0], points[place][1] + 2.0)
        right += [outlier.place for outlier in outliers(points, errors)] == [place]
    assert right / 1500 > 0.9


def hours_needed(points, errors, limit, offset_at):
    """The least hours, to 5 %, after which one more tap decides; `offset_at` tells where it falls."""
    hours, last = 0.05, points[-1][0]
    while hours < 4000:
        at = last + hours * HOUR
        fit = fit_rate([*points, (at, offset_at(at))], [*errors, 0.2])
        if judge_rate(fit, -limit, limit, at).word in ("within", "outside"):
            return hours
        hours *= 1.05
    return hours


def told_by_needed(count, limit, *, stays):
    """Quantiles of the hours told by those needed, and of the whole run's length so told by that needed.

    The rate stays as the run has it, or is what it truly was.
    """
    random, hours, runs = Random(count), [], []
    while len(hours) < 500:
        points, errors = a_run(random, count, every_h=8.0, errors=[0.2] * 9)
        fit = fit_rate(points, errors)
        verdict = judge_rate(fit, -limit, limit, points[-1][0])
        if verdict.word != "wait" or verdict.hours is None or verdict.hours < 1:
            continue
        slip, past = random.gauss(0.0, 0.2), points[-1][0] / HOUR
        line = fit.offset_at if stays else (lambda at: RATE * at / DAY_S)
        needed = hours_needed(points, errors, limit, lambda at, line=line, slip=slip: line(at) + slip)
        hours.append(verdict.hours / needed)
        runs.append((past + verdict.hours) / (past + needed))
    return quantiles(hours, n=10), quantiles(runs, n=10)


@pytest.mark.parametrize("count", [2, 3, 4, 6])
def test_the_hours_told_are_those_needed_if_the_rate_stays(count):
    hours, runs = told_by_needed(count, 0.6, stays=True)
    assert 0.85 <= hours[4] <= 1.2
    assert hours[0] >= 0.4
    assert runs[0] >= 0.6
    assert runs[8] <= 1.8


@pytest.mark.parametrize("count", [2, 3, 4])
def test_the_hours_told_are_right_in_the_middle_for_the_true_rate(count):
    """The run's rate is not yet the true one, or there would be nothing to wait for: half of all lie on either side."""
    _, runs = told_by_needed(count, 0.6, stays=False)
    assert 0.7 <= runs[4] <= 1.5
