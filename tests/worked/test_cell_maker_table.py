"""A cell maker's public table of silver-oxide cells (1.55 V; 20 degrees C, to 1.2 V), and 8766 hours to a year.

Hours are 1000 mAh / uA; a month is a twelfth of a year of 365.25 days, 730.5 hours.
"""

import pytest

from parts.fit import check_sheet


@pytest.mark.parametrize(
    ("capacity", "current", "hours", "months"),
    [(45, 1.5, 30_000, 41.07), (30, 1.25, 24_000, 32.85), (24, 1.5, 16_000, 21.90)],
)
def test_life_of_a_cell(capacity, current, hours, months):
    found = check_sheet({"movement": {"cell_capacity": capacity, "current": current}})["cell-life"]
    assert found.value.value == pytest.approx(months, abs=0.005)
    assert found.value.value * 730.5 == pytest.approx(hours)
    assert found.value.value / 12 == pytest.approx(hours / 8766)


def test_the_low_drain_and_the_high_drain_cell_of_one_size_last_differently():
    low, high = (check_sheet({"movement": {"cell_capacity": mah, "current": 1.5}})["cell-life"] for mah in (45, 39))
    assert high.value.value / low.value.value == pytest.approx(39 / 45)
