"""What is picked gives the dimensions that it should: directions, mirrors, boxes; proposals hit what is there."""

import numpy as np
import pytest

from parts.fit.records import input_of
from parts.picture import propose
from parts.picture.edges.face import Face, Picked
from parts.picture.edges.round import circle as round_edge
from parts.picture.propose.coarse import flat
from parts.picture.reading import Reading, read
from parts.picture.subjects import (
    CASE,
    DIAL_BACK,
    DIAL_FRONT,
    HANDS,
    LANDMARKS,
    MOVEMENT,
    SUBJECTS,
    angle_from_twelve,
    feet_by_landmark,
    outlines,
    readings,
)
from tests.picture.dial import DIAL

NOWHERE = (np.zeros((3, 13)), np.zeros((3, 3)))


def circle(x, y, radius):
    return Picked(np.array([x, y, radius], float), *NOWHERE)


def place(x, y):
    return Picked(np.array([x, y], float), np.zeros((2, 13)), np.zeros((2, 2)))


def edge(x, y, angle):
    return Picked(np.array([x, y, np.radians(angle)], float), *NOWHERE)


def values(plane, subject, **picked):
    named = {key.replace("__", ".").replace("_", "-"): pick for key, pick in picked.items()}
    return {path: reading.value for path, reading in readings(plane, subject, named).items()}


def box(x, y, wide, high):
    edges = (
        edge(x, y - high / 2, 0),
        edge(x + wide / 2, y, 90),
        edge(x, y + high / 2, 180),
        edge(x - wide / 2, y, 270),
    )
    return {f"window__{i}": pick for i, pick in enumerate(edges)}


def test_every_dimension_is_one_of_the_sheet():
    for subject in SUBJECTS.values():
        keys = {pick.key for pick in subject.picks}
        for dimension in subject.dimensions:
            assert input_of(dimension.path).unit in ("mm", "deg")
            assert {need.partition(".")[0] for need in dimension.needs} <= keys


@pytest.mark.parametrize(
    ("x", "y", "angle", "radial", "tangential"),
    [(9, 0, 90, 2.2, 1.6), (0, 9, 180, 1.6, 2.2), (-9, 0, 270, 2.2, 1.6), (0, -9, 0, 1.6, 2.2)],
)
def test_a_window_lies_clockwise_from_twelve_along_and_across_the_radius(plane, x, y, angle, radial, tangential):
    got = values(plane, DIAL_FRONT, hole=circle(1, 1, 1), twelve__0=place(1, -10), **box(x + 1, y + 1, 2.2, 1.6))
    assert got["dial.window.angle"] == pytest.approx(angle)
    assert got["dial.window.radius"] == pytest.approx(9)
    assert (got["dial.window.radial"], got["dial.window.tangential"]) == pytest.approx((radial, tangential))


def test_a_dial_that_lies_turned_reads_the_same(plane):
    turned = {"hole": circle(0, 0, 1), "twelve__0": place(10, 0), "track__0": place(0, 12), "track__1": place(12.1, 0)}
    got = values(plane, DIAL_FRONT, **turned, track__2=place(-11.9, 0), **box(0, 9, 1.6, 2.2))
    assert got["dial.window.angle"] == pytest.approx(90)
    assert got["dial.minute_track_radius"] == pytest.approx(12)


def test_feet_are_mirrored_once(plane):
    got = values(plane, DIAL_BACK, hole=circle(0, 0, 1), twelve__0=place(0, -9), foot_1=circle(-10, 0, 0.4))
    assert got.pop("dial.centre_hole_diameter") == pytest.approx(2.0)
    assert got == pytest.approx({"dial.feet[0].angle": 90.0, "dial.feet[0].radius": 10.0, "dial.feet[0].diameter": 0.8})


@pytest.mark.parametrize("landmark", LANDMARKS)
def test_feet_of_a_back_without_twelve_count_from_what_both_sides_show(plane, landmark):
    """The front has it at 90 degrees; from behind it lies downwards, the foot a quarter against the clock."""
    spots = {key: place(1, 8) for key in LANDMARKS[landmark]}
    picked = {"hole": circle(1, 1, 1), "foot-1": circle(9, 1, 0.4)} | spots
    got = feet_by_landmark(plane, picked, landmark, Reading(90.0, 0.3))
    assert got.keys() == {"dial.feet[0].angle"}
    assert got["dial.feet[0].angle"].value == pytest.approx(180.0)
    assert got["dial.feet[0].angle"].plus_minus == pytest.approx(0.3, abs=0.001)


def test_both_sides_read_the_same_angle_of_a_notch(plane):
    picked = {"hole": circle(0, 0, 1), "twelve.0": place(0, -9), "notch.0": place(9, 0)}
    assert angle_from_twelve(plane, DIAL_FRONT, picked, "notch").value == pytest.approx(90)
    assert angle_from_twelve(plane, DIAL_BACK, picked, "notch").value == pytest.approx(270)
    assert angle_from_twelve(plane, DIAL_BACK, {"hole": circle(0, 0, 1)}, "notch") is None


@pytest.mark.parametrize(
    ("one", "other", "degrees", "agree"),
    [
        (28.50, 28.56, False, True),
        (28.50, 28.57, False, False),
        (359.99, 0.04, True, True),
        (359.99, 0.04, False, False),
    ],
)
def test_readings_agree_within_both_plus_minus(one, other, degrees, agree):
    assert Reading(one, 0.04).agrees(Reading(other, 0.0201), degrees=degrees) is agree


