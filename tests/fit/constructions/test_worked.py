"""One sheet of each construction, with its numbers worked out by hand beside it."""

from copy import deepcopy
from math import hypot, sqrt

import pytest

from parts.fit import SheetError, check_sheet
from parts.fit.answer.text import report_text
from parts.trials.chance import with_chance
from parts.trials.would_go import with_ways
from tests.fit.constructions.sheets import ALL, CARRIED, DAY, DOMED, FRONT, RECTANGLE, RIM, SMALL, SPLIT, TENSION
from tests.fit.invented import without_each
from tests.fit.sheets import keys, sheet


def report(changes):
    return check_sheet(sheet(deepcopy(changes)))


def value(found, key):
    return found[key].value.value


@pytest.mark.parametrize("name", ALL)
def test_each_goes_together_has_a_chance_and_can_be_written(name):
    found = with_chance(report(ALL[name]), 500)
    assert found.verdict in ("fits", "work"), found.why
    assert found.chance["no"] == 0.0
    assert report_text(found).endswith("\n")


@pytest.mark.parametrize("name", ALL)
def test_leaving_a_number_out_turns_none_into_a_no(name):
    for lost, less in without_each(sheet(deepcopy(ALL[name]))):
        if "points" not in lost and "rim" not in lost:
            assert check_sheet(less).verdict != "no", lost


def test_a_case_loaded_from_the_front():
    """Floor to stem 2.30: s = 2.30 - (3.5 - 1.6) = 0.40 of spacer under the movement.

    The face stands at f = 2.30 + 1.6 + 0.4 = 4.30; a ring at 4.38 leaves 0.08, and a crystal at 6.80 has 2.50 over it:
    the seconds hand's top, 2.6 - 0.4 over the face, 0.30.
    """
    heights = {"case.floor_stem": 2.3, "case.floor_ring": 4.38, "case.floor_crystal_centre": 6.8}
    found = report(FRONT | heights)
    assert value(found, "stem-height") == pytest.approx(0.40)
    assert (found["stem-height"].verdict, found.pairing.stack.placement) == ("work", "floor")
    assert "spacer 0.40 mm thick to lie under the movement" in found["stem-height"].remedies[0].text
    assert value(found, "ring-gap") == pytest.approx(0.08)
    assert "shim 0.08 mm thick" in found["ring-gap"].remedies[0].text
    assert value(found, "gap-crystal") == pytest.approx(0.30)
    assert value(found, "front-opening") == pytest.approx(28.8 - 28.65)
    assert not {"back-gap", "dial-bore", "dial-seat"} & set(keys(found))
    assert value(found, "dial-sunk") == 0.0


def test_the_interval_under_the_ring_is_that_of_ring_stem_and_dial():
    """0.02 + 0.01 + 0.01 + 0.005 of ring, stem axes and dial."""
    uncertain = {"case.floor_ring": [3.92, 0.02], "case.floor_stem": [1.9, 0.01], "dial.thickness": [0.4, 0.005]}
    gap = report(FRONT | uncertain | {"movement.stem_axis_depth": [1.6, 0.01]})["ring-gap"]
    assert (gap.low, gap.high) == pytest.approx((0.02 - 0.045, 0.02 + 0.045))
    assert gap.verdict == "unclear"


def test_pads_lift_the_dial_under_its_ring():
    """F = 1.9 + 1.6 + 0.4 + 0.1 of pads = 4.00, 0.05 above a ring at 3.95."""
    found = report(FRONT | {"dial.fixing": "pads", "case.floor_ring": 3.95})
    assert value(found, "ring-gap") == pytest.approx(-0.05)
    assert found["ring-gap"].verdict == "no"
    assert any("floor to ring" in way.words for way in with_ways(found).would_go)


def test_a_tension_ring_presses_and_one_that_does_not_says_how_much_thicker():
    """At 3.85 it presses by 0.05; at 3.90 it lacks the 0.02 that hold a dial."""
    assert report(TENSION)["ring-gap"].verdict == "fits"
    loose = report(TENSION | {"case.floor_ring": 3.9})["ring-gap"]
    assert "0.02 mm" in loose.remedies[0].text


