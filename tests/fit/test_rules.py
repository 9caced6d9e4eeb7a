"""Bench rules: each has a reason, and each moves the edge that it names."""

from dataclasses import asdict

import pytest

from parts.fit.rules import DEFAULT_RULES, RULES, read_rules
from tests.fit.constructions.sheets import FRONT, SMALL, SPLIT, TENSION
from tests.fit.sheets import report

LOOSE = {"dial.feet": []}
TRIM = {"case.dial_seat_diameter": 28.4}
RAISED = {"case.stem_axis_depth": 2.15, "case.back_depth": 5.0, "spacer.placement": "front"}
PADS = {"dial.fixing": "pads", "dial.pad_thickness": 0.15, "case.back_depth": 5.0}
SOLD = {"hands.hour.hole_diameter": None, "hands.hour.made_for": 1.6, "movement.posts.hour.made_for": 1.5}
DOME = {"case.crystal_gap_centre": 3.4, "case.crystal_gap_edge": 3.0, "case.crystal_edge_radius": 11.0}
SCREW = {"crown.style": "screw", "crown.spring_travel": 0.8}


DEFAULTS = {
    "holder_clearance": 0.10,
    "wall_min": 0.80,
    "shim_max": 0.10,
    "bore_play_min": 0.02,
    "stem_tol": 0.10,
    "tube_play_min": 0.05,
    "back_gap_min": 0.10,
    "ring_play_max": 0.05,
    "ring_press_min": 0.02,
    "ring_press_max": 0.15,
    "dial_trim_max": 0.50,
    "dial_play_min": 0.02,
    "dial_play_max": 0.30,
    "dial_cover_min": 0.20,
    "dial_edge_min": 0.10,
    "furniture_rim_min": 0.10,
    "dial_sunk_max": 0.30,
    "dial_held_min": 0.10,
    "wheel_rise_max": 0.05,
    "date_depth_max": 0.20,
    "date_disc_bare": 0.02,
    "centre_open_max": 1.00,
    "centre_play_min": 0.20,
    "pad_disc_gap": 0.30,
    "pad_width_min": 0.50,
    "pad_thickness": 0.10,
    "dial_turn_max": 1.0,
    "hub_wall": 0.15,
    "post_open_free": 0.10,
    "post_press_max": 0.02,
    "post_press_thin": 0.015,
    "post_close_max": 0.03,
    "made_for_tol": 0.005,
    "gap_touch": 0.05,
    "gap_min": 0.15,
    "dome_beyond_max": 0.50,
    "tip_touch": 0.10,
    "tip_min": 0.20,
    "reach_minute_short": 1.50,
    "reach_minute_long": 0.30,
    "reach_hour_short": 2.00,
    "reach_hour_long": 1.00,
    "date_tilt_max": 12,
    "date_offset_fits": 0.20,
    "date_offset_max": 1.00,
    "date_cut_fits": 0.02,
    "date_cut_max": 0.15,
    "date_sliver_fits": 0.05,
    "date_sliver_max": 0.60,
    "sub_place_min": 0.10,
    "foot_slack": 0.05,
    "thread_tol": 0.005,
    "tube_play_max": 0.15,
    "cell_life_min": 12,
    "grip_min": 0.30,
    "crown_gap": 0.05,
    "rough_cut": 0.50,
    "file_cut": 0.10,
    "stem_short_ok": 0.05,
    "stem_long_ok": 0.10,
    "thread_turns_min": 1.5,
    "stem_tube_min": 0.10,
    "joint_clear_min": 0.10,
    "spacer_pm": 0.02,
}
"""As the fit model has them."""


def test_the_defaults_are_the_fit_models():
    assert asdict(DEFAULT_RULES) == DEFAULTS


def test_every_rule_tells_its_reason_and_unit():
    for rule in RULES.values():
        assert rule.metadata["label"]
        assert len(rule.metadata["reason"]) > 20
        assert rule.metadata["unit"] in ("mm", "deg", "share", "months", "count")


def test_none_given_is_the_shared_default():
    assert read_rules({}) is read_rules(None) is DEFAULT_RULES
    assert read_rules({"gap_min": 0.15}) == DEFAULT_RULES


