"""Rings in cases of other constructions: on the floor of a case loaded from the front, and on a ledge."""

from dataclasses import replace
from math import pi

import pytest

from parts.fit import check_sheet
from parts.holder.findings.design import work_out
from parts.holder.mesh import mesh_of, solid_of
from parts.holder.parameters import from_plain
from parts.holder.process import advice
from parts.holder.proposals import propose
from parts.holder.surroundings import surroundings
from tests.fit.sheets import sheet
from tests.holder.pieces import AROUND, ring

FRONT = AROUND | {
    "case.loading": None,
    "case.construction": "front",
    "case.ring": "tension",
    "case.bore_diameter": 26.2,
    "case.floor_stem": 2.2,
    "case.floor_ring": 4.1,
    "case.floor_crystal_centre": 7.0,
    "case.floor_crystal_edge": 6.6,
    "case.front_opening_diameter": 29.4,
    "movement.stem_axis_depth": 1.6,
    "movement.back_height": 3.4,
}
"""The stem's axis stands 2.20 mm above the floor and 1.80 mm above the movement's back: a floor of 0.40 mm."""
LEDGE = AROUND | {
    "dial.rests_on": "movement",
    "case.bore_diameter": 26.2,
    "case.stem_axis_depth": 1.2,
    "case.back_depth": 2.9,
    "movement.ring_rise": None,
    "movement.stem_axis_depth": 1.6,
    "movement.back_height": 2.9,
    "dial.diameter": 24.0,
    "case.dial_opening_diameter": 23.0,
    "case.dial_seat_diameter": None,
}
"""The movement's stem lies 1.60 mm behind the dial rest and the case's 1.20 mm behind the ledge: a rise of 0.40 mm."""


def proposed(base, **changes):
    stands = surroundings(check_sheet(sheet(base | changes)))
    proposals = propose("ring", stands)
    assert {n: p.note for n, p in proposals.items() if p.value is None} == {}
    plain = {name: item.value for name, item in proposals.items() if name != "cutouts"}
    return proposals, from_plain("ring", plain), stands


def told(piece, stands):
    return {item.key: item for item in work_out(piece, stands).findings}


def verdicts(piece, stands, *keys):
    findings = told(piece, stands)
    return [str(findings[key].verdict) for key in keys]


def test_a_ring_on_the_floor_has_the_floor_that_the_stem_asks_for():
    proposals, piece, stands = proposed(FRONT)
    assert (piece.lip_height, piece.lip_reach, piece.nub_count) == (pytest.approx(0.4), 1.0, 0.0)
    assert proposals["lip_height"].note == "the floor that the fit check asks for"
    assert piece.start + piece.height == pytest.approx(3.8, abs=1e-4)
    assert piece.height - piece.channel_axis == pytest.approx(2.2, abs=1e-4)
    piece = replace(piece, heights_plus_minus=0.02)
    assert work_out(piece, stands).verdict == "fits"
    findings = told(piece, stands)
    assert (
        findings["floor-thickness"].sentence == "The ring's floor of 0.40 mm carries the movement at the stem's height."
    )
    assert "ring-gap" not in findings
    assert findings["axial-hold"].sentence == "The case's tension ring keeps the dial and the movement on the floor."


def test_the_step_of_a_ring_that_begins_behind_the_dial_rest_lies_where_the_rim_was_measured():
    """A ring on the floor in whole layers begins behind the dial rest: its step is that much less deep than the rim."""
    wide = {"case.bore_diameter": 29.0, "movement.fit_diameter": 24.0, "movement.overall_diameter": 24.4}
    stands = surroundings(check_sheet(sheet(FRONT | wide)))
    proposals = propose("ring", stands, {"rim_height": 1.0, "first_layer": 0.2, "layer": 0.25})
    plain = {name: item.value for name, item in proposals.items() if name != "cutouts"} | {"rim_height": 1.0}
    start, step = proposals["start"].value, proposals["flange_depth"].value
    assert start > 0
    assert start + step == pytest.approx(1.0)
    found = told(from_plain("ring", plain), stands)
    assert found["rim-depth"].value.value == pytest.approx(0.0)
    assert str(found["flange-room"].verdict) == "fits", "the rim lies beside the step all the same"


