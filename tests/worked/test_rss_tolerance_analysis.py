"""Page "RSS tolerance analysis": ten parts of ±0.1 each add up to ±1.0 at worst and ±0.316 as root sum of squares."""

from functools import reduce
from operator import add

import pytest

from parts.fit.arithmetic.quantities import measured


def test_ten_parts():
    total = reduce(add, [measured(f"part {i}", 5.0, 0.1) for i in range(10)])
    assert total.value == pytest.approx(50.0)
    assert total.half_width == pytest.approx(1.0)
    assert total.rss == pytest.approx(0.316, abs=5e-4)


def test_ten_times_the_same_part_is_no_stack_of_ten():
    same = reduce(add, [measured("part", 5.0, 0.1)] * 10)
    assert same.rss == same.half_width == pytest.approx(1.0)
