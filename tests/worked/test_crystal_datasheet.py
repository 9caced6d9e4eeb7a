"""Component datasheet 008-0353-0 rev C, tuning-fork crystal: parabola of frequency over temperature, worked example."""

import pytest

from jobs.rate import PPM_S_PER_DAY, crystal_ppm


def test_the_datasheets_worked_example():
    assert crystal_ppm(45.0, coefficient=-0.030, turnover=25.0) == pytest.approx(-12.0, abs=1e-9)


def test_a_clock_chip_makers_conservative_coefficient():
    """Formula of a semiconductor maker's clock calculator: ppm = -0.042 (25 - T)^2."""
    assert crystal_ppm(45.0, coefficient=-0.042) == pytest.approx(-16.8)
    assert crystal_ppm(45.0, coefficient=-0.042) * PPM_S_PER_DAY == pytest.approx(-1.4515, abs=1e-4)


@pytest.mark.parametrize(
    ("temperature", "ppm", "rate"),
    [(0, -21.25, -1.8360), (8, -9.826, -0.8490), (15, -3.4, -0.2938), (23, -0.136, -0.0118), (38, -5.746, -0.4965)],
)
def test_the_parabola_at_the_temperatures_of_a_chronometer_test(temperature, ppm, rate):
    assert crystal_ppm(temperature) == pytest.approx(ppm, abs=5e-4)
    assert crystal_ppm(temperature) * PPM_S_PER_DAY == pytest.approx(rate, abs=5e-5)
