"""The dial as it will be: hands of any shape as long as they are, pointing where the time has them."""

import re

import pytest

from parts.fit import check_sheet
from parts.fit.drawings.hand_shapes import SHAPES, WIDTH, outline
from parts.fit.drawings.look import DialPicture, HandLook, look_svg, turns
from tests.fit.sheets import sheet


@pytest.mark.parametrize("shape", [*SHAPES, "unheard of"])
@pytest.mark.parametrize("role", ["hour", "minute", "seconds"])
def test_a_hand_is_as_long_as_it_is_on_both_sides_of_its_hole(shape, role):
    corners = outline(shape, role, 12.0, 3.0)
    assert max(y for _, y in corners) == 12.0
    assert min(y for _, y in corners) == -3.0
    assert sum(x for x, _ in corners) == pytest.approx(0.0)
    blade = [x for x, y in corners if y >= 0]
    assert max(blade) - min(blade) <= WIDTH[role] * 12.0 + 1e-9
    assert min(y for _, y in outline(shape, role, 12.0, 0.0)) == 0.0


def test_shapes_differ():
    assert len({tuple(outline(shape, "hour", 10.0, 0.0)) for shape in SHAPES}) == len(SHAPES)


@pytest.mark.parametrize(
    ("minutes", "hour", "minute"), [(0, 0, 0), (609, 304.5, 54), (719, 359.5, 354), (720, 0, 0), (900, 90, 0)]
)
def test_the_hands_point_where_the_time_has_them(minutes, hour, minute):
    assert turns(minutes)["hour"] == pytest.approx(hour)
    assert turns(minutes)["minute"] == pytest.approx(minute)


def test_it_is_drawn_with_its_hands_window_and_picture():
    report = check_sheet(sheet())
    picture = DialPicture("/flat.jpg", 27.0, 0.8, -0.6, 12.5)
    drawn = look_svg(report, minutes=195, hands={"hour": HandLook("leaf", "blue")}, picture=picture)
    assert re.search(r'data-hand="hour" transform="rotate\(97\.5\)" class="look-hand look-blue"', drawn)
    assert 'href="/flat.jpg"' in drawn
    assert 'transform="rotate(-12.5)"' in drawn
    assert 'x="-27.8" y="-26.4"' in drawn
    assert "look-window" in drawn
    assert "<image" not in look_svg(report)


@pytest.mark.parametrize(
    ("marks", "minutes", "hours"),
    [
        ({}, 0, 0),
        ({"dial.hour_marker_inner_radius": 9.0}, 0, 0),
        ({"dial.minute_track_radius": 12.0}, 60, 0),
        ({"dial.minute_track_radius": 12.0, "dial.hour_marker_inner_radius": 9.0}, 48, 12),
    ],
)
def test_only_marks_that_were_measured_are_drawn(marks, minutes, hours):
    bare = dict.fromkeys(("dial.minute_track_radius", "dial.hour_marker_inner_radius"))
    drawn = look_svg(check_sheet(sheet(bare | marks)))
    assert (drawn.count("look-minute"), drawn.count("look-hour")) == (minutes, hours)


def test_of_nothing_known_there_is_no_look():
    assert look_svg(check_sheet({"case": {}, "dial": {}, "movement": {}, "hands": {}})) == ""