@pytest.mark.parametrize(
    ("rule", "value", "key", "changes", "before", "after"),
    [
        ("holder_clearance", 0.02, "holder-wall", {}, "fits", "work"),
        ("bore_play_min", 0.06, "case-bore", {}, "fits", "work"),
        (
            "tube_play_min",
            0.2,
            "stem-height",
            {"case.stem_axis_depth": 2.08, "case.tube_bore_diameter": 1.2},
            "fits",
            "work",
        ),
        ("dial_edge_min", 2.2, "dial-trim", TRIM, "fits", "work"),
        ("furniture_rim_min", 3.4, "dial-furniture", {}, "fits", "work"),
        ("dial_sunk_max", 0.1, "dial-sunk", RAISED, "fits", "work"),
        ("dial_held_min", 0.3, "dial-held", RAISED | {"case.seat_wall": 0.4}, "fits", "work"),
        ("wheel_rise_max", 0.2, "hour-wheel", PADS, "work", "fits"),
        ("date_depth_max", 0.1, "date-depth", PADS, "fits", "work"),
        ("date_disc_bare", 0.1, "date-disc", {"movement.date.disc_outer_radius": 10.75}, "work", "fits"),
        (
            "hub_wall",
            0.1,
            "post-hour",
            {"hands.hour.hole_diameter": 1.3, "hands.hour.hub_diameter": 1.75},
            "no",
            "work",
        ),
        (
            "post_open_free",
            0.25,
            "post-hour",
            {"hands.hour.hole_diameter": 1.3, "hands.hour.hub_diameter": 1.75},
            "no",
            "work",
        ),
        ("post_press_thin", 0.005, "post-seconds", {}, "fits", "work"),
        ("made_for_tol", 0.2, "post-hour", SOLD, "work", "fits"),
        ("dome_beyond_max", 2.0, "gap-crystal", DOME, "unclear", "fits"),
        ("stem_tube_min", 1.2, "stem-tube", {}, "fits", "work"),
        ("stem_short_ok", 0.2, "stem-length", {"stem.length": 14.9}, "work", "fits"),
        ("stem_tol", 0.2, "stem-height", {"case.stem_axis_depth": 2.15}, "work", "fits"),
        ("back_gap_min", 0.3, "back-gap", {}, "fits", "work"),
        ("ring_play_max", 0.1, "ring-gap", FRONT | {"case.floor_ring": 3.98}, "work", "fits"),
        ("ring_press_min", 0.0, "ring-gap", TENSION | {"case.floor_ring": 3.89}, "work", "fits"),
        ("ring_press_max", 0.3, "ring-gap", TENSION | {"case.floor_ring": 3.7}, "no", "fits"),
        ("joint_clear_min", 0.5, "joint-clear", SPLIT, "fits", "work"),
        ("sub_place_min", 0.25, "sub-place", SMALL, "fits", "work"),
        ("dial_trim_max", 0.7, "dial-seat", {"dial.diameter": 29.2}, "no", "work"),
        ("dial_play_min", 0.11, "dial-seat", {}, "fits", "work"),
        ("dial_play_max", 0.05, "dial-seat", {}, "fits", "work"),
        ("dial_cover_min", 0.5, "dial-opening", {}, "fits", "work"),
        ("centre_open_max", 1.2, "centre-hole", {"dial.centre_hole_diameter": 0.4}, "no", "work"),
        ("centre_play_min", 0.4, "centre-hole", {}, "fits", "work"),
        ("pad_disc_gap", 2.8, "pad-room", LOOSE, "fits", "work"),
        ("pad_width_min", 3.0, "pad-room", LOOSE, "fits", "work"),
        ("post_press_max", 0.005, "post-hour", {}, "fits", "work"),
        (
            "post_close_max",
            0.06,
            "post-hour",
            {"hands.hour.hole_diameter": 1.55, "hands.hour.hub_diameter": 1.79},
            "no",
            "work",
        ),
        ("gap_touch", 0.01, "gap-crystal", {"case.crystal_gap_centre": 2.24}, "no", "work"),
        ("gap_min", 0.25, "gap-crystal", {}, "fits", "work"),
        ("tip_touch", 0.05, "tip-clearance", {"hands.seconds.length": 13.72}, "no", "work"),
        ("tip_min", 2.0, "tip-clearance", {}, "fits", "work"),
        ("reach_minute_short", 0.4, "reach-minute", {}, "fits", "work"),
        ("reach_minute_long", 1.0, "reach-minute", {"dial.minute_track_radius": 11.0}, "work", "fits"),
        ("reach_hour_short", 0.4, "reach-hour", {}, "fits", "work"),
        ("reach_hour_long", 2.0, "reach-hour", {"dial.hour_marker_inner_radius": 6.5}, "work", "fits"),
        ("date_offset_fits", 0.5, "date-position", {"movement.date.numeral_radius": 10.4}, "work", "fits"),
        ("date_offset_max", 2.0, "date-position", {"movement.date.numeral_radius": 11.4}, "no", "work"),
        ("date_cut_fits", 0.1, "date-cut", {"dial.window.radial": 1.1}, "work", "fits"),
        ("date_cut_max", 0.5, "date-cut", {"dial.window.radial": 0.9}, "no", "work"),
        ("date_sliver_fits", 0.5, "date-neighbours", {"dial.window.tangential": 2.8}, "work", "fits"),
        ("date_sliver_max", 0.7, "date-neighbours", {"dial.window.tangential": 3.7}, "no", "work"),
        ("foot_slack", 0.2, "dial-feet", {"dial.feet.0.radius": 11.2}, "work", "fits"),
        ("thread_tol", 0.5, "stem-thread", {"crown.thread": 1.2}, "work", "fits"),
        ("tube_play_max", 0.05, "crown-tube", {}, "fits", "work"),
        ("cell_life_min", 48, "cell-life", {}, "fits", "work"),
        ("stem_long_ok", 1.0, "stem-length", {}, "work", "fits"),
        ("grip_min", 0.69, "gap-hour-dial", {"hands.hour.hub_height": 0.7}, "fits", "work"),
    ],
)
def test_a_rule_moves_the_edge_that_it_names(rule, value, key, changes, before, after):
    assert report(changes)[key].verdict == before
    assert report(changes | {"rules": {rule: value}})[key].verdict == after


