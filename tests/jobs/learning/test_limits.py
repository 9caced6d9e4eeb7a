"""The limit that outcomes tell: held against a maximum-likelihood fit, and against simulated shops of known limits."""

import numpy as np
import pytest
from scipy.optimize import minimize

from jobs.learning.limits import limit_of


def shop(generator, *, limit, spread, jobs, fits_above=True):
    """Values about a limit, and how they turned out at a bench whose hand varies by the spread (a logistic one)."""
    values = limit + generator.uniform(-0.15, 0.15, jobs)
    towards = (values - limit) if fits_above else (limit - values)
    return values, generator.logistic(0, spread, jobs) < towards


@pytest.mark.parametrize("fits_above", [True, False])
def test_the_known_limit_lies_in_the_range_nine_times_in_ten(fits_above):
    generator, inside, estimated = np.random.default_rng(26), 0, 0
    for _ in range(300):
        limit = generator.uniform(0.05, 0.3)
        spread, jobs = generator.uniform(0.005, 0.05), int(generator.integers(10, 40))
        values, well = shop(generator, limit=limit, spread=spread, jobs=jobs, fits_above=fits_above)
        if estimate := limit_of(values, well, fits_above=fits_above):
            estimated += 1
            inside += estimate.low <= limit <= estimate.high
    assert estimated > 280
    assert 0.86 <= inside / estimated <= 0.95


def test_with_many_outcomes_it_agrees_with_the_most_likely_one():
    values, well = shop(np.random.default_rng(7), limit=0.12, spread=0.03, jobs=4000)

    def against(p):
        steps = (values - p[0]) / np.exp(p[1])
        return np.logaddexp(0, np.where(well, -steps, steps)).sum()

    likely = minimize(against, [0.1, np.log(0.02)], method="Nelder-Mead").x[0]
    assert limit_of(values, well, fits_above=True).value == pytest.approx(likely, abs=0.002)


def test_the_more_outcomes_the_narrower_the_range():
    widths = []
    for jobs in (10, 40, 400):
        estimate = limit_of(*shop(np.random.default_rng(3), limit=0.1, spread=0.03, jobs=jobs), fits_above=True)
        widths.append(estimate.high - estimate.low)
    assert widths == sorted(widths, reverse=True)


def test_outcomes_that_part_cleanly_put_the_limit_between_them():
    estimate = limit_of([0.02, 0.04, 0.06, 0.10, 0.12, 0.14], [False] * 3 + [True] * 3, fits_above=True)
    assert estimate.value == pytest.approx(0.08, abs=0.005)
    assert 0.04 < estimate.low < 0.08 < estimate.high < 0.12
    turned = limit_of([0.02, 0.04, 0.06, 0.10, 0.12, 0.14], [True] * 3 + [False] * 3, fits_above=False)
    assert turned == pytest.approx(estimate)


@pytest.mark.parametrize("well", [[True] * 12, [False] * 12, []])
def test_outcomes_all_alike_tell_no_limit(well):
    assert limit_of([0.1] * len(well), well, fits_above=True) is None


def test_one_value_with_both_outcomes_is_no_fault():
    estimate = limit_of([0.1] * 12, [True, False] * 6, fits_above=True)
    assert estimate.low < 0.1 < estimate.high
