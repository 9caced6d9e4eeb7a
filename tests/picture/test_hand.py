"""A hand that is found by itself: hole, tip and tail of rendered ones, inside their plus-minus."""

from functools import cache

import numpy as np
import pytest
from shapely.geometry import Point, Polygon

from parts.fit.drawings.hand_shapes import outline
from parts.picture import propose
from parts.picture.edges.face import Face
from parts.picture.mat import Mat
from parts.picture.subjects import HANDS, readings
from tests.picture.hand import HOLE, HUB, LENGTH, PLACE, TAIL, TURN, its_plane, taken
from tests.picture.scene import render


@cache
def face_of(**more):
    picture = taken(**more)
    return Face(picture, its_plane(picture))


def read_off(face):
    seen = propose.hand(face, 0.05)
    picked = {"hole": seen.hole, "tip.0": seen.tip, "tail.0": seen.tail}
    return {path.rpartition(".")[2]: reading for path, reading in readings(face.plane, HANDS["minute"], picked).items()}


@pytest.mark.parametrize("shape", ["sword", "baton", "dauphine"])
def test_hole_tip_and_tail_are_within_their_plus_minus(shape):
    found = read_off(face_of(shape=shape))
    for key, true in (("length", LENGTH), ("tail", TAIL), ("hole_diameter", HOLE)):
        assert abs(found[key].value - true) < found[key].plus_minus, (key, found[key])
    assert found["hole_diameter"].plus_minus < 0.03


@pytest.mark.parametrize("shape", ["baton", "sword"])
def test_an_end_that_is_seen_is_read_to_three_hundredths_also_where_the_picture_is_soft(shape):
    length = read_off(face_of(shape=shape, blur=1.4, seed=9))["length"]
    assert length.value == pytest.approx(LENGTH, abs=0.03)


def test_the_outline_is_that_of_the_hand():
    corners = np.array(outline("sword", "minute", LENGTH, TAIL))
    c, s = np.cos(np.radians(TURN)), np.sin(np.radians(TURN))
    turned = np.column_stack([corners[:, 0] * c + corners[:, 1] * s, corners[:, 0] * s - corners[:, 1] * c]) + PLACE
    true = Polygon(turned).union(Point(PLACE).buffer(HUB / 2))
    drawn = Polygon(propose.hand(face_of(shape="sword"), 0.05).outline)
    assert drawn.symmetric_difference(true).area < 0.05 * true.area


def test_an_empty_mat_has_no_hand():
    picture = render(Mat(35), None, distance=180.0)
    assert propose.hand(Face(picture, its_plane(picture)), 0.05) is None
