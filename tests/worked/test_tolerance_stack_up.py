"""Course page "Tolerance stack-up" (manufacturing education): a pocket of 20.200 with three parts.

Nominal gap 0.200, worst case ±0.35, root sum of squares ±0.18 (0.18248).
"""

import pytest

from parts.fit.arithmetic.quantities import measured


def test_the_published_stack():
    gap = measured("pocket", 20.2, 0.05)
    for name, size, plus_minus in (("a", 6.0, 0.10), ("b", 9.0, 0.12), ("c", 5.0, 0.08)):
        gap = gap - measured(name, size, plus_minus)
    assert gap.value == pytest.approx(0.2)
    assert gap.half_width == pytest.approx(0.35)
    assert gap.rss == pytest.approx(0.18248, abs=5e-6)
    assert gap.shares == pytest.approx({"pocket": 5 / 35, "a": 10 / 35, "b": 12 / 35, "c": 8 / 35})
