"""Where dial pads may lie, against areas worked by hand, and against shapely."""

import re
from dataclasses import replace
from math import asin, cos, degrees, pi, radians, sin

import numpy as np
import pytest
from shapely import Point, Polygon

from parts.holder.drawings import pad_map_svg, pads_svg
from parts.holder.pads import LEAST, pad_map
from tests.fit.sheets import report

PLAIN = {"dial.feet": [], "movement.foot_holes": [], "dial.window": False}
"""The dial of 28.50 mm over a movement of 28.60 mm, with nothing but the date disc between 9.00 and 11.00 mm."""


def clear_of(found, x, y):
    """The distance of the nearest pad from a point, mm."""
    return min(Polygon(pad.outline).distance(Point(x, y)) for pad in found.pads)


def test_the_free_area_is_that_of_the_rings_inside_and_outside_the_date_disc():
    """Pi (13.95² - 11.30²) + pi (8.70² - 2.90²): 0.30 mm inside the dial and off the disc, 2.00 mm round the hole."""
    found = pad_map(report(PLAIN))
    assert found.area == pytest.approx(pi * (66.9125 + 67.28), abs=0.05)
    assert found.missing == ()


def test_three_equal_pads_of_forty_degrees_lie_outside_the_disc():
    """A ninth of pi (13.95² - 11.30²) = 23.357 mm², less four corners of (1 - pi/4) 0.25² = 0.054 mm²."""
    found = pad_map(report(PLAIN))
    assert [pad.angle for pad in found.pads] == [0.0, 120.0, 240.0]
    for pad in found.pads:
        assert pad.area == pytest.approx(23.357 - 0.054, abs=0.02)
        far = [Point(*corner).distance(Point(0, 0)) for corner in pad.outline]
        assert (min(far), max(far)) == (pytest.approx(11.3, abs=0.002), pytest.approx(13.95, abs=0.002))
    first = Polygon(found.pads[0].outline)
    assert first.centroid.x == pytest.approx(0.0, abs=0.01)
    assert first.centroid.y < 0, "12 o'clock is up"


def test_pads_keep_the_clearance_from_feet_and_holes():
    """A foot of 0.70 mm at 0° and a hole of 0.80 mm at 120°, 12.50 mm out: 0.65 and 0.70 mm from their middles."""
    feet = [{"angle": 0, "radius": 12.5, "diameter": 0.7}]
    holes = [{"angle": 30, "radius": 12.5, "diameter": 0.8}]
    found = pad_map(report(PLAIN | {"dial.feet": feet, "movement.foot_holes": holes}))
    assert len(found.pads) == 3
    assert clear_of(found, 0.0, -12.5) >= 0.65 - 0.002
    assert clear_of(found, 12.5 * 0.8660, 12.5 * 0.5) >= 0.70 - 0.002
    whole = pad_map(report(PLAIN))
    assert found.area == pytest.approx(whole.area - pi * (0.65**2 + 0.7**2), abs=0.15)


@pytest.mark.parametrize("which", ["dial.window", "dial.day_window"])
def test_a_window_is_kept_clear(which):
    """A window of 1.60 x 2.00 mm at 3 o'clock and 12.60 mm leaves pads beyond 1.30 mm above and below its middle."""
    window = {"angle": 90, "radius": 12.6, "radial": 1.6, "tangential": 2.0}
    seen = report(PLAIN | {which: window})
    found = pad_map(seen)
    assert pad_map_svg(seen, found).count('class="window"') == 1
    box = Polygon([(11.5, -1.3), (13.7, -1.3), (13.7, 1.3), (11.5, 1.3)])
    assert all(Polygon(pad.outline).intersection(box).area < 1e-3 for pad in found.pads)
    assert all(abs(pad.angle - 90) > degrees(asin(1.3 / 13.7)) for pad in found.pads)


@pytest.mark.parametrize(
    "narrower", [{"movement.fit_diameter": 26.0}, {"movement.fit_diameter": None, "movement.overall_diameter": 26.0}]
)
def test_pads_stay_on_the_movement_and_off_the_holder(narrower):
    """A movement of 26.00 mm under the dial of 28.50 mm: nothing beyond 12.70 mm."""
    found = pad_map(report(PLAIN | narrower | {"movement.date.disc_outer_radius": 10.5}))
    assert max(Point(*corner).distance(Point(0, 0)) for pad in found.pads for corner in pad.outline) <= 12.7 + 1e-6


