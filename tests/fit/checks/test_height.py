"""Along the axis: stem height, spacer and the air behind the movement, worked out by hand.

With the base sheet s = A_c - t_d - a_m = A_c - 2.00.
"""

import pytest

from tests.fit.sheets import judged, keys, kinds, report

BEHIND = "case.stem_axis_depth"


@pytest.mark.parametrize(
    ("depth", "value", "verdict", "thickness"),
    [
        (1.89, -0.11, "no", 0.0),
        (1.9 - 1e-8, -0.10000001, "no", 0.0),
        (1.9 - 1e-10, -0.1, "fits", 0.0),
        (1.9, -0.1, "fits", 0.0),
        (1.91, -0.09, "fits", 0.0),
        (2.1, 0.1, "fits", 0.0),
        (2.1 + 1e-10, 0.1, "fits", 0.0),
        (2.1 + 1e-8, 0.10000001, "work", 0.10000001),
        (2.11, 0.11, "work", 0.11),
        (2.4, 0.4, "work", 0.4),
        ([1.95, 0.05], -0.05, "fits", 0.0),
        ([1.95, 0.06], -0.05, "unclear", 0.0),
        ([1.85, 0.04], -0.15, "no", 0.0),
        ([2.08, 0.05], 0.08, "work", 0.0),
        ([2.3, 0.1], 0.3, "work", 0.3),
        ([2.3, 0.1 + 1e-8], 0.3, "unclear", 0.3),
        ([2.3, 0.11], 0.3, "unclear", 0.3),
        ([2.05, 0.11], 0.05, "work", 0.0),
    ],
)
def test_stem_height_and_the_spacer_that_it_asks_for(depth, value, verdict, thickness):
    found = report({BEHIND: depth, "case.back_depth": 9.0})
    check = found["stem-height"]
    assert check.value.value == pytest.approx(value, abs=1e-9)
    assert check.verdict == verdict
    assert found.pairing.stack.thickness == pytest.approx(thickness, abs=1e-9)
    assert kinds(check) == (["part"] if verdict == "work" else []), "no spacer is asked for that cannot be sized"


def test_a_spacer_that_cannot_be_sized_says_by_how_much():
    sentence = judged("stem-height", {BEHIND: [2.4, 0.15]}).sentence
    assert sentence == (
        "The 0.40 mm spacer cannot be sized yet: stem height is known to ±0.15 mm, and ±0.10 mm is needed."
    )


