"""The report of a pairing on paper: A4, both drawings at an exact, stated scale."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from django.template.loader import render_to_string
from django.utils import timezone

from parts.fit.answer.report import in_hundred
from parts.fit.answer.text import WORDS
from parts.fit.bands import Verdict
from parts.fit.drawings import dial_svg, section_svg, stack_svg, window_svg
from parts.pairings.page import hand_heights, measure_next, missing, waiting
from parts.tools.papers.pdf import to_pdf, to_scale
from parts.trials.chance import with_chance
from parts.trials.would_go import with_ways

if TYPE_CHECKING:
    from parts.fit import Report
    from parts.models import Pairing

PAPER_WIDTH = 180.0
"""mm between the margins of an A4 page."""


def report_pdf(*, pairing: Pairing, report: Report, changed: Sequence[Any] = ()) -> bytes:
    """The PDF's bytes; `changed` tells the what-if numbers that the report was made with."""
    report = with_ways(with_chance(report))
    context = {
        "pairing": pairing,
        "report": report,
        "chance": report.chance and in_hundred(1 - report.chance[Verdict.NO]),
        "waiting": waiting(report),
        "printed": timezone.localtime(),
        "words": WORDS[report.verdict].capitalize(),
        "measure_next": measure_next(report),
        "heights": hand_heights(report),
        "changed_numbers": changed,
        "missing": missing(report),
        "subjects": [
            (subject, [(check, WORDS[check.verdict]) for check in checks]) for subject, checks in report.by_subject()
        ],
        "section": to_scale(section_svg, report, PAPER_WIDTH),
        "stack": to_scale(stack_svg, report, 75.0),
        "dial": to_scale(dial_svg, report, 95.0),
        "window": to_scale(window_svg, report, 60.0),
    }
    return to_pdf(render_to_string("parts/pairings/paper.html", context))
