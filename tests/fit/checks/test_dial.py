"""The dial in its seat, under its opening and round the hour post: every edge from both sides."""

import pytest

from parts.fit import check_sheet
from tests.fit.sheets import judged, keys, kinds, report


@pytest.mark.parametrize(
    ("seat", "value", "verdict", "remedies"),
    [
        (27.99, -0.51, "no", []),
        (28.0 - 1e-10, -0.5, "work", ["work"]),
        (28.0, -0.5, "work", ["work"]),
        (28.51, 0.01, "work", ["work"]),
        (28.52 - 1e-8, 0.01999999, "work", ["work"]),
        (28.52, 0.02, "fits", []),
        (28.53, 0.03, "fits", []),
        (28.8, 0.3, "fits", []),
        (28.8 + 1e-10, 0.3, "fits", []),
        (28.81, 0.31, "work", ["part"]),
        ([28.6, 0.08], 0.1, "fits", []),
        ([28.6, 0.09], 0.1, "work", ["work"]),
        ([28.7, 0.11], 0.2, "work", ["part"]),
        ([28.6, 0.3], 0.1, "work", ["work"]),
        ([28.0, 0.01], -0.5, "unclear", ["work"]),
        ([27.8, 0.1], -0.7, "no", []),
    ],
)
def test_play_of_the_dial_in_its_seat(seat, value, verdict, remedies):
    found = judged("dial-seat", {"case.dial_seat_diameter": seat})
    assert found.value.value == pytest.approx(value, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


@pytest.mark.parametrize(
    ("opening", "value", "verdict", "remedies"),
    [
        (28.52, -0.01, "no", []),
        (28.5, 0.0, "work", ["accept"]),
        (28.48, 0.01, "work", ["accept"]),
        (28.12, 0.19, "work", ["accept"]),
        (28.1, 0.2, "fits", []),
        (28.1 + 2e-10, 0.2, "fits", []),
        (28.1 + 2e-8, 0.19999999, "work", ["accept"]),
        (28.08, 0.21, "fits", []),
        ([28.4, 0.1], 0.05, "work", ["accept"]),
        ([28.4, 0.12], 0.05, "unclear", ["accept"]),
    ],
)
def test_edge_of_the_dial_under_the_rim(opening, value, verdict, remedies):
    found = judged("dial-opening", {"case.dial_opening_diameter": opening})
    assert found.value.value == pytest.approx(value, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


@pytest.mark.parametrize(
    ("hole", "value", "verdict", "remedies"),
    [
        (0.49, -1.01, "no", []),
        (0.5, -1.0, "work", ["work"]),
        (0.51, -0.99, "work", ["work"]),
        (1.69, 0.19, "work", ["work"]),
        (1.7, 0.2, "fits", []),
        (1.71, 0.21, "fits", []),
        ([1.71, 0.02], 0.21, "work", ["work"]),
        ([0.5, 0.01], -1.0, "unclear", ["work"]),
    ],
)
def test_hour_post_in_the_centre_hole(hole, value, verdict, remedies):
    found = judged("centre-hole", {"dial.centre_hole_diameter": hole})
    assert found.value.value == pytest.approx(value, abs=1e-9)
    assert (found.verdict, kinds(found)) == (verdict, remedies)


def test_the_hole_is_opened_to_the_post_and_its_play():
    found = judged("centre-hole", {"dial.centre_hole_diameter": 1.2})
    assert [remedy.text for remedy in found.remedies] == ["Open the centre hole to at least 1.70 mm."]


def test_a_hole_that_is_wide_enough_but_for_its_plus_minus_is_tried_before_it_is_opened():
    found = judged("centre-hole", {"dial.centre_hole_diameter": [1.75, 0.06]})
    assert [remedy.text for remedy in found.remedies] == [
        "Try a 1.70 mm pin in the centre hole, and open the hole if the pin does not pass."
    ]
    assert found.sentence.endswith("with 0.25 mm to spare; with its ± that may be too little.")


def test_a_seat_that_may_be_too_tight_or_too_wide_is_measured_first():
    (remedy,) = judged("dial-seat", {"case.dial_seat_diameter": [28.6, 0.3]}).remedies
    assert remedy.text.startswith("Measure dial and seat again")


def test_one_trim_serves_bore_and_seat_by_the_larger_of_the_two():
    """The bore 28.40 asks for 28.40, the seat 28.45 for 28.43: the dial is reduced once, to 28.40."""
    found = report(
        {"case.bore_diameter": 28.4, "case.dial_seat_diameter": 28.45, "movement.overall_diameter": 28.3}
        | {"movement.fit_diameter": 28.3}
    )
    both = [found[key].remedies[0].text for key in ("dial-bore", "dial-seat")]
    assert both == ["Reduce the dial's edge to 28.40 mm."] * 2
    assert sum("Reduce the dial" in remedy.text for _, remedy in found.asked_for) == 1
    assert found["dial-trim"].value.value == pytest.approx(14.2 - 12.0)
    assert found["dial-opening"].value.value == pytest.approx((28.4 - 27.6) / 2)


def test_a_trimmed_dial_has_what_the_seat_leaves_it_and_nothing_of_its_own_diameters_doubt():
    found = judged("dial-trim", {"case.dial_seat_diameter": [28.4, 0.02], "dial.diameter": [28.5, 0.05]})
    assert found.value.half_width == pytest.approx(0.01)


def test_no_trim_no_check_of_it():
    assert "dial-trim" not in keys(report())
    assert "dial-trim" not in keys(report({"case.dial_seat_diameter": 27.99}))


def test_the_edge_that_a_trim_leaves_needs_the_minute_marks():
    found = judged("dial-trim", {"case.dial_seat_diameter": 28.4, "dial.minute_track_radius": None})
    assert (found.verdict, found.missing) == ("unclear", ("dial.minute_track_radius",))


def test_of_several_markers_the_outermost_decides_and_flat_ones_do_not_count():
    pieces = [
        {"name": "printed", "inner_radius": 9.0, "outer_radius": 13.9, "height": 0},
        {"name": "applied", "inner_radius": 9.0, "outer_radius": 13.75, "height": 0.2},
        {"name": "inner", "inner_radius": 9.0, "outer_radius": 10.0, "height": 0.2},
    ]
    found = judged("dial-furniture", {"dial.furniture": pieces})
    assert (found.value.value, found.verdict) == (pytest.approx(0.05), "work")
    assert found.sentence.startswith("The applied ")
    assert "dial-furniture" not in keys(report({"dial.furniture": pieces[:1]}))


@pytest.mark.parametrize("wall", [None, 0.3])
def test_the_dials_hold_is_asked_only_with_a_spacer_in_front_and_a_wall_measured(wall):
    raised = {"case.stem_axis_depth": 2.3, "case.back_depth": 9.0, "case.seat_wall": wall}
    assert ("dial-held" in keys(report(raised | {"spacer.placement": "front"}))) is (wall is not None)
    assert "dial-held" not in keys(report(raised | {"spacer.placement": "rear"}))
    assert "dial-held" not in keys(report({"case.seat_wall": wall}))


def test_the_hole_shows_where_it_has_to_be_opened_beyond_the_hub():
    """1.20 is opened to 1.70; a hub of 1.65 covers the hole as it is and not as it will be."""
    changes = {"dial.centre_hole_diameter": 1.2, "hands.hour.hub_diameter": 1.65}
    assert judged("hole-cover", changes).value.value == pytest.approx(-0.05)


def test_the_boss_is_what_covers_the_hole_and_the_collet_where_there_is_none():
    assert judged("hole-cover").value.value == pytest.approx(2.2 - 1.8)
    assert judged("hole-cover", {"hands.hour.boss_diameter": 3.0}).value.value == pytest.approx(1.2)


OWN = {"dial.own_case": True}


@pytest.mark.parametrize(
    ("key", "path"),
    [
        ("dial-seat", "case.dial_seat_diameter"),
        ("dial-bore", "case.bore_diameter"),
        ("dial-opening", "case.dial_opening_diameter"),
    ],
)
def test_a_dial_that_came_out_of_this_case_needs_no_numbers(key, path):
    found = judged(key, OWN | {path: None})
    assert (found.verdict, found.missing, found.sentence) == ("fits", (), "The dial came out of this case.")
    assert judged(key, {path: None}).verdict == "unclear"


def test_numbers_that_ask_for_a_trim_stand_although_the_dial_came_out_of_this_case():
    assert judged("dial-seat", OWN | {"case.dial_seat_diameter": 28.4}).verdict == "work"


@pytest.mark.parametrize(
    ("key", "path"),
    [
        ("dial-seat", "case.dial_seat_diameter"),
        ("dial-seat", "dial.diameter"),
        ("dial-opening", "case.dial_opening_diameter"),
        ("centre-hole", "dial.centre_hole_diameter"),
        ("centre-hole", "movement.posts.hour.diameter"),
    ],
)
def test_what_is_not_measured_is_named(key, path):
    found = judged(key, {path: None})
    assert (found.verdict, found.missing, found.sentence.split(":")[0]) == ("unclear", (path,), "Not measured yet")


@pytest.mark.parametrize("outer", [13.75, 14.2])
def test_a_marker_may_have_braces_in_its_name(outer):
    found = judged("dial-furniture", {"dial.furniture.0.name": "{index}", "dial.furniture.0.outer_radius": outer})
    assert "The {index} " in found.sentence


TRY = "and take off its edge only what is tight."


@pytest.mark.parametrize(
    ("key", "changes", "text"),
    [
        ("dial-seat", {"case.dial_seat_diameter": [28.55, 0.08]}, f"Try the dial in its seat, {TRY}"),
        ("dial-bore", {"case.bore_diameter": [28.52, 0.05]}, f"Try the dial through the bore, {TRY}"),
    ],
)
def test_a_dial_that_is_small_enough_but_for_its_plus_minus_is_tried_and_nothing_is_named_to_come_off(
    key, changes, text
):
    found = judged(key, changes)
    assert (found.verdict, [remedy.text for remedy in found.remedies]) == ("work", [text])
    assert found.sentence.endswith("; with its ± that may be too little.")


def test_a_shaped_dial_that_is_small_enough_but_for_its_plus_minus_is_tried():
    def rectangle(width, height, corner):
        return {"shape": "rectangle", "width": width, "height": height, "corner": corner}

    case = {"seat_outline": rectangle([16, 0.05], [22.2, 0.05], [1.5, 0.2])}
    dial = {"outline": rectangle([15.9, 0.03], [22.1, 0.03], [1.4, 0.2])}
    found = next(check for check in check_sheet({"case": case, "dial": dial}).checks if check.key == "dial-seat")
    assert [remedy.text for remedy in found.remedies] == [f"Try the dial in its seat, {TRY}"]
