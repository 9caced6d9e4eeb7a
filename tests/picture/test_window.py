"""A window's frame is no wall and no shadow; a hole of a few pixels is as large as it is."""

from dataclasses import replace

import numpy as np
import pytest

from parts.picture import propose
from parts.picture.edges.face import Face
from parts.picture.edges.round import circle
from parts.picture.edges.straight import box
from parts.picture.mat import Mat
from parts.picture.plane import Height, read_plane
from parts.picture.reading import read
from parts.picture.subjects import DIAL_FRONT, readings
from tests.picture.dial import BARS, DIAL, STRETCH
from tests.picture.scene import render


def face_of(dial):
    grey = render(Mat(50), dial, tilt=(5, 3), k1=-0.08, distance=230.0, stretch=STRETCH, seed=3)
    return Face(grey, read_plane(grey, bars=BARS, height=Height(0.4, 0.05)))


@pytest.mark.parametrize(("plate", "frame", "within"), [(215, 30, 250), (100, 255, 225)])
def test_a_framed_window_is_as_large_as_its_opening(plate, frame, within):
    """A strip of 0.18 mm all round it, darker or lighter than the dial: found by itself, and picked at the opening."""
    boxes = [(9, 0, 2.2 + 0.36, 1.6 + 0.36, 0, frame), (9, 0, 2.2, 1.6, 0, within)]
    face = face_of(replace(DIAL, grey=plate, boxes=boxes))
    rim = propose.rim(face)
    at_opening = DIAL.middle + np.array([(7.93, -0.77), (10.07, -0.83), (10.13, 0.78), (7.87, 0.83)])
    for edges in (propose.window(face, rim), box(face, at_opening, 0.25)):
        picked = {"hole": propose.hole(face, rim), **{f"window.{i}": edge for i, edge in enumerate(edges)}}
        got = readings(face.plane, DIAL_FRONT, picked)
        for path, truth in (("dial.window.radial", 2.2), ("dial.window.tangential", 1.6), ("dial.window.radius", 9.0)):
            assert abs(got[path].value - truth) <= min(0.04, got[path].plus_minus), path


def test_a_hole_of_a_few_pixels_is_read_as_large_as_it_is():
    """Blur draws the steepest light of so narrow a circle inwards."""
    x, y = DIAL.middle
    face = face_of(replace(DIAL, holes=[(0, 0, 0.25, 20)], boxes=[]))
    hole = read(face.plane, lambda circle: 2 * circle[2], circle(face, x, y, 0.13, 0.08, "outside"))
    assert abs(hole.value - 0.25) <= min(0.02, hole.plus_minus)
