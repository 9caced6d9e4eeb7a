"""What real light does to a picture: every number stays inside its own plus-minus, or is refused with a sentence."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from parts.picture import propose
from parts.picture.edges.face import Face
from parts.picture.edges.round import circle
from parts.picture.errors import PictureError
from parts.picture.mat import Mat
from parts.picture.plane import Height, read_plane
from tests.picture.dial import BARS, DIAL, STRETCH
from tests.picture.scene import render
from tests.picture.test_plane import dimensions


def taken(**dial):
    return render(Mat(50), replace(DIAL, **dial), tilt=(5, 3), k1=-0.08, distance=230.0, stretch=STRETCH, seed=3)


def streaks(x, y):
    """A polished dark dial: four burnt streaks from its middle to its edge, over fine brushing."""
    angle = np.arctan2(y, x)
    lobes = (np.exp(-((np.angle(np.exp(1j * (angle - at))) / 0.15) ** 2)) for at in (0.6, 3.74, 2.3, 5.44))
    return 40 + 225 * sum(lobes) + 15 * np.cos(90 * angle)


def sunburst(x, y):
    """A printed sunburst that turns dark towards its edge."""
    angle = np.arctan2(y, x)
    return (150 + 60 * np.cos(2 * angle + 0.5) + 12 * np.cos(120 * angle)) * (1 - 0.55 * (np.hypot(x, y) / 14.25) ** 3)


def evenly(grey):
    return lambda x, _y: grey + 0 * x


def moved(grey, long):
    """The picture of a camera that moved sideways by so many pixels."""
    return cv2.filter2D(grey, -1, np.full((1, long), 1 / long, np.float32))


def cluttered(grey):
    """A chequered cloth over what lies left of the mat, tweezers and a screw inside the field beside the dial."""
    rows, columns = np.mgrid[: grey.shape[0], : grey.shape[1]]
    cloth = ((columns // 60 + rows // 60) % 2 * 200 + 30).astype(np.uint8)
    seen = np.where(columns < 700, cloth, grey).astype(np.uint8)
    cv2.line(seen, (1590, 1090), (2440, 1130), 200, 9, cv2.LINE_AA)
    cv2.circle(seen, (1650, 1860), 24, 60, -1, cv2.LINE_AA)
    return cv2.GaussianBlur(seen, (0, 0), 0.6)


SCENES = {
    "glare in streaks": lambda _: taken(paint=streaks),
    "sunburst": lambda _: taken(paint=sunburst),
    "cluttered desk": cluttered,
    "slight motion": lambda picture: moved(picture, 6),
    "shadow at one side": lambda _: taken(shadow=(0.8, 0.0, 0.15, 0.6)),
    "narrow shadow": lambda _: taken(shadow=(0.25, 0.0, 0.15, 0.5)),
    "very narrow shadow": lambda _: taken(shadow=(0.15, 0.0, 0.10, 0.6)),
    "dark dial and its shadow": lambda _: taken(paint=evenly(135), shadow=(0.8, 0.0, 0.15, 0.6)),
}


@pytest.mark.parametrize("scene", SCENES)
def test_every_dimension_stays_inside_its_plus_minus(picture, scene):
    grey = SCENES[scene](picture)
    plane = read_plane(grey, bars=BARS, height=Height(0.4, 0.05))
    for name, (reading, truth) in dimensions(grey, plane).items():
        assert abs(reading.value - truth) <= reading.plus_minus, name
        assert abs(reading.value - truth) <= 0.03, name
    rim = propose.rim(Face(grey, plane))
    assert rim is None or abs(2 * rim.values[2] - DIAL.diameter) <= 0.03


def test_a_camera_that_moved_one_way_is_refused(picture):
    with pytest.raises(PictureError, match="blurred"):
        read_plane(moved(picture, 13), bars=BARS)


def test_an_edge_that_is_no_circle_is_refused(picture, plane):
    """An oval, half a millimetre longer than wide."""
    oval = np.full_like(picture, 200)
    ring = np.radians(np.arange(0, 360, 0.5))
    places = np.column_stack([5.25 * np.cos(ring), 5.0 * np.sin(ring), np.full(len(ring), -0.4)])
    cv2.fillPoly(oval, [plane.camera.project(places).round().astype(int)], 40)
    with pytest.raises(PictureError, match="no circle"):
        circle(Face(oval, plane), 0, 0, 5.1, 0.6, "inside")