def test_the_floor_is_in_the_body():
    _, piece, _ = proposed(FRONT)
    with_floor, without = (mesh_of(solid_of(p)).volume for p in (piece, replace(piece, lip_reach=0.0)))
    inner = piece.inside_diameter / 2
    chamfer = pi * 2 * inner * piece.chamfer**2 / 2
    assert with_floor - without == pytest.approx(pi * (inner**2 - (inner - 1.0) ** 2) * 0.4 + chamfer, rel=2e-3)


@pytest.mark.parametrize(
    ("changes", "key", "wanted"),
    [
        ({"lip_height": 0.6}, "floor-thickness", "work"),
        ({"lip_reach": 0.0}, "floor-thickness", "work"),
        ({"start": 0.5}, "floor-stand", "work"),
        ({"held_by": "case back"}, "axial-hold", "work"),
    ],
)
def test_what_stands_wrong_on_the_floor_is_said(changes, key, wanted):
    _, piece, stands = proposed(FRONT)
    assert verdicts(replace(piece, **changes), stands, key) == [wanted]


def test_a_movement_that_needs_no_spacer_stands_on_the_bare_floor():
    _, piece, stands = proposed(FRONT, **{"case.floor_stem": 1.8})
    assert piece.lip_reach == 0.0
    finding = told(piece, stands)["floor-thickness"]
    assert (str(finding.verdict), finding.sentence) == (
        "fits",
        "The movement stands on the case floor, as the fit check asks.",
    )


def test_a_ring_is_made_to_pass_a_front_that_is_narrower_than_the_bore():
    proposals, piece, stands = proposed(FRONT, **{"case.front_opening_diameter": 25.6})
    assert piece.outside_diameter == pytest.approx(25.5)
    assert proposals["outside_diameter"].note == "the front opening minus 0.05 mm all round"
    assert verdicts(piece, stands, "front-pass", "bore-room") == ["fits", "work"]
    (remedy,) = told(piece, stands)["bore-room"].remedies
    assert remedy.text.startswith("No larger ring goes in through the front: split it")
    split = replace(piece, split_width=1.6, split_angle=180.0)
    (remedy,) = told(split, stands)["bore-room"].remedies
    assert remedy.text == "Make the outside larger."


def test_a_split_ring_springs_through_a_narrow_front():
    """26.0 through 25.6: closing a gap of 1.60 mm makes it 0.51 mm smaller; whole it does not pass."""
    _, piece, stands = proposed(FRONT, **{"case.front_opening_diameter": 25.6})
    wide = replace(piece, outside_diameter=26.0)
    assert verdicts(wide, stands, "front-pass") == ["no"]
    split = replace(wide, split_width=1.6, split_angle=180.0)
    assert verdicts(split, stands, "front-pass", "split-strain", "one-piece") == ["work", "fits", "fits"]
    (remedy,) = told(split, stands)["front-pass"].remedies
    assert remedy.text.endswith("where its split closes before it passes, widen the split.")
    wall = split.wall
    assert told(split, stands)["split-strain"].value.value == pytest.approx(4 * 0.4 * wall / (3 * (26.0 - wall) ** 2))
    assert verdicts(replace(split, split_width=0.8), stands, "front-pass") == ["no"]


def test_the_stub_of_a_split_stem_goes_into_a_channel_that_is_open_to_the_dial():
    joint = {"stem.joint": {"inner_length": 8.0, "outer_length": 6.0, "overlap": 0.5}, "stem.length": None}
    _, piece, stands = proposed(FRONT, **joint)
    closed = replace(piece, channel_open="closed")
    assert verdicts(piece, stands, "order") == ["fits"]
    finding = told(closed, stands)["order"]
    assert str(finding.verdict) == "no"
    assert "the stem's inner part" in finding.sentence
    assert verdicts(replace(piece, channel_open="closed"), proposed(FRONT)[2], "order") == ["fits"]


