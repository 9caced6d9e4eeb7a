"""Drawings of a holder: figures keep apart, directions are named, and a one-piece case's holder has its floor."""

import xml.etree.ElementTree as ET
from functools import partial

import pytest

from parts.fit import check_sheet
from parts.fit.arithmetic.outlines import Outline
from parts.holder.drawings import plan_svg, section_svg, walls_svg
from parts.holder.drawings.marks import LETTER, Labels
from parts.holder.findings.design import work_out
from parts.holder.surroundings import surroundings
from tests.fit.sheets import sheet
from tests.holder.pieces import AROUND, ring

SMALL = Outline("rectangle", 16.0, 19.4, 1.5)
RECTANGULAR = {
    "outside_diameter": 0.0,
    "outside_outline": SMALL,
    "inside_diameter": 15.24,
    "height": 3.05,
    "channel_axis": 0.44,
    "channel_width": 1.7,
    "channel_open": "dial",
    "chamfer": 0.04,
    "nub_angle": 135.0,
    "nub_height": 0.2,
}
ONE_PIECE = {"lip_reach": 1.0, "lip_height": 0.45, "nub_count": 0.0, "channel_open": "dial"}
STEPPED = {"flange_diameter": 22.4, "flange_depth": 0.89, "notch_width": 3.0, "notch_angle": 330.0, "lip": 0.2}
PIECES = {"plain": {}, "rectangular": RECTANGULAR, "one piece": ONE_PIECE, "stepped": STEPPED}

NARROW_PLAN, NARROW_SECTION = partial(plan_svg, narrow=True), partial(section_svg, narrow=True)
WALLS = [walls_svg, partial(walls_svg, only=1), partial(walls_svg, only=-1)]


def drawn(draw, changes):
    stands = surroundings(check_sheet(sheet(AROUND)))
    design = work_out(ring(**changes), stands)
    return ET.fromstring(draw(design) if getattr(draw, "func", draw) is walls_svg else draw(design, stands))


def words_in(root):
    return [item for item in root.iter() if item.tag.endswith("text")]


def box(item, size):
    """Left, top, right and bottom of a text, a little smaller than its letters."""
    x, y = float(item.get("x")), float(item.get("y"))
    wide = 0.9 * LETTER * size * len(item.text)
    left = x - {"middle": wide / 2, "end": wide}.get(item.get("text-anchor"), 0.0)
    return left, y - 0.6 * size, left + wide, y


def boxes(root):
    size = float(root.get("data-letters") or 0) or letters_of(root)
    return [(item.text, box(item, size)) for item in words_in(root) if item.text]


def letters_of(root):
    return min(float(item.get("font-size")) for item in root.iter() if item.get("font-size"))


def verticals(root):
    for item in root.iter():
        if item.tag.endswith("line") and item.get("class") == "measure" and item.get("x1") == item.get("x2"):
            ends = sorted(float(item.get(name)) for name in ("y1", "y2"))
            yield float(item.get("x1")), *ends


@pytest.mark.parametrize("name", PIECES)
@pytest.mark.parametrize("draw", [*WALLS, section_svg, NARROW_SECTION])
def test_no_figure_stands_on_another_or_on_an_upright_line(draw, name):
    root = drawn(draw, PIECES[name])
    placed = boxes(root)
    for i, (words, a) in enumerate(placed):
        for other, b in placed[:i]:
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1], (words, other)
        for x, low, high in verticals(root):
            assert not (a[0] < x < a[2] and low < a[3] and high > a[1]), words


@pytest.mark.parametrize("name", PIECES)
@pytest.mark.parametrize("draw", [*WALLS, section_svg, NARROW_SECTION, plan_svg, NARROW_PLAN])
def test_no_figure_is_cut_off(draw, name):
    root = drawn(draw, PIECES[name])
    left, top, wide, high = map(float, root.get("viewBox").split())
    for words, (a, b, c, d) in boxes(root):
        assert left <= a <= c <= left + wide, words
        assert top <= b <= d <= top + high, words


@pytest.mark.parametrize("name", PIECES)
@pytest.mark.parametrize("draw", [*WALLS[1:], NARROW_SECTION, NARROW_PLAN])
def test_a_narrow_drawing_is_no_wider_than_letters_can_be_read_in(draw, name):
    root = drawn(draw, PIECES[name])
    assert float(root.get("viewBox").split()[2]) <= 30 * letters_of(root)


def test_a_narrow_plan_numbers_what_it_labels_and_says_it_below():
    said = [item.text for item in words_in(drawn(NARROW_PLAN, STEPPED)) if item.text]
    assert [words for words in said if words.isdigit()] == ["1", "2", "3"]
    assert [words for words in said if ":" in words] == [
        "1: stem channel 1.60 at 90°",
        "2: 3 nubs ⌀1.00, first 150°",
        "3: finger notch 3.00 at 330°",
    ]
    assert "finger notch" in [item.text for item in words_in(drawn(plan_svg, STEPPED))]


def test_a_narrow_plan_says_a_long_measure_below_and_a_narrow_section_over_its_line():
    assert "outside 16.00 × 19.40, corner 1.50" in [item.text for item in words_in(drawn(NARROW_PLAN, RECTANGULAR))]
    said = [item.text for item in words_in(drawn(NARROW_SECTION, RECTANGULAR))]
    assert {"outside, from the middle", "11.31 at 135°", "8.00 at 90°"} <= set(said)


def test_a_section_names_the_direction_of_what_is_not_round():
    said = [item.text for item in words_in(drawn(section_svg, RECTANGULAR))]
    assert "8.00 at 90°" in said
    assert "outside 11.31 from the middle at 135°" in said
    assert not any("here" in words for words in said)


def test_the_floor_of_a_one_piece_cases_holder_is_dimensioned():
    assert "lip 0.45" in [item.text for item in words_in(drawn(walls_svg, ONE_PIECE))]
    for draw in (plan_svg, section_svg):
        assert "inside the lip ⌀20.00" in [item.text for item in words_in(drawn(draw, ONE_PIECE))]


def test_two_labels_at_one_angle_stand_clear_and_no_lead_crosses_a_label():
    labels = Labels(1.0, 10.0)
    labels.add(0.0, -10.0, "12 o'clock mark", "0.50 × 0.30")
    labels.add(0.0, -10.0, "finger notch", "3.00 at 0°")
    mark, notch = labels.boxes
    assert notch[0] > mark[2]
    assert (mark[1], mark[3]) == (notch[1], notch[3])
    assert labels.bounds == (mark[0], mark[1], notch[2], mark[3])
