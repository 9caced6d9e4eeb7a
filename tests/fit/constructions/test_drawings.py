"""The drawings show the construction that a watch is: floor, ring, ledge, dome, bent hands, outlines, small posts."""

import re
from copy import deepcopy
from pathlib import Path
from xml.etree import ElementTree

import pytest

from parts.fit import check_sheet
from parts.fit.drawings.dial import dial_svg
from parts.fit.drawings.look import look_svg
from parts.fit.drawings.section import section_half_svg, section_svg, stack_svg
from tests.fit.constructions.sheets import ALL, CARRIED, DAY, DOMED, FRONT, RECTANGLE, SMALL
from tests.fit.invented import without_each
from tests.fit.sheets import sheet

SVG = "{http://www.w3.org/2000/svg}"


def drawn(draw, changes):
    return ElementTree.fromstring(draw(check_sheet(sheet(deepcopy(changes)))))


def of_class(root, name):
    return [element for element in root.iter() if name in element.get("class", "").split()]


@pytest.mark.parametrize("draw", [section_svg, section_half_svg, stack_svg, dial_svg])
@pytest.mark.parametrize("name", ALL)
def test_each_is_drawn_without_a_number_that_is_none(draw, name):
    svg = draw(check_sheet(sheet(deepcopy(ALL[name]))))
    assert ElementTree.fromstring(svg).tag == f"{SVG}svg"
    assert "nan" not in svg
    assert "None" not in svg


def test_a_case_loaded_from_the_front_has_a_floor_a_ring_and_a_spacer_under_the_movement():
    """The ring's underside is depth 0: floor at 3.90, crystal 2.40 over it; a stem 0.4 higher asks for a spacer."""
    root = drawn(section_svg, FRONT)
    (floor,) = of_class(root, "case-back")
    assert float(floor.get("y1")) == pytest.approx(3.9)
    assert len(of_class(root, "rehaut")) == 2
    raised = {"case.floor_stem": 2.3, "case.floor_ring": 4.3, "case.floor_crystal_centre": 6.7}
    root = drawn(section_svg, FRONT | raised)
    spacer = of_class(root, "spacer")[0]
    assert float(spacer.get("y")) + float(spacer.get("height")) == pytest.approx(4.3)
    assert float(spacer.get("height")) == pytest.approx(0.4)
    assert "Spacer under the movement" in "".join(root.itertext())
    assert "Ring over the dial" in "".join(root.itertext())


def test_a_dial_on_its_movement_lies_in_front_of_the_ledge():
    dial = of_class(drawn(section_svg, CARRIED), "dial")[0]
    assert float(dial.get("y")) == pytest.approx(-0.9)


def test_a_domed_dial_rises_to_its_middle():
    dial = of_class(drawn(section_svg, DOMED), "dial")[0]
    heights = [float(corner.split(",")[1]) for corner in dial.get("points").split()]
    assert min(heights) < -0.39
    assert max(heights) == pytest.approx(0.4, abs=0.01)


def test_a_bent_hand_comes_down_at_its_tip():
    hand = of_class(drawn(section_svg, {"hands.minute.tip_drop": 0.3}), "hand-minute")[0]
    corners = [tuple(map(float, corner.split(","))) for corner in hand.get("points").split()]
    assert dict(corners[:3])[11.5] - corners[0][1] == pytest.approx(0.3)


def test_no_shape_of_a_drawing_is_left_to_be_filled_with_black():
    oval = {"shape": "oval", "width": 20.0, "height": 26.0}
    shaped = dict.fromkeys(("case.bore_outline", "case.seat_outline", "case.opening_outline", "dial.outline"), oval)
    round_edges = ("case.bore_diameter", "case.dial_seat_diameter", "case.dial_opening_diameter", "dial.diameter")
    tags = {element.tag.removeprefix(SVG) for element in drawn(dial_svg, dict.fromkeys(round_edges) | shaped).iter()}
    sheet_of_styles = (Path(__file__).parents[3] / "static" / "css" / "drawings.css").read_text()
    unfilled = re.search(r"\.drawing :is\(([a-z, ]+)\) \{ fill: none;", sheet_of_styles)[1].split(", ")
    assert "ellipse" in tags
    assert tags - {"svg", "title", "desc", "g", "text"} <= {*unfilled}


def test_a_stem_without_a_known_thread_is_drawn_by_its_body_and_the_crown_stands_where_it_is_named():
    unknown = {"movement.stem_thread": None, "stem.thread": None}
    (stem,) = of_class(drawn(section_svg, unknown | {"stem.diameter": 1.1}), "stem")
    assert float(stem.get("height")) == pytest.approx(1.1)
    root = drawn(section_svg, unknown | {"stem.diameter": None})
    assert (len(of_class(root, "stem")), len(of_class(root, "crown"))) == (0, 1)


def test_a_measured_dial_of_its_own_case_is_no_broken_line_where_only_the_seat_was_not_measured():
    own = {"dial.own_case": True, "case.dial_seat_diameter": None}
    assert not [plate for plate in of_class(drawn(section_svg, own), "dial") if "unknown" in plate.get("class")]
    indicated = of_class(drawn(section_svg, own | {"dial.diameter": None}), "dial")
    assert indicated
    assert all("unknown" in plate.get("class") for plate in indicated)


def test_date_and_day_have_a_window_each_on_the_dial():
    assert len(of_class(drawn(dial_svg, DAY), "window")) == 2
    plates = [len(of_class(drawn(dial_svg, DAY | {"movement.day": day}), "plate")) for day in (True, False)]
    assert plates[1] - plates[0] == 1, "without a day display the plate shows"


def test_outlines_and_small_posts_are_seen_on_the_dial():
    root = drawn(dial_svg, RECTANGLE)
    (bore,) = of_class(root, "bore")
    assert (bore.tag, float(bore.get("width")), float(bore.get("rx"))) == (f"{SVG}rect", 27.0, 2.0)
    assert of_class(root, "movement-outside")[0].tag == f"{SVG}ellipse"
    root = drawn(dial_svg, SMALL)
    (hole,), (post,) = of_class(root, "subdial"), of_class(root, "small-post")
    assert (float(hole.get("cy")), float(post.get("cy"))) == pytest.approx((5.0, 5.0))


@pytest.mark.parametrize("name", ALL)
def test_what_is_not_measured_is_left_out_of_every_drawing(name):
    for lost, less in without_each(sheet(deepcopy(ALL[name]))):
        if "points" in lost:
            continue
        report = check_sheet(less)
        for draw in (section_svg, section_half_svg, stack_svg, dial_svg, look_svg):
            svg = draw(report)
            assert "None" not in svg, lost
            assert "nan" not in svg, lost


def test_no_round_case_is_drawn_round_a_shaped_one():
    assert of_class(drawn(dial_svg, {}), "case-outside")
    shaped = drawn(dial_svg, RECTANGLE)
    assert not of_class(shaped, "case-outside")
    assert of_class(shaped, "crown")