def test_a_ring_on_a_ledge_carries_the_dial_in_front_of_it_by_its_step():
    proposals, piece, stands = proposed(LEDGE)
    assert (piece.nose_height, piece.nose_diameter) == (pytest.approx(0.4), 23.9)
    assert proposals["nose_height"].note == "the dial rest over the ledge, so that the stem meets its hole"
    assert piece.height == pytest.approx(0.2 + 19 * 0.15)  # whole layers below 2.9 + 0.4 - 0.15
    assert verdicts(piece, stands, "stem-room", "ring-gap") == ["fits"] * 2
    assert verdicts(replace(piece, heights_plus_minus=0.02), stands, "ledge-step") == ["fits"]
    assert verdicts(replace(piece, nose_height=0.7), stands, "ledge-step") == ["work"]
    assert verdicts(replace(piece, nose_diameter=0.0), stands, "ledge-step") == ["work"]


def test_behind_the_ledge_the_ring_goes_round_the_dials_edge():
    """The stem asks for a dial rest 0.30 mm behind the ledge."""
    _, piece, stands = proposed(LEDGE, **{"case.stem_axis_depth": 1.9, "case.back_depth": 3.4})
    assert (piece.start, piece.flange_depth) == (pytest.approx(-0.3), pytest.approx(0.3))
    assert piece.flange_diameter == pytest.approx(24.1)
    assert verdicts(piece, stands, "stem-room", "ring-gap") == ["fits"] * 2
    assert verdicts(replace(piece, heights_plus_minus=0.02), stands, "ledge-step") == ["fits"]


def test_what_a_case_loaded_from_the_back_has_is_not_asked_of_the_floor():
    _, piece, stands = proposed(FRONT)
    assert not {"ring-gap", "nub-press", "ledge-step"} & set(told(piece, stands))
    assert not {"front-pass", "floor-stand", "ledge-step"} & set(told(ring(), proposed(AROUND)[2]))


def test_a_spacer_on_the_floor_lies_under_the_movement_clear_of_disc_and_feet():
    """Both are on the dial side: a date disc of 11.00 mm and the feet do not meet it."""
    date = sheet()["movement"]["date"]
    feet = [{"angle": 45, "radius": 10.5, "diameter": 0.7}]
    stands = surroundings(check_sheet(sheet(FRONT | {"movement.date": date, "dial.feet": feet})))
    proposals = propose("spacer", stands)
    assert (proposals["thickness"].value, proposals["notches"].value) == (pytest.approx(0.4), ())
    assert (proposals["outside_diameter"].value, proposals["inside_diameter"].value) == (22.0, 19.0)
    piece = from_plain("spacer", {n: p.value for n, p in proposals.items() if n != "notches"})
    assert work_out(replace(piece, heights_plus_minus=0.02), stands).verdict == "fits"
    assert not {"disc-room", "feet-room"} & set(told(piece, stands))


def test_a_ring_on_the_floor_is_drawn_where_it_stands_in_any_layers():
    """A floor of 0.65 mm in four layers of 0.1625 mm makes a ring of 3.4125 mm, with 0.2375 mm of room left over it."""
    floor = {"movement.stem_axis_depth": [1.45, 0.02], "movement.back_height": 3.0, "case.floor_stem": [2.2, 0.03]}
    _, piece, stands = proposed(FRONT | floor | {"case.floor_ring": 4.05, "dial.thickness": 0.4})
    assert (piece.layer, piece.height, piece.start) == pytest.approx((0.1625, 3.4125, 0.2375), abs=1e-9)
    found = told(replace(piece, heights_plus_minus=0.0), stands)["floor-stand"]
    assert (str(found.verdict), found.sentence[:36]) == ("fits", "The ring stands on the case floor wi")
    assert "layers of 0.1625 mm on a first one of 0.1625 mm" in " ".join(advice(piece))


def test_a_stem_without_a_known_thread_is_as_thick_as_its_body():
    unknown = {"movement.stem_thread": None, "stem.thread": None, "stem.diameter": 1.1}
    assert surroundings(check_sheet(sheet(AROUND | unknown))).stem_thread.value == 1.1


@pytest.mark.parametrize(
    ("stem", "split"), [(90.0, 270.0), (110.0, 290.0), (180.0, 270.0), (160.0, 250.0), (159.0, 339.0), (201.0, 21.0)]
)
def test_a_split_is_proposed_opposite_the_stem_and_clear_of_the_mark_at_12(stem, split):
    proposals, piece, _ = proposed(FRONT, **{"case.stem_angle": stem})
    assert (proposals["split_angle"].value, piece.split_angle) == (split, split)