def test_what_is_narrower_than_a_pad_is_left_out():
    """0.45 mm are left outside the disc, less than the 0.50 mm that hold: the pads lie inside it."""
    found = pad_map(report(PLAIN | {"movement.date.disc_outer_radius": 13.2}))
    assert all(Polygon(pad.outline).hausdorff_distance(Point(0, 0)) < 8.71 for pad in found.pads)
    assert all(pad.area > LEAST for pad in found.pads)


def test_what_was_not_measured_is_named_and_without_the_movement_there_is_no_map():
    found = pad_map(report(PLAIN | {"dial.feet": None, "movement.date": None}))
    assert found.missing == ("date disc", "dial feet")
    assert pad_map(report(PLAIN | {"dial.diameter": None})) is None
    assert pad_map(report(PLAIN | {"movement.fit_diameter": None, "movement.overall_diameter": None})) is None


def test_the_map_and_the_pads_to_cut_are_drawn_at_one_to_one_and_mirrored():
    """A window at 3 o'clock lies at the left of the dial's back; the pads to cut are as wide as the pads are."""
    found = pad_map(report())
    text = pad_map_svg(report(), found)
    assert 'width="37.5000mm"' in text
    assert "scale(-1 1) rotate(0) translate(10 0)" in text
    wide = sum(float(np.ptp(pad.outline @ turned(pad))) for pad in found.pads)
    assert float(re.search(r'width="(\S+)mm"', pads_svg(found))[1]) == pytest.approx(wide + 4 * 4.0, abs=0.01)
    assert pads_svg(replace(found, pads=())) == ""


def turned(pad):
    """The direction across a pad."""
    return cos(radians(pad.angle)), sin(radians(pad.angle))


RECTANGULAR = PLAIN | {
    "dial.diameter": None,
    "dial.outline": {"shape": "rectangle", "width": 22.0, "height": 30.0, "corner": 2.0},
    "case.bore_diameter": None,
    "case.dial_seat_diameter": None,
    "case.dial_opening_diameter": None,
    "movement.overall_diameter": None,
    "movement.fit_diameter": None,
    "movement.outline": {"shape": "rectangle", "width": 21.0, "height": 31.0, "corner": 0.0},
    "movement.date": False,
}


def test_the_pads_of_a_rectangular_dial_lie_inside_dial_and_movement_alike():
    """0.30 mm inside 22 x 30 mm with corners of 2.00 mm and inside 21 x 31 mm: 20.40 x 29.40 mm, less the middle.

    The dial's corner arcs have 1.70 mm about (9, 13); the movement's side at 10.20 mm cuts them 0.50 mm short.
    """
    found = pad_map(report(RECTANGULAR))
    dial, movement = Polygon([(-9, -13), (9, -13), (9, 13), (-9, 13)]).buffer(1.7, quad_segs=300), 10.2
    whole = dial.intersection(Polygon([(-movement, -15.2), (movement, -15.2), (movement, 15.2), (-movement, 15.2)]))
    middle = Point(0, 0).buffer(2.9, quad_segs=300)
    assert found.area == pytest.approx(whole.difference(middle).area, abs=0.1)
    assert len(found.pads) == 3
    assert all(whole.buffer(0.002).contains(Polygon(pad.outline)) for pad in found.pads)


def test_a_pad_map_of_an_oval_that_is_a_circle_is_that_of_the_circle():
    oval = {"dial.diameter": None, "dial.outline": {"shape": "oval", "width": 28.5, "height": 28.5}}
    plain, as_oval = pad_map(report(PLAIN)), pad_map(report(PLAIN | oval))
    assert as_oval.area == pytest.approx(plain.area, abs=1e-6)
    assert [pad.angle for pad in as_oval.pads] == [pad.angle for pad in plain.pads]


def test_the_map_of_a_rectangular_dial_is_drawn_at_its_own_width_and_height():
    checked = report(RECTANGULAR)
    svg = pad_map_svg(checked, pad_map(checked))
    assert re.search(r'width="31(\.0*)?mm"', svg), svg[:200]
    assert re.search(r'height="39(\.0*)?mm"', svg), svg[:200]


def test_there_is_no_map_of_a_rectangle_without_its_height():
    half = {"shape": "rectangle", "width": 22.0, "corner": 2.0}
    assert pad_map(report(RECTANGULAR | {"dial.outline": half})) is None