def test_a_tension_ring_that_only_its_uncertainty_calls_loose_is_thicker_by_what_may_lack():
    """It presses by 0.05 ±0.06, so it may stand 0.01 clear, and then lacks 0.03 of the 0.02 that hold."""
    loose = report(TENSION | {"case.floor_ring": [3.85, 0.06]})["ring-gap"]
    assert [remedy.text for remedy in loose.remedies] == [
        "Get a tension ring thicker by up to 0.03 mm or a little more, or lay a shim under it."
    ]


def test_a_dial_that_came_out_through_the_front_needs_no_number_for_it_but_the_movement_does():
    own = FRONT | {"dial.diameter": None, "dial.own_case": True}
    assert report(FRONT | {"dial.diameter": None})["front-opening"].missing == ("dial.diameter",)
    assert value(report(own | {"movement.overall_diameter": 28.62}), "front-opening") == pytest.approx(0.18)
    assert report(own)["front-opening"].sentence.startswith("The movement passes the front opening")


def test_a_ring_that_nobody_named_is_asked_for():
    found = report(FRONT | {"case.ring": None})
    assert found["ring-gap"].missing == ("case.ring",)


def test_a_dome_over_a_floor_is_measured_from_the_floor():
    """At 12.0, where the edge was taken, the crystal is at 6.1: 2.2 over the face, and the seconds hand at 2.2."""
    found = report(FRONT | {"case.floor_crystal_edge": 6.1, "case.crystal_edge_radius": 12.0})
    assert value(found, "gap-crystal") == pytest.approx(0.0)


def outlined(**outline):
    return {"dial.diameter": None, "dial.outline": outline}


@pytest.mark.parametrize(
    ("changes", "key", "other"),
    [
        ({"case.construction": "front"}, "case.construction", "case.loading"),
        ({"case.floor_stem": 2.0}, "case.floor_stem", "case.construction"),
        ({"case.ring": "rehaut"}, "case.ring", "case.construction"),
        (FRONT | {"case.floor_ring": 1.8}, "case.floor_ring", "case.floor_stem"),
        (FRONT | {"case.floor_crystal_centre": 3.9}, "case.floor_crystal_centre", "case.floor_ring"),
        (SPLIT | {"stem.length": 15.5}, "stem.length", "stem.joint"),
        (
            SPLIT | {"stem.joint": {"inner_length": 0.5, "outer_length": 6, "overlap": 0.9}},
            "stem.joint.inner_length",
            "stem.joint.overlap",
        ),
        ({"case.rim": [[13, 1.0], [12, 0.5]]}, "case.rim[1].height", "case.rim[0].height"),
        (DAY | {"movement.day.pitch": 45.0}, "movement.day.pitch", ""),
        (SMALL | {"dial.subdials": [{"name": "a"}, {"name": "a"}]}, "dial.subdials[1].name", "dial.subdials[0].name"),
        (RECTANGLE | {"case.bore_diameter": 20.0}, "case.bore_diameter", "case.bore_outline"),
        (
            {"dial.outline": {"shape": "oval", "width": 20, "height": 30, "corner": 2}},
            "dial.outline.corner",
            "dial.outline.shape",
        ),
        (
            {"dial.outline": {"shape": "rectangle", "width": 20, "height": 30, "corner": 11}},
            "dial.outline.corner",
            "dial.outline.width",
        ),
        ({"dial.outline": {"width": 20}}, "dial.outline.shape", ""),
        ({"dial.outline": {"shape": "polyline", "points": [[1, 1], [2, 1], [2, 2]]}}, "dial.outline.points", ""),
        (
            {"dial.outline": {"shape": "polyline", "points": [[9, 9], [-9, -9], [-9, 9], [9, -9]]}},
            "dial.outline.points",
            "",
        ),
        ({"dial.outline": {"shape": "polyline", "points": [[1, 1], [2, "x"], [2, 2]]}}, "dial.outline.points[1]", ""),
        ({"dial.outline": {"shape": "star"}}, "dial.outline.shape", ""),
    ],
)
def test_what_contradicts_is_refused_with_both_keys(changes, key, other):
    with pytest.raises(SheetError) as refusal:
        report(changes)
    assert (refusal.value.key, refusal.value.other) == (key, other)


