"""STAT 498B lecture notes (University of Washington, 2007): statistical tolerancing is for series, not single pieces.

So a verdict goes by the worst case, and the root sum of squares only stands beside it.
"""

import pytest

from parts.fit import check_sheet


def test_the_worst_case_decides_where_the_root_sum_of_squares_would_not():
    """Gap 0.05 from four numbers of ±0.02: at worst it is -0.03, by root sum of squares still 0.01."""
    sheet = {
        "case": {"back_depth": [4.05, 0.02], "stem_axis_depth": 2.3},
        "dial": {"thickness": [0.4, 0.02]},
        "movement": {"stem_axis_depth": 1.6, "back_height": [3.3, 0.02]},
    }
    found = check_sheet(sheet)["back-gap"]
    assert found.value.value == pytest.approx(0.05)
    assert found.value.rss == pytest.approx(0.04)
    assert found.low == pytest.approx(-0.03)
    assert found.verdict == "unclear"
