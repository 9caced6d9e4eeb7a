"""Rates in s/day, s/month and ppm: "The accuracy and stability of quartz watches" (2008), df/f = dt/T."""

import pytest

from jobs.rate import MONTH_DAYS, PPM_S_PER_DAY, fit_rate

DAY = 86_400.0


def test_half_a_second_a_day_is_fifteen_seconds_in_thirty_days():
    fit = fit_rate([(0.0, 0.0), (30 * DAY, 15.0)])
    assert fit.rate == pytest.approx(0.5)
    assert fit.ppm == pytest.approx(5.787, abs=5e-4)


def test_a_crystal_half_a_cycle_fast():
    """32 768.5 Hz in place of 32 768 Hz: 15.2588 ppm, 1.31836 s/day."""
    gained = 0.5 / 32_768 * DAY
    fit = fit_rate([(0.0, 0.0), (DAY, gained)])
    assert fit.rate == pytest.approx(1.31836, abs=1e-5)
    assert fit.ppm == pytest.approx(15.2588, abs=1e-4)


def test_one_ppm():
    assert pytest.approx(8.64) == 100 * PPM_S_PER_DAY
    assert pytest.approx(2.6298) == PPM_S_PER_DAY * MONTH_DAYS
