"""The drawing of the stem: where its length is measured, and where it is cut, to scale."""

from xml.etree import ElementTree

import pytest

from parts.fit.drawings.stem import stem_svg
from tests.fit.sheets import ABSENT, report

NAME = "{http://www.w3.org/2000/svg}"


def drawn(changes):
    return ElementTree.fromstring(stem_svg(report(changes)))


def of_class(drawing, name):
    return [piece for piece in drawing.iter() if piece.get("class") == name]


def test_the_length_runs_from_the_stem_reference_to_the_end_in_the_crown():
    drawing = drawn({"stem.length": 18.0})
    (stem,) = of_class(drawing, "stem")
    assert float(stem.get("x")) + float(stem.get("width")) == pytest.approx(15.05)
    (reference,) = of_class(drawing, "reference")
    assert (float(reference.get("x1")), float(reference.get("x2"))) == (0, 0)
    assert "L = 15.05 mm" in [text.text for text in drawing.iter(f"{NAME}text")]


def test_the_cuts_stand_where_they_are_made_and_a_cut_stem_has_none():
    assert [float(cut.get("x1")) for cut in of_class(drawn({"stem.length": 18.0}), "cut-line")] == [15.55, 15.15]
    short = drawn({"stem.length": 15.05})
    assert of_class(short, "cut-line") == of_class(short, "unknown") == []


def test_every_label_lies_within_the_drawing():
    drawing = drawn({"stem.length": 18.0})
    left, top, width, height = (float(edge) for edge in drawing.get("viewBox").split())
    for text in drawing.iter(f"{NAME}text"):
        x, y, long = float(text.get("x")), float(text.get("y")), 0.55 * float(text.get("font-size")) * len(text.text)
        begins = x - long / 2 if text.get("text-anchor") == "middle" else x
        assert left <= begins
        assert begins + long <= left + width
        assert top < y < top + height


def test_without_its_length_there_is_no_drawing():
    assert stem_svg(report({"crown.bore_depth": ABSENT})) == ""
