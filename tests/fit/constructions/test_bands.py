"""The bands of the checks that other constructions have, at each of their edges."""

from copy import deepcopy

import pytest

from parts.fit import check_sheet
from tests.fit.checks.test_bands import ACCEPT, FITS, NO, ORDER, PART, WORK
from tests.fit.constructions.sheets import CARRIED, DAY, FRONT, RECTANGLE, RIM, SMALL, SPLIT, TENSION
from tests.fit.sheets import kinds, sheet


def outline(path, key, size):
    """An outline of the rectangular sheet with one side changed by twice a distance all round."""
    own = RECTANGLE[path]
    return {path: own | {key: own[key] + size, "width" if key == "height" else "height": 40.0}}


BANDS = [
    ("stem-height", FRONT, lambda v: {"case.floor_stem": 1.9 + v}, [NO, -0.1, FITS, 0.1, PART]),
    ("stem-height", CARRIED, lambda v: {"movement.ring_rise": 0.5 + v}, [NO, -0.1, FITS, 0.1, PART]),
    ("back-gap", CARRIED, lambda v: {"case.back_depth": 3.0 + v}, [NO, 0.0, WORK, 0.1, FITS]),
    ("ring-gap", FRONT, lambda v: {"case.floor_ring": 3.9 + v}, [NO, 0.0, FITS, 0.05, PART]),
    ("ring-gap", TENSION, lambda v: {"case.floor_ring": 3.9 + v}, [NO, -0.15, FITS, -0.02, PART]),
    ("front-opening", FRONT, lambda v: {"case.front_opening_diameter": 28.65 + v}, [NO, 0.0, WORK, 0.02, FITS]),
    ("joint-clear", SPLIT, lambda v: {"stem.joint.inner_length": 10.35 - v}, [NO, 0.0, WORK, 0.1, FITS]),
    ("stem-length", SPLIT, lambda v: {"stem.joint.outer_length": 5.95 + v}, [PART, -0.05, FITS, 0.1, WORK]),
    ("tip-clearance", RIM, lambda v: {"hands.seconds.length": 12.4 + 0.2 / 3 - v}, [NO, 0.1, WORK, 0.2, FITS]),
    ("sub-place", SMALL, lambda v: {"dial.subdials.0.radius": 5.0 + v}, [FITS, 0.1, WORK, 0.2, NO]),
    ("sub-post", SMALL, lambda v: {"hands.subsidiary.small seconds.hole_diameter": 0.25 + v}, [FITS, 0.0, WORK]),
    (
        "sub-gap",
        SMALL | {"hands.subsidiary.small seconds.length": 0.5, "rules": {"grip_min": 5.0}},
        lambda v: {"hands.subsidiary.small seconds.hub_height": 0.7 - v},
        [NO, 0.05, WORK, 0.15, FITS],
    ),
    ("day-position", DAY, lambda v: {"dial.day_window.radius": 8.0 + v}, [FITS, 0.2, ACCEPT, 1.0, NO]),
    ("case-bore", RECTANGLE, lambda v: outline("case.bore_outline", "width", v - 1.0), [NO, 0.0, WORK, 0.02, FITS]),
    (
        "dial-seat",
        RECTANGLE,
        lambda v: outline("case.seat_outline", "width", v - 0.1),
        [NO, -0.5, WORK, 0.02, FITS, 0.3, PART],
    ),
    ("dial-opening", RECTANGLE, lambda v: outline("dial.outline", "width", 2 * v - 0.9), [NO, 0.0, ACCEPT, 0.2, FITS]),
]
EDGES = [
    pytest.param(key, changes, at, band, edge, above, id=f"{key} {edge:g}")
    for key, changes, at, row in BANDS
    for i in range(1, len(row), 2)
    for band, edge, above in [row[i - 1 : i + 2]]
]


def judged(key, changes):
    return check_sheet(sheet(deepcopy(changes)))[key]


@pytest.mark.parametrize(("key", "changes", "at", "below", "edge", "above"), EDGES)
def test_an_edge_belongs_to_the_better_band(key, changes, at, below, edge, above):
    better_above = ORDER.index(above) < ORDER.index(below)
    rows = [(-0.005, below), (-1e-8, below), (1e-8, above), (0.005, above)]
    rows += [(by, above if better_above else below) for by in (-1e-10, 0.0, 1e-10)]
    for by, expected in rows:
        check = judged(key, changes | at(edge + by))
        assert check.value.value == pytest.approx(edge + by, abs=1e-9)
        assert (check.verdict, kinds(check)) == expected, by