def test_the_older_key_still_says_from_where_a_case_is_loaded():
    assert report(FRONT | {"case.loading": "front", "case.construction": None})["ring-gap"].verdict == "fits"


def test_a_split_stem():
    """10.0 + 6.0 - 0.9 = 15.10, 0.05 more than the 15.05 needed; with 0.5 more the outer part is cut to 5.95."""
    found = report(SPLIT)
    assert value(found, "stem-length") == pytest.approx(0.05)
    assert value(found, "joint-clear") == pytest.approx(14.35 - 14.0)
    longer = report(SPLIT | {"stem.joint": SPLIT["stem.joint"] | {"outer_length": 6.5}})
    assert "outer part of the stem to 5.95 mm" in longer["stem-length"].remedies[0].text
    assert longer.stem.cut_off == pytest.approx(0.55)
    joint = {"inner_length": 10.0, "outer_length": 8.0, "overlap": 0.9}
    steps = report(SPLIT | {"stem.joint": joint}).stem.steps
    assert [step.length for step in steps] == pytest.approx([15.55, 15.15, 15.05])
    assert [step.text.partition(", ")[2].partition("; ")[0] for step in steps[:2]] == [
        "outer part 6.45\N{NO-BREAK SPACE}mm",
        "outer part 6.05\N{NO-BREAK SPACE}mm",
    ]
    assert steps[2].text.endswith("outer part 5.95\N{NO-BREAK SPACE}mm; both joined")


def test_a_dial_carried_by_the_movement():
    """Ring rise 0.70: s = 1.1 + 0.7 - 1.6 = 0.20, made; D = 0.20 - 0.70 = -0.50, the face 0.90 in front of the ledge.

    Behind: 3.2 - (-0.50 + 3.5) = 0.20. To the crystal: 3.3 - 0.9 - 2.2 = 0.20.
    """
    found = report(CARRIED | {"movement.ring_rise": 0.7})
    assert (value(found, "stem-height"), found.pairing.stack.thickness) == (pytest.approx(0.2), pytest.approx(0.2))
    assert value(found, "back-gap") == pytest.approx(0.2)
    assert value(found, "gap-crystal") == pytest.approx(0.2)
    assert "dial-seat" not in keys(found)
    assert found["back-gap"].value.half_width == pytest.approx(0.02), "the spacer is as true as it is made"


def test_a_movement_without_a_ring_gets_a_holder_of_the_rise_that_it_needs():
    """a_m - A_c = 1.6 - 1.1 = 0.50 in front of the ledge; then all lies as with a ring that rises as much."""
    found = report(CARRIED | {"movement.ring_rise": None})
    check = found["stem-height"]
    assert (check.verdict, [remedy.kind for remedy in check.remedies]) == ("work", ["part"])
    assert "0.50 mm in front of the ledge" in check.remedies[0].text
    assert found.pairing.stack.thickness == 0
    assert found["dial-sunk"].sentence == "No spacer lies in front of the dial."
    assert value(found, "gap-crystal") == pytest.approx(0.2)
    coarse = {"movement.ring_rise": None, "case.stem_axis_depth": [1.1, 0.2]}
    assert report(CARRIED | coarse)["stem-height"].verdict == "unclear"


def drop(rise, edge, r):
    sphere = (edge**2 + rise**2) / (2 * rise)
    return sphere - sqrt(sphere**2 - r**2)


def test_a_domed_dial_on_a_smaller_movement():
    """Rise 0.4 over 14.25, on a movement of 20: it touches the back at 10.0, where the dial has fallen 0.197.

    The dial's edge lies 0.4 - 0.197 = 0.203 lower than there, so that the dial rest lies that much nearer to the seat,
    and the face at its edge 0.4 - 0.203 above the rest.
    """
    rest = drop(0.4, 14.25, 10.0)
    assert rest == pytest.approx(0.197, abs=5e-4)
    found = report(
        DOMED | {"movement.overall_diameter": 20.0, "movement.fit_diameter": 19.9, "movement.back_height": 3.0}
    )
    p = found.pairing
    assert p.stack.face.value == pytest.approx(0.4 + rest - 0.4)
    assert p.stack.face_at_hub.value == pytest.approx(0.4 + rest - drop(0.4, 14.25, 1.1))
    assert value(found, "stem-height") == pytest.approx(2.0 - 0.4 - 1.6 + (0.4 - rest))


