"""Machinery's Handbook, 31st edition, Table 5 "Unified Miniature Screw Threads": the fourteen sizes of ASME B1.10M.

They are the sizes of ISO 1501 as well. A crown of one size never passes for another.
"""

from itertools import combinations, pairwise

import pytest

from parts.fit import check_sheet
from parts.fit.checks.threads import MINIATURE

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


PITCHES = (0.080, 0.090, 0.100, 0.100, 0.125, 0.125, 0.150, 0.175, 0.200, 0.225, 0.250, 0.250, 0.250, 0.300)
LEAST = (0.284, 0.333, 0.382, 0.432, 0.479, 0.529, 0.576, 0.673, 0.770, 0.867, 0.964, 1.064, 1.164, 1.358)
"""Least major diameter of an external thread: D - (0.12 p + 0.006), as the table prints it to the third digit."""


def test_the_series_as_the_program_has_it():
    assert tuple(row.diameter for row in MINIATURE) == SIZES
    assert tuple(row.pitch for row in MINIATURE) == PITCHES


@pytest.mark.parametrize(("size", "pitch", "least"), list(zip(SIZES, PITCHES, LEAST, strict=True)))
def test_a_thread_measures_less_than_its_name_down_to_the_least_of_its_limits(size, pitch, least):
    exact = size - (0.12 * pitch + 0.006)
    assert exact == pytest.approx(least, abs=6e-4)
    for measured in (exact, exact - 5e-10, (exact + size) / 2, size, size + 5e-10):
        assert thread(size, measured).verdict == "fits"
        assert thread(size, measured).value.value == 0.0
    assert thread(size, exact - 2e-9).verdict == "work"
    assert thread(size, exact - 2e-9).value.value > 0.01


def test_two_of_the_windows_never_meet():
    for below, above in pairwise(MINIATURE):
        assert below.diameter < above.least


def test_the_other_limits_of_a_0_90_thread():
    """External major diameter 0.867 to 0.900: what is measured as 0.867 is a thread of 0.90."""
    assert thread(0.90, 0.867).verdict == "fits"
    assert thread(0.90, 0.866).verdict == "work"