def test_a_raised_marker_runs_from_its_nearest_to_its_farthest_point(plane):
    spots = {"raised-2.0": place(0, -8), "raised-2.1": place(3, -12)}
    got = values(
        plane, DIAL_FRONT, hole=circle(0, 0, 1), **{key.replace(".", "__"): spot for key, spot in spots.items()}
    )
    assert got["dial.furniture[1].inner_radius"] == pytest.approx(8)
    assert got["dial.furniture[1].outer_radius"] == pytest.approx(np.hypot(3, 12))


def test_foot_holes_count_from_the_stem(plane):
    got = values(plane, MOVEMENT, post=circle(0, 0, 0.9), stem__0=place(12, 0), foot_hole_1=circle(0, 11, 0.45))
    assert got["movement.foot_holes[0].angle"] == pytest.approx(90)
    assert got["movement.foot_holes[0].radius"] == pytest.approx(11)


def test_a_hand_is_long_from_its_hole(plane):
    got = values(plane, HANDS["minute"], hole=circle(0, 0, 0.45), tip__0=place(0, -12.4), tail__0=place(0, 3.1))
    assert got["hands.minute.length"] == pytest.approx(12.4)
    assert got["hands.minute.tail"] == pytest.approx(3.1)
    assert got["hands.minute.hole_diameter"] == pytest.approx(0.9)


def test_the_proposals_hit_what_is_there(picture, plane):
    face = Face(picture, plane)
    rim = propose.rim(face)
    assert abs(2 * rim.values[2] - 28.5) < 0.03
    hole = propose.hole(face, rim)
    assert np.hypot(*(hole.values[:2] - DIAL.middle)) < 0.02
    assert abs(2 * hole.values[2] - 2.0) < 0.03
    window = propose.window(face, rim)
    got = readings(plane, DIAL_FRONT, {"hole": hole} | {f"window.{i}": one for i, one in enumerate(window)})
    assert abs(got["dial.window.radial"].value - 2.2) < 0.03
    assert abs(got["dial.window.tangential"].value - 1.6) < 0.03
    foot = propose.feet(face, rim)
    assert [read(plane, lambda circle: 2 * circle[2], one).value for one in foot] == pytest.approx([0.8], abs=0.03)


def test_what_is_proposed_is_looked_for_in_the_straight_picture_that_is_at_hand(picture, plane, monkeypatch):
    """A picture is straightened once; a place in a smaller copy of it is the same place."""
    face = Face(picture, plane, plane.rectified(picture))
    monkeypatch.setattr(type(plane), "rectified", None)
    rim = propose.rim(face)
    assert rim.values == pytest.approx([*DIAL.middle, 14.25], abs=0.03)
    grey, coarse = flat(face, 7.0, even=False)
    assert grey.shape == (coarse.side, coarse.side)
    rows, columns = np.nonzero(grey < 100)
    dark = coarse.to_mm(np.column_stack([columns, rows]))
    middle = rim.values[:2]
    assert dark[np.hypot(*(dark - middle).T) < 1.5].mean(axis=0) == pytest.approx(middle, abs=0.015)
    assert propose.hole(face, rim).values == pytest.approx([*DIAL.middle, 1.0], abs=0.03)
    assert len(propose.window(face, rim)) == 4


def test_a_place_that_was_pointed_at_counts_how_well(picture, plane):
    face = Face(picture, plane)
    near, far = (
        readings(
            plane,
            HANDS["hour"],
            {"hole": round_edge(face, 0.8, -0.6, 1.0, 0.4, "outside"), "tip.0": face.point(0.8, 8.0, room)},
        )
        for room in (0.02, 0.1)
    )
    assert near["hands.hour.length"].plus_minus < 0.05 < far["hands.hour.length"].plus_minus


def test_outlines_stand_about_the_axis_seen_from_the_dial_side():
    """From behind 3 o'clock is at the left; a movement's stem points to 3 o'clock, here downwards."""
    spots = ((4.0, 3.0), (-6.0, 3.0), (-6.0, -7.0), (4.0, -7.0))
    picked = {f"bore-outline.{i}": place(*spot) for i, spot in enumerate(spots)}
    assert outlines(CASE, picked) == {}
    behind = outlines(CASE, picked | {"axis.0": place(1.0, 1.0), "crown.0": place(-9.0, 1.0)})
    wanted = [(-3.0, -2.0), (7.0, -2.0), (7.0, 8.0), (-3.0, 8.0)]
    assert np.array(behind["case.bore_outline"]) == pytest.approx(np.array(wanted), abs=1e-3)
    wanted = [(2.0, 3.0), (2.0, -7.0), (-8.0, -7.0), (-8.0, 3.0)]
    for key in ("outline", "fit-outline"):
        picked = {f"{key}.{i}": place(*spot) for i, spot in enumerate(spots)}
        turned = outlines(MOVEMENT, picked | {"post": circle(1.0, 1.0, 0.8), "stem.0": place(1.0, 9.0)})
        assert np.array(turned[f"movement.{key.replace('-', '_')}"]) == pytest.approx(np.array(wanted), abs=1e-3)