def test_hands_over_a_domed_dial():
    """A movement as wide as the dial touches it at its edge: hub at 0.70, face at 1.1 0.199 higher than the edge."""
    found = report(DOMED | {"rules": {"grip_min": 5.0}, "dial.rise": 0.2})
    hub = drop(0.2, 14.25, 1.1)
    assert value(found, "gap-hour-dial") == pytest.approx(0.7 - (0.4 + 0.2 - hub))
    marker = 0.2 + 0.2 - drop(0.2, 14.25, 9.0)
    assert value(found, "gap-furniture") == pytest.approx(1.9 - 0.15 - 0.4 - marker)


def test_a_bent_hand_over_markers_and_under_the_crystal():
    """The minute hand, 11.5 long and bent by 0.3, is at the marker's 10.5 down by 0.3 (2 * 10.5/11.5 - 1) = 0.248."""
    found = report({"hands.minute.tip_drop": 0.3, "hands.seconds": None})
    assert value(found, "gap-furniture") == pytest.approx(1.15 - 0.3 * (2 * 10.5 / 11.5 - 1))
    flat = value(found, "gap-crystal")
    domed = {"case.crystal_gap_edge": 2.1, "case.crystal_edge_radius": 11.5, "hands.minute.tip_drop": 0.3}
    found = report(domed | {"hands.seconds": None, "movement.posts.seconds.height": 1.92})
    tip, half = 2.1 + 0.3 - 1.5, 2.4 - drop(0.3, 11.5, 5.75) - 1.5
    assert flat == pytest.approx(2.4 - 2.2), "the bare seconds post"
    assert value(found, "gap-crystal") == pytest.approx(min(tip, half))


def test_a_bent_tip_may_touch_the_dial_itself():
    """The hour hand bent down by 0.6: its tip's underside at 1.2 - 0.15 - 0.6 = 0.45, 0.05 over the face."""
    found = report({"hands.hour.tip_drop": 0.6, "dial.furniture": [], "rules": {"grip_min": 5.0}})
    assert found["gap-furniture"].verdict == "work"
    assert value(found, "gap-furniture") == pytest.approx(0.05)


def test_an_inner_rim_is_narrower_at_the_seconds_hand_than_at_the_hour_hand():
    """The seconds hand's blade lies 2.1 to 2.2 over the seat: 12.4 + 0.2 * (0.2 / 0.6) = 12.467 at 2.2.

    It is 12.0 long. The minute hand, 11.5 long, has 13.5 - 0.9 * 0.9 / 1.2 = 12.825 at its top, at 1.5.
    """
    found = report(RIM)
    assert value(found, "tip-clearance") == pytest.approx(12.4 + 0.2 * 0.2 / 0.6 - 12.0)
    assert found["tip-clearance"].verdict == "fits"
    minute = report(RIM | {"hands.seconds": None, "movement.posts.seconds.height": 1.95})
    assert value(minute, "tip-clearance") == pytest.approx(12.825 - 11.5)
    low = report(RIM | {"case.rim": [[12.2, 2.15], [11.0, 5.0]], "case.dial_opening_diameter": 24.3})
    assert value(low, "tip-clearance") == pytest.approx(24.3 / 2 - 12.0), "its underside is still inside the opening"


def test_small_seconds_in_place():
    """Post at 90 + 90 = 180 degrees, radius 5.0, hole at 5.1 and 1 degree on: hypot of 0.1 and 5.05 times 1 degree."""
    found = report(SMALL | {"dial.subdials": [SMALL["dial.subdials"][0] | {"radius": 5.1, "angle": 181}]})
    away = hypot(0.1, sqrt(5.0 * 5.1) * 0.01745)
    assert value(found, "sub-place") == pytest.approx(away, abs=5e-5)
    assert found["sub-place"].verdict == "work"
    near = report(SMALL | {"dial.subdials": [SMALL["dial.subdials"][0] | {"hole_diameter": [0.65, 0.3]}]})["sub-place"]
    assert near.low == 0.0, "a distance is never below nothing"
    assert value(report(SMALL), "sub-gap") == pytest.approx(1.0 - 0.4 - (0.4 - 0.1))
    stiff = report(SMALL | {"rules": {"grip_min": 5.0}})
    assert value(stiff, "gap-furniture") == pytest.approx(1.05 - 1.0), "the hour hand over the small one"


