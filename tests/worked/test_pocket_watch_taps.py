"""Trade magazine, June 1945: old pocket-watch stem taps in inches; one inch is 25.4 mm (AMS 55, table 2.5).

0.048 in is 1.219 mm at 110 turns an inch: near 1.20 mm, but another thread.
"""

import pytest

from parts.fit import check_sheet

INCH = 25.4


def test_0_048_inch_is_not_1_20_mm():
    found = check_sheet({"crown": {"thread": 1.20}, "movement": {"stem_thread": 0.048 * INCH}})["stem-thread"]
    assert found.value.value == pytest.approx(-0.0192)
    assert found.verdict == "work"


@pytest.mark.parametrize("inch", [0.091, 0.077, 0.061, 0.048])
@pytest.mark.parametrize("metric", [0.80, 0.90, 1.00, 1.10, 1.20, 1.40])
def test_none_of_them_passes_for_a_metric_size(inch, metric):
    found = check_sheet({"crown": {"thread": metric}, "movement": {"stem_thread": inch * INCH}})["stem-thread"]
    assert found.verdict == "work"
