"""Page "Tolerance stack-up analysis": a housing of 4.020 with three parts.

Nominal gap 0.020; worst case ±0.015, so 0.005 to 0.035; root sum of squares ±0.00794, the parts alone ±0.00616.
"""

import pytest

from parts.fit.arithmetic.quantities import measured


def test_the_published_stack():
    parts = measured("a", 2.0, 0.005) + measured("b", 1.5, 0.003) + measured("c", 0.5, 0.002)
    gap = measured("housing", 4.02, 0.005) - parts
    assert (gap.value, gap.half_width) == pytest.approx((0.02, 0.015))
    assert (gap.value - gap.half_width, gap.value + gap.half_width) == pytest.approx((0.005, 0.035))
    assert gap.rss == pytest.approx(0.00794, abs=5e-6)
    assert parts.rss == pytest.approx(0.00616, abs=5e-6)