def test_what_of_small_seconds_has_no_other_half():
    no_post = report({"dial.subdials": SMALL["dial.subdials"]})
    assert [remedy.kind for remedy in no_post["sub-place"].remedies] == ["accept"]
    no_dial = report({"movement.subsidiary": SMALL["movement.subsidiary"]})
    assert "no hole" in no_dial["sub-place"].sentence
    assert "Bare small seconds post" not in no_dial["gap-crystal"].sentence
    high = [SMALL["movement.subsidiary"][0] | {"height": 2.75}]
    assert "Cut the bare small seconds post" in report({"movement.subsidiary": high})["gap-crystal"].remedies[0].text
    no_hand = report({path: node for path, node in SMALL.items() if "hands" not in path})
    assert no_hand["sub-post"].remedies[0].text.startswith("Get a hand for the small seconds post")


def test_a_second_small_hand_has_checks_of_its_own():
    posts = [SMALL["movement.subsidiary"][0], SMALL["movement.subsidiary"][0] | {"name": "alarm", "angle": -90}]
    dials = [SMALL["dial.subdials"][0], SMALL["dial.subdials"][0] | {"name": "alarm", "angle": 0}]
    found = report(SMALL | {"movement.subsidiary": posts, "dial.subdials": dials})
    assert {"sub-place", "sub-place-2", "sub-post-2"} <= set(keys(found))


def test_the_day_in_its_window():
    """The maker's place is at 90 - 90 = 0. A window at 60 is one step of 360/7 = 51.43 off, and 8.57 degrees more."""
    found = report(DAY)
    assert [found[f"day-{key}"].verdict for key in ("tilt", "position", "cut", "neighbours")] == ["fits"] * 4
    aside = report(DAY | {"dial.day_window": DAY["dial.day_window"] | {"angle": 60}})
    assert value(aside, "day-tilt") == pytest.approx(360 / 7)
    assert aside["day-tilt"].remedies[0].kind == "part"
    two = DAY["movement.day"] | {"pitch": [25.71, 0.01]}
    wide = {"movement.day": two, "dial.day_window": DAY["dial.day_window"] | {"tangential": 5.0}}
    assert value(report(DAY | wide), "day-neighbours") > 0.0
    assert "day-tilt" not in keys(report({"dial.day_window": True, "movement.day": DAY["movement.day"]}))


def test_a_rectangular_case():
    """Bore 27.0 by 30.4, oval movement 26.0 by 29.0: 0.50 at the sides, 0.70 above, and less at the round corners not.

    Dial 26.7 by 30.1 in 26.8 by 30.2: 0.05 all round. Opening 25.8 by 29.2 in the dial: 0.45.
    """
    found = report(RECTANGLE)
    assert value(found, "case-bore") == pytest.approx(1.0)
    assert value(found, "dial-bore") == pytest.approx(0.3)
    assert value(found, "dial-seat") == pytest.approx(0.1)
    assert value(found, "dial-opening") == pytest.approx(0.45)
    assert value(found, "holder-wall") == pytest.approx(1.0 - 0.1)
    assert value(found, "tip-clearance") == pytest.approx(12.9 - 12.0)
    tight = report(RECTANGLE | {"dial.outline": RECTANGLE["dial.outline"] | {"width": 26.9, "height": 30.0}})
    assert "Take 0.06 mm off the dial's edge all round" in tight["dial-seat"].remedies[0].text
    assert value(tight, "dial-opening") == pytest.approx(0.4 - 0.06)
    assert value(tight, "dial-trim") == pytest.approx(26.9 / 2 - 0.06 - 12.0)


def test_the_interval_between_outlines_comes_from_both_ends_of_each_number():
    """The bore's width ±0.1 moves the nearest side by 0.05; its height's 0.1 does not come near."""
    outline = RECTANGLE["case.bore_outline"] | {"width": [27.0, 0.1], "height": [30.4, 0.1]}
    room = report(RECTANGLE | {"case.bore_outline": outline})["case-bore"]
    assert (room.low, room.high) == pytest.approx((0.9, 1.1))