@pytest.mark.parametrize(
    ("rule", "value", "found"),
    [
        ("wall_min", 2.0, "Turn the ring from metal, wall 1.90 mm."),
        ("wall_min", 1.0, "Print a holder ring, wall 1.90 mm."),
        ("shim_max", 0.8, "Print a holder ring, wall 1.90 mm."),
    ],
)
def test_the_wall_that_prints(rule, value, found):
    remedies = report({"movement.fit_diameter": 24.7, "rules": {rule: value}})["holder-wall"].remedies
    assert [remedy.text for remedy in remedies] == [found]


def test_closing_a_collet_or_bushing_it():
    hole = {"hands.hour.hole_diameter": 1.54}
    closing = hole | {"rules": {"post_close_max": 0.05}}
    assert [report(changes)["post-hour"].remedies[0].kind for changes in (hole, closing)] == ["part", "work"]


def test_the_thinnest_wall_of_a_ring():
    thin = {"movement.fit_diameter": 28.2}
    for rule, kind in ((0.1, "part"), (0.2, "work")):
        assert [item.kind for item in report(thin | {"rules": {"shim_max": rule}})["holder-wall"].remedies] == [kind]


@pytest.mark.parametrize(("most", "kind"), [(10.0, "part"), (12.0, "accept")])
def test_how_far_a_date_may_tilt_before_another_disc_is_needed(most, kind):
    check = report({"movement.date.angle": 11.0, "rules": {"date_tilt_max": most}})["date-tilt"]
    assert [item.kind for item in check.remedies] == [kind]


@pytest.mark.parametrize(("turns", "kind"), [(1.0, "work"), (2.0, "part")])
def test_how_much_thread_a_cut_stem_keeps(turns, kind):
    check = report(
        {"stem": {"thread": 0.9, "length": 16.0, "thread_length": 2.0}, "rules": {"thread_turns_min": turns}}
    )
    assert [item.kind for item in check["stem-length"].remedies] == [kind]


def test_the_spacers_own_plus_minus():
    changes = {"case.stem_axis_depth": 2.3, "case.back_depth": 5.0}
    assert report(changes)["back-gap"].value.half_width == pytest.approx(0.02)
    assert report(changes | {"rules": {"spacer_pm": 0.05}})["back-gap"].value.half_width == pytest.approx(0.05)


def test_the_stems_own_lengths():
    plan = report({"rules": {"crown_gap": 0.1, "rough_cut": 0.4, "file_cut": 0.2}, "stem.length": 18.0}).stem
    assert [step.length for step in plan.steps] == pytest.approx([15.5, 15.3, 15.1])
    assert report(SCREW | {"rules": {"crown_gap": 0.5}}).stem.length == pytest.approx(15.4)
