"""The report as plain text."""

import pytest
from django.template import Context, Template

from parts.fit.answer.listing import in_a_sentence
from parts.fit.answer.text import report_text
from parts.fit.units import with_unit
from tests.fit.sheets import report


def lines(changes=None):
    return report_text(report(changes)).splitlines()


def test_it_opens_with_the_verdict_and_why():
    assert lines()[0] == "FITS WITH WORK  Fits, with 1 job at the bench."
    assert lines({"case.back_depth": 3.0})[0].startswith("DOES NOT FIT  The case back will not close")
    assert lines({"rules": {"stem_long_ok": 1}})[0] == "FITS  Everything fits as it is."


def test_what_to_measure_comes_next():
    told = lines({"case.back_depth": None, "crown.thread": None})
    assert told[0].startswith("UNCLEAR  2 checks still open")
    assert told[1:3] == [
        "Measure next: case back depth (settles back-gap)",
        "         then: crown thread (settles stem-thread)",
    ]


def test_a_check_has_its_line_its_sentence_and_its_remedies():
    told = lines({"case.back_depth": [4.0, 0.05]})
    at = next(i for i, text in enumerate(told) if " back-gap " in text)
    assert told[at] == "  fits with work back-gap                     0.10 mm (0.05 mm to 0.15 mm)"
    assert told[at + 1].startswith("      0.10 mm of clearance to the case back.")
    assert told[at + 2] == "      work: Relieve or re-seat the case back."


def test_advice_is_marked_and_what_is_missing_too():
    told = lines({"movement.current": None})
    assert "  unclear        cell-life, advisory          not measured" in told
    assert "      Not measured yet: movement current." in told


def test_it_closes_with_the_numbers_to_set_by():
    told = "\n".join(lines({"case.stem_axis_depth": 2.3, "case.back_depth": 5.0, "spacer.placement": "rear"}))
    assert "Spacer        0.30 mm, behind the dial" in told
    assert "Hour hand     top 0.65 mm above the dial, left 0.15 mm above flush" in told
    assert "Stem          15.05 mm, 0.95 mm to cut off" in told
    assert "Foot hole     45.0°, minute 7.50, radius 11.00 mm; foot 1" in told
    assert "Spacer        none" in "\n".join(lines())
    assert "Spacer        not known" in "\n".join(lines({"dial.thickness": None}))


def test_two_roads_that_disagree_are_told():
    told = "\n".join(lines({"stem.uncut_gap": 1.1}))
    assert "by the gap under the crown, 1.05 mm to cut off: 0.10 mm apart" in told


def test_paint_colours_verdicts_only():
    painted = report_text(report(), lambda verdict, text: f"<{verdict}>{text}</{verdict}>")
    assert painted.startswith("<work>FITS WITH WORK</work>  ")
    assert "  <fits>fits          </fits> case-bore " in painted


@pytest.mark.parametrize(
    ("value", "unit", "told"),
    [
        (1.005, "mm", "1.00 mm"),
        (-0.001, "mm", "0.00 mm"),
        (-0.01, "mm", "−0.01 mm"),
        (0.123, "share", "12.3 %"),
        (11.6129, "deg", "11.6°"),
        (0.57616, "uN·m", "0.576 µN·m"),
        (41.07, "months", "41 months"),
        (None, "mm", "not measured"),
    ],
)
def test_numbers_with_their_unit(value, unit, told):
    assert with_unit(value, unit) == told


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], ""),
        (["the bore"], "the bore"),
        (["the bore", "the dial"], "the bore and the dial"),
        (["bore", "dial", "window", "rim"], "bore, dial, window and rim"),
    ],
)
def test_a_list_has_commas_and_one_and(words, said):
    assert in_a_sentence(words) == said
    assert Template("{% load fit %}{{ words|in_a_sentence }}").render(Context({"words": words})) == said
