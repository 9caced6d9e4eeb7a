"""Chi-squared, against scipy."""

import pytest
from scipy import stats

from jobs.chi_squared import probability_beyond


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 7, 10, 29, 200])
@pytest.mark.parametrize("chi_squared", [0.0, 0.01, 1.0, 3.84, 12.0, 60.0, 250.0])
def test_it_agrees_with_scipy(freedom, chi_squared):
    assert probability_beyond(chi_squared, freedom) == pytest.approx(
        stats.chi2.sf(chi_squared, freedom), rel=1e-9, abs=1e-15
    )
