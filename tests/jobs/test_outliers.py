"""Readings off the line of the others."""

from random import Random

import pytest

from jobs.timing.outliers import outliers

HOUR = 3600.0
TIMES = [12 * i * HOUR for i in range(6)]


def places(offsets, errors=None):
    points = list(zip(TIMES, offsets, strict=False))
    return [outlier.place for outlier in outliers(points, errors or [0.2] * len(points))]


@pytest.mark.parametrize("place", range(5))
def test_the_reading_that_is_off_is_marked_and_no_other(place):
    offsets = [0.1, -0.1, 0.0, 0.15, -0.05]
    offsets[place] += 2.5
    assert places(offsets) == [place]


def test_it_is_told_by_how_much():
    (outlier,) = outliers(list(zip(TIMES, [0.0, 0.0, 3.0, 0.0, 0.0], strict=False)), [0.2] * 5)
    assert outlier.off == pytest.approx(3.0)


@pytest.mark.parametrize("offsets", [[0.1, -0.1, 0.0, 0.15, -0.05, 0.1], [0.0, 3.0, 0.0], [0.0, 3.0], []])
def test_sound_readings_and_too_few_are_not_marked(offsets):
    assert places(offsets) == []


def test_a_reading_that_claims_little_is_not_blamed():
    offsets = [0.0, 0.0, 1.5, 0.0, 0.0]
    assert places(offsets) == [2]
    assert places(offsets, [0.2, 0.2, 1.0, 0.2, 0.2]) == []


@pytest.mark.parametrize(("off", "marked"), [(0.690, []), (0.692, [2])])
def test_the_boundary(off, marked):
    """The chance of 0.01 among five readings lies at 3.090 standard uncertainties, 0.2 sqrt(1 + 1/4) s: at 0.691 s."""
    assert places([0.0, 0.0, off, 0.0, 0.0]) == marked


def test_many_readings_without_a_line_are_not_all_blamed():
    random = Random(5)
    assert places([random.gauss(0.0, 3.0) for _ in TIMES]) == []
