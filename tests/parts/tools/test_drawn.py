"""Drawings on paper and in files carry their style sheet along: resolved, and with line widths in mm."""

import re
from pathlib import Path

from django.conf import settings

from parts.fit.drawings import bar_svg, dial_svg, foot_template_svg, section_svg, stack_svg, window_svg
from parts.tools.papers.drawn import with_styles
from tests.fit.sheets import report

STYLE = re.compile(r"<style>(.*?)</style>")


def test_a_drawing_gets_its_rules_once_without_tokens_and_without_what_a_screen_needs():
    [sheet] = STYLE.findall(with_styles(f"<p>{section_svg(report(), 4)}</p>"))
    assert ".drawing .case{fill: " in sheet
    assert ".drawing .numeral-box" not in sheet, "the section has none"
    assert not re.search(r"var\(|@media|vector-effect|paint-order|\.legend", sheet)


def test_a_drawing_keeps_the_rules_for_what_stands_behind_a_drawing_inside_it():
    """The dial's window holds a drawing of its own, its numerals; the hands come after it."""
    markup = dial_svg(report(), 2)
    assert markup.index("</svg>") < markup.index('class="hand')
    [sheet] = STYLE.findall(with_styles(f"<p>{markup}</p>"))
    assert ".drawing .hand{fill: " in sheet
    assert ".drawing .dim{stroke: " in sheet


def test_every_rule_that_touches_a_drawing_is_there():
    """Each class of each drawing that the style sheet has a rule for is in the drawing's own sheet."""
    css = (Path(settings.BASE_DIR) / "static" / "css" / "drawings.css").read_text()
    ruled = set(re.findall(r"^\.drawing \.([\w-]+)(?= [{,])", css, re.MULTILINE))
    for draw in (section_svg, dial_svg, stack_svg, window_svg, foot_template_svg):
        markup = draw(report(), 2)
        used = {name for names in re.findall(r'class="([^"]*)"', markup) for name in names.split()}
        [sheet] = STYLE.findall(with_styles(markup))
        assert [name for name in used & ruled if f".drawing .{name}" not in sheet] == []


def test_line_widths_are_in_the_units_of_the_drawing():
    """0.18 mm for a px; at 4:1 a unit of the drawing is 4 mm."""
    for scale in (1, 4):
        [sheet] = STYLE.findall(with_styles(section_svg(report(), scale)))
        width = re.search(r"\.case-back\{[^}]*stroke-width: ([\d.]+)", sheet)[1]
        assert abs(float(width) - 1.25 * 0.18 / scale) < 1e-4


def test_a_bar_keeps_its_own_units():
    [sheet] = STYLE.findall(with_styles(bar_svg(report()["back-gap"])))
    assert "stroke-width: 3.5" in sheet