@pytest.mark.parametrize(
    ("back", "value", "verdict", "remedies"),
    [
        (3.89, -0.01, "no", []),
        (3.9 - 1e-10, 0.0, "work", ["work"]),
        (3.9, 0.0, "work", ["work"]),
        (3.99, 0.09, "work", ["work"]),
        (4.0 - 1e-8, 0.09999999, "work", ["work"]),
        (4.0, 0.1, "fits", []),
        (4.01, 0.11, "fits", []),
        ([4.01, 0.02], 0.11, "work", ["work"]),
        ([4.01, 0.12], 0.11, "unclear", ["work"]),
        ([3.85, 0.04], -0.05, "no", []),
    ],
)
def test_air_behind_the_movement(back, value, verdict, remedies):
    found = judged("back-gap", {"case.back_depth": back})
    assert found.value.value == pytest.approx(value, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


def test_a_spacer_pushes_the_movement_back():
    found = judged("back-gap", {BEHIND: 2.3, "case.back_depth": 5.0})
    assert found.value.value == pytest.approx(5.0 - (0.3 + 0.4 + 3.5))


def test_a_made_spacer_carries_its_own_uncertainty_and_not_that_of_the_stem_axes():
    found = report({BEHIND: [2.3, 0.03], "movement.stem_axis_depth": [1.6, 0.04], "dial.thickness": [0.4, 0.01]})
    assert found["stem-height"].value.half_width == pytest.approx(0.08)
    assert found["back-gap"].value.spread == pytest.approx(
        {
            "case.back_depth": 0.0,
            "spacer.thickness": -0.02,
            "dial.thickness": -0.01,
            "movement.back_height": 0.0,
        }
    )


def test_without_a_spacer_nothing_is_added_to_the_back_gap():
    found = judged("back-gap", {BEHIND: [2.0, 0.05], "movement.stem_axis_depth": [1.6, 0.04]})
    assert found.value.half_width == 0.0


@pytest.mark.parametrize("placement", ["front", "rear"])
def test_the_stack_of_levels(placement):
    p = report({BEHIND: 2.3, "spacer.placement": placement, "case.back_depth": 9.0}).pairing
    front, rear = (0.3, 0.0) if placement == "front" else (0.0, 0.3)
    assert (p.stack.front.value, p.stack.rear.value) == pytest.approx((front, rear))
    assert p.stack.dial_rest.value == pytest.approx(0.7)
    assert p.stack.face.value == pytest.approx(rear + 0.4)


@pytest.mark.parametrize("depth", [2.15, 2.3, 2.8])
def test_front_and_rear_give_the_same_back_gap_and_the_same_room_under_the_crystal_when_no_hand_is_lifted(depth):
    changes = {BEHIND: depth, "case.back_depth": 6.0, "rules": {"grip_min": 5.0}}
    front, rear = (report(changes | {"spacer.placement": placement}) for placement in ("front", "rear"))
    for key in ("back-gap", "gap-crystal"):
        assert front[key].value.value == pytest.approx(rear[key].value.value)
        assert front[key].value.half_width == pytest.approx(rear[key].value.half_width)
    assert front["gap-hour-dial"].value.value == pytest.approx(rear["gap-hour-dial"].value.value + depth - 2.0)


def test_auto_prefers_the_front_where_both_do():
    found = report({BEHIND: 2.15, "case.back_depth": 5.0})
    assert found.as_dict()["spacer"] == {"placement": "front", "thickness": pytest.approx(0.15)}


def test_auto_keeps_the_front_where_the_rear_is_worse():
    changes = {BEHIND: 2.6, "case.back_depth": 5.0}
    assert report(changes | {"spacer.placement": "rear"}).verdict == "no"
    assert report(changes).verdict == "work"
    assert report(changes).pairing.stack.placement == "front"


def test_auto_lays_the_spacer_behind_where_only_the_front_says_no():
    """In front, lifting the seconds hand off the minute hand brings it to 0.01 mm under the crystal, surely too near.

    Behind, the hour hand may touch the dial, so that no lift is worked out; neither can be told for certain.
    """
    changes = {
        BEHIND: 2.3,
        "case.back_depth": 5.0,
        "case.crystal_gap_centre": 1.62,
        "movement.posts.hour.height": 0.95,
        "hands.hour.hub_height": [0.3, 0.15],
        "movement.posts.seconds.height": 2.2,
        "hands.seconds.hub_height": [0.4, 0.3],
    }
    found = report(changes)
    assert report(changes | {"spacer.placement": "front"}).verdict == "no"
    assert (found.verdict, found.pairing.stack.placement) == ("unclear", "rear")
    assert found["gap-hour-dial"].value.value == pytest.approx(-0.05)


@pytest.mark.parametrize("depth", [1.7, 2.0, 2.2, 2.5, 3.0])
@pytest.mark.parametrize("crystal", [1.7, 2.2, 2.8])
def test_auto_is_the_better_of_both(depth, crystal):
    changes = {BEHIND: depth, "case.crystal_gap_centre": crystal, "case.back_depth": 5.0}
    both = [report(changes | {"spacer.placement": placement}).verdict.rank for placement in ("front", "rear")]
    assert report(changes).verdict.rank == min(both)


@pytest.mark.parametrize(
    ("path", "touched"),
    [
        ("case.stem_axis_depth", {"stem-height", "back-gap", "gap-crystal"}),
        ("movement.stem_axis_depth", {"stem-height", "back-gap", "gap-crystal"}),
        ("case.back_depth", {"back-gap"}),
        ("movement.back_height", {"back-gap"}),
        (
            "dial.thickness",
            {"stem-height", "back-gap", "gap-crystal", "gap-hour-dial", "gap-furniture"},
        ),
    ],
)
def test_a_missing_height_leaves_unclear_what_depends_on_it_and_nothing_else(path, touched):
    found = report({path: None})
    assert {check.key for check in found.checks if path in check.missing} == touched
    assert found.verdict == "unclear"
    assert len(keys(found)) == len(keys(report()))


def test_behind_the_dial_an_unknown_spacer_leaves_the_hands_over_the_dial_unclear_too():
    found = report({BEHIND: None, "spacer.placement": "rear"})
    assert found["gap-hour-dial"].missing == (BEHIND,)
    assert found.as_dict()["spacer"] == {"placement": "rear", "thickness": None}
