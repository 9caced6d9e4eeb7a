"""Machinery's Handbook, 31st edition, Table 5 "Unified Miniature Screw Threads": the fourteen sizes of ASME B1.10M.

They are the sizes of ISO 1501 as well. A crown of one size never passes for another.
"""

from itertools import combinations

import pytest

from parts.fit import check_sheet

SIZES = (0.30, 0.35, 0.40, 0.45, 0.50, 0.55, 0.60, 0.70, 0.80, 0.90, 1.00, 1.10, 1.20, 1.40)


def thread(crown, movement):
    return check_sheet({"crown": {"thread": crown}, "movement": {"stem_thread": movement}})["stem-thread"]


@pytest.mark.parametrize("size", SIZES)
def test_each_size_suits_itself(size):
    assert thread(size, size).verdict == "fits"


@pytest.mark.parametrize(("crown", "movement"), list(combinations(SIZES, 2)))
def test_no_size_suits_another(crown, movement):
    assert {thread(crown, movement).verdict, thread(movement, crown).verdict} == {"work"}


def test_a_crown_for_0_90_on_a_stem_of_1_20():
    found = thread(0.90, 1.20)
    assert found.value.value == pytest.approx(-0.30)
    assert [remedy.kind for remedy in found.remedies] == ["part"]


def test_a_thread_at_the_least_of_its_limits_is_told_apart_from_the_nominal():
    """The major diameter of a 0.90 thread may be 0.867: entered as measured it does not pass for 0.90."""
    assert thread(0.90, 0.867).verdict == "work"
