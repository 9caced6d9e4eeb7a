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
    assert sentence == ("The 0.40 mm spacer cannot be sized yet: stem height is known to ±0.15 mm; ±0.10 mm is needed.")


def test_a_spacer_is_not_waited_for_where_the_tube_leaves_the_stem_no_play():
    tight = {BEHIND: [2.4, 0.05], "case.tube_bore_diameter": 1.3, "stem.diameter": 1.2}
    assert judged("stem-height", tight).sentence == (
        "The 0.40 mm spacer cannot be sized yet: the tube leaves the stem no play for any error in height. "
        "Open the tube first."
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
    assert (p.stack.front.value, p.stack.behind.value) == pytest.approx((front, rear))
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


NO_WINDOW = {"dial.window": "none", "movement.date": "none"}


@pytest.mark.parametrize(
    ("changes", "placement"),
    [
        ({BEHIND: 2.35}, "front"),
        ({BEHIND: 2.35, "case.seat_wall": 0.3}, "front"),
        ({BEHIND: 2.35, "case.seat_wall": 0.3} | NO_WINDOW, "rear"),
        ({BEHIND: 2.35} | NO_WINDOW, "front"),
        ({BEHIND: 2.25, "case.seat_wall": 0.3} | NO_WINDOW, "front"),
    ],
)
def test_at_a_tie_the_placement_that_asks_for_less_and_the_front_where_they_still_tie(changes, placement):
    """What each asks for.

    In front 0.35 lays the dial deeper and, with a low seat wall, wants centring; behind it wants washers and, with a
    window, lays the date deeper.
    """
    changes = changes | {"case.back_depth": 6.0, "case.crystal_gap_centre": 3.6}
    changes |= {f"movement.posts.{hand}.height": at for hand, at in (("hour", 1.6), ("minute", 2.3), ("seconds", 3.0))}
    found = report(changes)
    sides = {side: report(changes | {"spacer.placement": side}) for side in ("front", "rear")}
    assert sides["front"].verdict == sides["rear"].verdict == "work"
    assert found.pairing.stack.placement == placement
    asks = {side: sum(check.verdict == "work" for check in one.checks) for side, one in sides.items()}
    assert placement == ("rear" if asks["rear"] < asks["front"] else "front")


def test_auto_weighs_the_verdict_before_what_is_asked_for():
    """Behind, less is asked for, but the hour hand would touch the dial."""
    changes = {BEHIND: 2.35, "case.seat_wall": 0.3, "case.back_depth": 6.0, "hands.hour.hub_height": 0.3} | NO_WINDOW
    changes |= {"movement.posts.hour.height": 1.0}
    assert report(changes | {"spacer.placement": "rear"}).verdict == "no"
    assert (report(changes).verdict, report(changes).pairing.stack.placement) == ("work", "front")


@pytest.mark.parametrize(
    ("tube", "stem", "allowed"),
    [(2.0, 0.9, 0.1), (1.2, 0.9, 0.1), (1.1, 0.9, 0.05), (1.0, 0.9, 0.0), (0.95, 0.9, 0.0), (None, 0.9, 0.1)],
)
def test_a_narrow_tube_leaves_the_stem_less_room_off_its_axis(tube, stem, allowed):
    """Half the play in diameter less 0.05 on each side, where that is less than the rule's 0.10."""
    changes = {"case.tube_bore_diameter": tube, "stem.diameter": stem, "case.back_depth": 9.0}
    for depth, verdict in ((2 + allowed, "fits"), (2 + allowed + 1e-8, "work"), (2 - allowed - 1e-8, "no")):
        assert judged("stem-height", changes | {BEHIND: depth}).verdict == verdict
    assert judged("stem-height", changes | {BEHIND: 2 - allowed}).verdict == "fits"


def test_the_stems_thread_stands_for_its_body_in_the_tube():
    assert judged("stem-height", {"case.tube_bore_diameter": 1.1, BEHIND: 2.06}).verdict == "work"


PADS = {"dial.fixing": "pads", "dial.pad_thickness": 0.15, "case.back_depth": 9.0}


def test_pads_take_their_part_of_the_spacer():
    """The offset is 0.40; with pads of 0.15 under the dial the spacer is 0.25 thick, in front or behind."""
    for placement in ("front", "rear"):
        stack = report(PADS | {BEHIND: 2.4, "spacer.placement": placement}).pairing.stack
        assert stack.thickness == pytest.approx(0.25)
        assert stack.dial_rest.value == pytest.approx(0.8)
        assert stack.behind.value == pytest.approx(0.15 if placement == "front" else 0.4)
        assert stack.face.value == pytest.approx(stack.behind.value + 0.4)


def test_a_pad_that_was_not_measured_has_the_rules_thickness():
    unmeasured = PADS | {"dial.pad_thickness": None, BEHIND: 2.4}
    assert report(unmeasured).pairing.stack.thickness == pytest.approx(0.3)
    assert report(unmeasured | {"rules": {"pad_thickness": 0.2}}).pairing.stack.thickness == pytest.approx(0.2)


@pytest.mark.parametrize(
    ("depth", "verdict", "thickness"),
    [(2.04, "no", 0.0), (2.05, "fits", 0.0), (2.25, "fits", 0.0), (2.26, "work", 0.11), (2.0, "no", 0.0)],
)
def test_pads_shift_what_stem_height_asks_for(depth, verdict, thickness):
    """Pads of 0.15 lay the movement 0.15 back: what is left of s by them has to lie within the tolerance."""
    found = report(PADS | {BEHIND: depth})
    assert (found["stem-height"].verdict, found.pairing.stack.thickness) == (verdict, pytest.approx(thickness))


@pytest.mark.parametrize(("placement", "verdict"), [("auto", "unclear"), ("rear", "unclear"), ("front", "fits")])
def test_a_spacer_of_unknown_thickness_may_lie_behind_the_dial(placement, verdict):
    found = report({BEHIND: None, "spacer.placement": placement})
    for key in ("hour-wheel", "date-depth"):
        assert (found[key].verdict, found[key].missing) == (verdict, (BEHIND,) if verdict == "unclear" else ())


def test_a_stem_that_the_pads_lay_too_deep_says_that_they_do():
    sentence = judged("stem-height", PADS | {BEHIND: [1.95, 0.01]}).sentence
    assert sentence == "Even without a spacer, on 0.15 mm of pads under the dial, the stem sits 0.20 mm too deep."


@pytest.mark.parametrize(
    ("pads", "says"),
    [
        ({}, "The stem lines up within 0.05 mm; no spacer needed."),
        (PADS, "With 0.15 mm of pads under the dial the stem lines up within 0.10 mm; no spacer needed."),
    ],
)
def test_pads_are_named_where_the_stem_lines_up_over_them(pads, says):
    assert report({BEHIND: 2.05, "case.back_depth": 9.0} | pads)["stem-height"].sentence.startswith(says)


def test_pads_count_for_the_hour_wheel_and_the_date():
    found = report(PADS)
    assert [found[key].value.value for key in ("hour-wheel", "date-depth")] == pytest.approx([0.15, 0.15])


@pytest.mark.parametrize("depth", [1.7, 2.0, 2.2, 2.5, 3.0])
@pytest.mark.parametrize("crystal", [1.7, 2.2, 2.8])
def test_auto_is_the_better_of_both(depth, crystal):
    changes = {BEHIND: depth, "case.crystal_gap_centre": crystal, "case.back_depth": 5.0}
    both = [report(changes | {"spacer.placement": placement}).verdict.rank for placement in ("front", "rear")]
    assert report(changes).verdict.rank == min(both)


OPEN = {"stem-height", "back-gap", "hour-wheel", "dial-sunk", "gap-crystal", "date-depth"}
"""What hangs on the thickness of a spacer that may lie on either side of the dial."""


@pytest.mark.parametrize(
    ("path", "touched"),
    [
        ("case.stem_axis_depth", OPEN),
        ("movement.stem_axis_depth", OPEN),
        ("case.back_depth", {"back-gap"}),
        ("movement.back_height", {"back-gap"}),
        (
            "dial.thickness",
            OPEN | {"gap-hour-dial", "gap-furniture"},
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


def test_a_spacer_that_only_the_uncertainty_asks_for_is_told_by_the_end_of_its_interval():
    check = judged("stem-height", {BEHIND: [2.05, 0.08]})
    assert check.verdict == "work"
    assert [remedy.text for remedy in check.remedies] == ["Make a spacer up to 0.13 mm thick."]
