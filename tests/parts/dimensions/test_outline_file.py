"""Outlines read from drawings, and pieces of the sheet as they are typed."""

import io
from math import hypot

import ezdxf
import pytest
from django.core.exceptions import ValidationError
from shapely.geometry import Polygon

from parts.dimensions.outline_file import read_outline_file
from parts.fit import check_sheet
from parts.models import Case, Dial, HandSet, Movement
from tests.fit.sheets import sheet

PLAIN = '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40">{}</svg>'


def drawing(draw, units=4):
    document = ezdxf.new(units=units)
    draw(document.modelspace())
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode()


def of(name, content):
    return Polygon(read_outline_file(name, content))


def test_a_closed_polyline_with_bulges_is_cut_finer_than_a_thousandth():
    """A stadium: two straight sides of 10 and two half circles of radius 5."""
    points = [(-5, -5, 0), (5, -5, 1), (5, 5, 0), (-5, 5, 1)]
    outline = of("case.dxf", drawing(lambda space: space.add_lwpolyline(points, format="xyb", close=True)))
    assert outline.area == pytest.approx(100 + 3.14159265 * 25, abs=0.02)
    assert max(hypot(x, y) for x, y in outline.exterior.coords) == pytest.approx(10.0, abs=1e-3)


def test_lines_and_arcs_that_meet_are_one_outline_and_the_largest_counts():
    def draw(space):
        space.add_line((-6, -4), (6, -4))
        space.add_arc((6, 0), 4, -90, 90)
        space.add_line((-6, 4), (6, 4))
        space.add_line((-6, 4), (-6, -4))
        space.add_circle((0, 0), 1)

    assert of("case.DXF", drawing(draw)).area == pytest.approx(96 + 3.14159265 * 8, abs=0.02)


def test_a_drawing_in_inches_comes_in_millimetres():
    content = drawing(lambda space: space.add_circle((0, 0), 0.5), units=1)
    assert of("a.dxf", content).bounds == pytest.approx((-12.7, -12.7, 12.7, 12.7), abs=1e-3)


@pytest.mark.parametrize(
    ("shape", "area"),
    [
        ('<rect x="8" y="5" width="24" height="30" rx="2"/>', 720 - (4 - 3.14159265) * 4),
        ('<ellipse cx="20" cy="20" rx="12" ry="15"/>', 3.14159265 * 180),
        ('<polygon points="8,5 32,5 32,35 8,35"/>', 720),
        ('<path d="M8 5h24v30H8z"/><circle cx="20" cy="20" r="1"/>', 720),
        ('<path d="M10 5H30Q32 5 32 7V35H8V7Q8 5 10 5Z"/>', 720 - 2 * 2 / 3),
    ],
)
def test_shapes_of_an_svg_about_its_middle(shape, area):
    outline = of("bore.svg", PLAIN.format(shape).encode())
    assert outline.area == pytest.approx(area, abs=0.05)
    assert outline.bounds == pytest.approx((-12, -15, 12, 15), abs=1e-3)


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("a.pdf", b"", "no DXF and no SVG"),
        ("a.dxf", b"not a drawing", "cannot be read"),
        ("a.svg", b"<svg", "cannot be read"),
        ("a.svg", b'<!DOCTYPE x [<!ENTITY a "a">]><svg/>', "plain SVG"),
        ("a.svg", PLAIN.format('<g transform="rotate(3)"/>').encode(), "Ungroup"),
        ("a.svg", PLAIN.format('<path d="M8 5h24v30"/>').encode(), "no closed line"),
        ("a.svg", b'<svg><rect width="3" height="3"/></svg>', "how large"),
        ("a.dxf", b"0" * 2_000_001, "larger than 2 MB"),
    ],
)
def test_what_cannot_be_read_is_refused_in_a_sentence(name, content, says):
    with pytest.raises(ValidationError, match=says):
        read_outline_file(name, content)


@pytest.mark.parametrize(
    ("model", "name", "text", "piece"),
    [
        (Case, "bore_outline", "rectangle 27.00 × 30.40 ±0.02, corner 2.00", {"corner": 2.0, "height": [30.4, 0.02]}),
        (Dial, "outline", "oval 26.00 × 29.00", {"shape": "oval", "width": 26.0}),
        (
            Movement,
            "outline",
            "9, 9\n-9, 9\n-9, -9\n9, -9",
            {"points": [[9.0, 9.0], [-9.0, 9.0], [-9.0, -9.0], [9.0, -9.0]]},
        ),
        (Dial, "day_place", "0.00; 8.00 ±0.02; 2.00; 3.00", {"radius": [8.0, 0.02]}),
    ],
)
def test_a_piece_comes_back_as_it_was_typed(model, name, text, piece):
    kind = model.pieces[name]
    told = kind.read(text)
    assert piece.items() <= told.items()
    assert kind.text(model(**{name: told})) == text


def test_rows_are_typed_one_a_line():
    assert Case.pieces["rim"].read("13.50; 0.60\n12.60; 1.80 ±0.05") == [
        {"radius": 13.5, "height": 0.6},
        {"radius": 12.6, "height": [1.8, 0.05]},
    ]
    hands = HandSet.pieces["subsidiary"].read("small seconds; 0.24; 2.5; ; 0.1")
    assert hands == {"small seconds": {"hole_diameter": 0.24, "length": 2.5, "thickness": 0.1}}
    assert HandSet.pieces["subsidiary"].text(HandSet(subsidiary=hands)) == "small seconds; 0.24; 2.50; ; 0.10"


@pytest.mark.parametrize("text", ["star 3 × 4", "rectangle wide × 3", "rectangle 3 × 4 × 5 × 6", "1, 2, 3"])
def test_what_is_no_outline_is_refused(text):
    with pytest.raises(ValidationError):
        Case.pieces["bore_outline"].read(text)


def test_a_circle_drawn_answers_as_the_circle():
    content = drawing(lambda space: space.add_circle((0, 0), 14.35))
    points = read_outline_file("bore.dxf", content)
    changes = {"case.bore_diameter": None, "case.bore_outline": {"shape": "polyline", "points": points}}
    drawn = check_sheet(sheet(changes))["case-bore"]
    assert drawn.value.value == pytest.approx(28.7 - 28.65, abs=2e-3)
