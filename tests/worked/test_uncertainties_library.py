"""Python library uncertainties 3.2.3: 40 ±0.10 less 25 ±0.05, 2 ±0.03 and 10 ±0.05 is 3.00 with 0.1261."""

import pytest

from parts.fit.arithmetic.quantities import measured


def test_the_same_difference():
    gap = measured("bore", 40.0, 0.1) - measured("a", 25.0, 0.05) - measured("b", 2.0, 0.03) - measured("c", 10.0, 0.05)
    assert gap.value == pytest.approx(3.0)
    assert gap.rss == pytest.approx(0.1261, abs=5e-5)
    assert gap.half_width == pytest.approx(0.23)
