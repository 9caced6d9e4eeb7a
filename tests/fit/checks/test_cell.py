"""Cell life: hours = 1000 mAh / uA, months of 730.5 hours."""

import pytest

from tests.fit.sheets import judged, kinds, report

YEAR = 12 * 730.5 * 1.5 / 1000
"""mAh that last 12 months at 1.5 uA: 13.149."""


@pytest.mark.parametrize(
    ("capacity", "value", "verdict", "remedies"),
    [
        (YEAR - 0.01, 12 - 0.01 / 1.09575, "work", ["accept"]),
        (YEAR, 12.0, "fits", []),
        (YEAR + 0.01, 12 + 0.01 / 1.09575, "fits", []),
        ([13.2, 0.1], 13.2 / 1.09575, "work", ["accept"]),
        (45, 41.0678, "fits", []),
    ],
)
def test_months_that_a_cell_lasts(capacity, value, verdict, remedies):
    found = judged("cell-life", {"movement.cell_capacity": capacity})
    assert found.value.value == pytest.approx(value, abs=1e-4)
    assert (found.verdict, kinds(found), found.must, found.unit) == (verdict, remedies, False, "months")


def test_a_quotients_interval():
    """40/2: by capacity 1/2, by current -40/4 = -10; months are 1000/730.5 of that."""
    found = judged("cell-life", {"movement.cell_capacity": [40, 2], "movement.current": [2, 0.1]})
    assert found.value.half_width == pytest.approx((2 / 2 + 10 * 0.1) * 1000 / 730.5)
    assert found.value.rss == pytest.approx(2**0.5 * 1000 / 730.5)


@pytest.mark.parametrize("path", ["movement.cell_capacity", "movement.current"])
def test_a_watch_without_the_numbers_is_not_held_back(path):
    found = report({path: None})
    assert (found["cell-life"].verdict, found["cell-life"].missing) == ("unclear", (path,))
    assert found.verdict == "work"
    assert path not in dict(found.measure_next)
