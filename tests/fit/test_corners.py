"""Intervals against brute force: every corner of the uncertain inputs, the hands set anew at each by an own search."""

import random
from itertools import product

import pytest

from parts.fit import check_sheet
from tests.fit.sheets import sheet

GAP_MIN, GRIP_MIN = 0.15, 0.3
HANDS = ("hour", "minute", "seconds")


def goes(heights, hubs, face, crystal, mu):
    """Whether all hands can be set with gaps of at least mu, each lifted no more than it has to be."""
    floor = face
    for height, hub in zip(heights, hubs, strict=True):
        lift = max(0.0, floor + mu - (height - hub))
        if lift > max(0.0, hub - GRIP_MIN) + 1e-12 or height + lift + mu > face + crystal + 1e-12:
            return False
        floor = height + lift
    return True


def widest(heights, hubs, face, crystal):
    """The widest gap that all hands can be set to, by halving."""
    low, high = -9.0, 9.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if goes(heights, hubs, face, crystal, middle) else (low, middle)
    return low


def stack(heights, hubs, crystal, width):
    """A plain sheet of three hands: heights and hubs uncertain by `width`, nothing raised on the dial."""
    changes = {"dial.furniture": [], "case.crystal_gap_centre": crystal}
    for name, height, hub in zip(HANDS, heights, hubs, strict=True):
        changes |= {f"movement.posts.{name}.height": [height, width], f"hands.{name}.hub_height": [hub, width]}
        changes |= {f"hands.{name}.thickness": 0.1}
    return check_sheet(sheet(changes))


def corners(heights, hubs, crystal, width):
    """The widest gaps at all corners of heights and hubs."""
    for signs in product((-width, width), repeat=6):
        moved = [at + by for at, by in zip((*heights, *hubs), signs, strict=True)]
        yield widest(moved[:3], moved[3:], 0.4, crystal)


def test_the_four_rows_of_a_plain_three_hand_stack():
    """Three numbers share two gaps, so that from 0.20 every 0.01 of ± takes 0.015.

    The seconds hand is lifted as far as it grips, over a minute hand that is lifted off the hour hand.
    """
    heights, hubs = (1.4, 2.0, 2.6), (0.5, 0.5, 0.5)
    worst = {width: min(corners(heights, hubs, 3.5, width)) for width in (0.02, 0.03, 0.04, 0.05)}
    assert worst == pytest.approx({0.02: 0.17, 0.03: 0.155, 0.04: 0.14, 0.05: 0.125}, abs=1e-9)
    for width, least in worst.items():
        found = stack(heights, hubs, 3.5, width)
        assert found.pairing.seating.low == pytest.approx(min(GAP_MIN, least))
        assert found["gap-minute-seconds"].verdict == ("fits" if least >= GAP_MIN else "work")


@pytest.mark.parametrize("seed", range(40))
def test_no_corner_beats_the_interval_that_is_told(seed):
    chance = random.Random(seed)
    heights = [chance.uniform(0.8, 1.3)]
    heights += [heights[0] + chance.uniform(0.5, 0.8)]
    heights += [heights[1] + chance.uniform(0.5, 0.8)]
    hubs = [chance.uniform(0.35, 0.75) for _ in HANDS]
    crystal, width = heights[2] - 0.4 + chance.uniform(-0.05, 0.4), chance.choice([0.01, 0.03, 0.06])
    found = stack(heights, hubs, crystal, width)
    seating, reached = found.pairing.seating, [min(GAP_MIN, mu) for mu in corners(heights, hubs, crystal, width)]
    assert seating.low <= min(reached) + 1e-9
    assert max(reached) <= seating.high + 1e-9
    assert seating.gap == pytest.approx(min(GAP_MIN, widest(heights, hubs, 0.4, crystal)), abs=1e-9)
    gaps = [check for check in found.checks if check.key.startswith("gap-")]
    assert all(check.low >= seating.low - 1e-9 for check in gaps)
    if max(reached) < 0.05 - 1e-9:
        assert any(check.verdict in ("no", "unclear") for check in gaps)
    if min(reached) >= 0.05:
        assert all(check.verdict in ("fits", "work") for check in gaps), "no corner fails, so none is unclear"


STRAIGHT = [
    ("case-bore", ("case.bore_diameter", "movement.overall_diameter")),
    ("holder-wall", ("case.bore_diameter", "movement.fit_diameter")),
    ("stem-height", ("case.stem_axis_depth", "dial.thickness", "movement.stem_axis_depth")),
    ("back-gap", ("case.back_depth", "dial.thickness", "movement.back_height")),
    ("dial-seat", ("case.dial_seat_diameter", "dial.diameter")),
    ("dial-opening", ("case.dial_opening_diameter", "dial.diameter")),
    ("stem-length", ("stem.length", "case.crown_seat_radius", "crown.bore_depth", "movement.stem_reference_radius")),
    ("tip-clearance", ("case.dial_opening_diameter", "hands.seconds.length")),
    ("date-position", ("movement.date.numeral_radius", "dial.window.radius")),
]


def at(path):
    node = sheet()
    for step in path.split("."):
        node = node[step]
    return node


@pytest.mark.parametrize(("key", "paths"), STRAIGHT)
@pytest.mark.parametrize("width", [0.003, 0.02])
def test_the_ends_of_a_straight_value_are_those_of_its_corners(key, paths, width):
    told = check_sheet(sheet({path: [at(path), width] for path in paths}))[key]
    reached = [
        check_sheet(sheet({path: at(path) + sign * width for path, sign in zip(paths, signs, strict=True)}))[
            key
        ].value.value
        for signs in product((-1, 1), repeat=len(paths))
    ]
    assert (told.low, told.high) == pytest.approx((min(reached), max(reached)), abs=1e-9)
