"""What the report of a pairing says on paper, its drawings at an exact, stated scale."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from django.utils import timezone
from django.utils.text import slugify

from parts.dimensions.in_hand import NOTHING_IN_HAND, InHand
from parts.fit.answer.text import WORDS
from parts.fit.drawings import dial_svg, section_svg, stack_svg, window_svg
from parts.fit.pressure import under_pressure
from parts.pairings.page import hand_heights, measure_next, missing, waiting
from parts.tools.papers.pdf import to_scale
from parts.trials.chance import with_chance
from parts.trials.would_go import with_ways

if TYPE_CHECKING:
    from parts.fit import Report
    from parts.models import Pairing

PAPER_WIDTH = 180.0
"""mm between the margins of a page."""


def report_facts(
    *, pairing: Pairing, report: Report, hand: InHand = NOTHING_IN_HAND, changed: Sequence[Any] = ()
) -> dict[str, Any]:
    """The facts for its template; `changed` tells the what-if numbers that it was made with, `hand` the instruments."""
    report = with_ways(with_chance(report))
    pressure = under_pressure(report.pairing)
    subjects = [*report.by_subject(), *([("Under pressure", pressure)] if pressure else [])]
    return {
        "pairing": pairing,
        "report": report,
        "waiting": waiting(report),
        "printed": timezone.localtime(),
        "words": WORDS[report.verdict].capitalize(),
        "measure_next": measure_next(report, hand),
        "heights": hand_heights(report),
        "changed_numbers": changed,
        "missing": missing(report),
        "subjects": [(subject, [(check, WORDS[check.verdict]) for check in checks]) for subject, checks in subjects],
        "pressure": pressure,
        "section": to_scale(section_svg, report, PAPER_WIDTH),
        "stack": to_scale(stack_svg, report, 75.0),
        "dial": to_scale(dial_svg, report, 95.0),
        "window": to_scale(window_svg, report, 60.0),
    }


def file_name(pairing: Pairing, ending: str) -> str:
    """The name of a fit check's file, with its number in front so that names never collide."""
    return f"fit-check-{pairing.pk:04d}-{slugify(str(pairing))[:40]}.{ending}"
