"""A whole edge tells what its pieces cannot: the circle that lies on the part's own edge all round."""

from math import erf

import numpy as np
import pytest

from parts.picture.edges.strip import between, part_edges
from parts.picture.edges.whole import weigh

SHARP, SECTORS = 1.0, 36
STATIONS = np.arange(-18, 19) * 0.5
ANGLES = (np.arange(SECTORS) + 0.5) * 2 * np.pi / SECTORS
DESIGN = np.column_stack([np.cos(ANGLES), np.sin(ANGLES), np.ones(SECTORS)])
STEPS = [np.arange(-4, 4.1, 0.5), np.arange(-4, 4.1, 0.5), np.arange(-4, 4.1, 0.25)]


def rise(at, sharp=SHARP):
    return np.array([0.5 + 0.5 * erf(place / sharp / 2**0.5) for place in at])


def seen(edges, *, first=120.0, then=200.0, sharp=SHARP, seed=1):
    """Light across each sector, one step at its edge."""
    noise = np.random.default_rng(seed).normal(0, 0.7, (len(edges), len(STATIONS)))
    return np.array([first + (then - first) * rise(STATIONS - edge, sharp) for edge in edges]) + noise


def weighed(profiles, walls=None, sharp=SHARP):
    edges = part_edges(profiles, np.full(len(profiles), sharp))
    return weigh(edges, DESIGN, STEPS, np.zeros(SECTORS) if walls is None else walls, sharp)


def test_a_clear_circle_is_found_to_a_tenth_of_a_pixel():
    true = np.array([0.8, -0.6, 1.3])
    found = weighed(seen(DESIGN @ true))
    assert found.numbers == pytest.approx(true, abs=0.1)
    assert np.sqrt(found.covariance[2, 2]) < 0.1
    assert found.share == 1.0


def test_a_wall_as_grey_as_the_face_is_counted_where_the_camera_sees_it():
    """It is three pixels wide on one side and nothing on the other: the circle is drawn out and aside by it."""
    walls = 3.0 * np.clip(np.cos(ANGLES), 0, None)
    counted, untold = weighed(seen(walls), walls), weighed(seen(walls))
    for found, inside in ((counted, True), (untold, False)):
        assert (abs(found.numbers[2]) <= 2 * np.sqrt(found.covariance[2, 2])) == inside


def test_a_shadow_that_fades_from_the_edge_leaves_the_edge_where_it_is():
    """Over six pixels, from half as dark as the part to the lit paper."""
    fine = np.arange(-12, 12.01, 0.05)
    light = np.where(fine < 0, 120.0, 150 + 50 * np.clip(fine / 6, 0, 1))
    blur = np.exp(-0.5 * np.arange(-4, 4.01, 0.05) ** 2)
    blurred = np.convolve(np.pad(light, len(blur) // 2, mode="edge"), blur / blur.sum(), "valid")
    found = part_edges(np.interp(STATIONS, fine, blurred)[None], np.array([SHARP]))
    assert found.places[0] == pytest.approx(0.0, abs=0.2)


def test_sectors_whose_light_no_edge_explains_are_not_believed():
    """Half of the circle shows a ridge and a groove, and four steps."""
    profiles = seen(np.zeros(SECTORS))
    ridge = 60 * np.exp(-(((STATIONS + 3) / 1.2) ** 2)) - 50 * np.exp(-(((STATIONS - 4) / 1.0) ** 2))
    profiles[:18] = 120 + ridge + 30 * rise(STATIONS - 2.5) - 40 * rise(STATIONS + 6)
    assert weighed(profiles).numbers == pytest.approx([0, 0, 0], abs=0.1)


def test_what_a_blurred_picture_cannot_tell_widens_the_uncertainty():
    walls = 3.0 * np.clip(np.cos(ANGLES), 0, None)
    clear, blurred = (weighed(seen(walls, sharp=sharp), walls, sharp) for sharp in (1.0, 3.0))
    assert blurred.covariance[2, 2] > 4 * clear.covariance[2, 2]


def test_a_camera_that_moved_blurs_one_way_alone():
    ways = np.array([[1.0, 0.0], [0.0, 1.0], [0.6, 0.8]])
    assert between(2.0, 1.0, ways) == pytest.approx([2.0, 1.0, np.hypot(1.2, 0.8)], rel=0.07)
