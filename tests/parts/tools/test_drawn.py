"""Drawings on paper and in files carry their style sheet along: resolved, and with line widths in mm."""

import re

from parts.fit.drawings import bar_svg, section_svg
from parts.tools.papers.drawn import with_styles
from tests.fit.sheets import report

STYLE = re.compile(r"<style>(.*?)</style>")


def test_a_drawing_gets_its_rules_once_without_tokens_and_without_what_a_screen_needs():
    [sheet] = STYLE.findall(with_styles(f"<p>{section_svg(report(), 4)}</p>"))
    assert ".drawing .case{fill: " in sheet
    assert ".drawing .numeral-box" not in sheet, "the section has none"
    assert not re.search(r"var\(|@media|vector-effect|paint-order|\.legend", sheet)


def test_line_widths_are_in_the_units_of_the_drawing():
    """0.18 mm for a px; at 4:1 a unit of the drawing is 4 mm."""
    for scale in (1, 4):
        [sheet] = STYLE.findall(with_styles(section_svg(report(), scale)))
        width = re.search(r"\.case-back\{[^}]*stroke-width: ([\d.]+)", sheet)[1]
        assert abs(float(width) - 1.25 * 0.18 / scale) < 1e-4


def test_a_bar_keeps_its_own_units():
    [sheet] = STYLE.findall(with_styles(bar_svg(report()["back-gap"])))
    assert "stroke-width: 3.5" in sheet
