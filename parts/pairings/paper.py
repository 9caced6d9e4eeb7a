"""The report of a pairing on paper: A4, both drawings at an exact, stated scale."""

import re
from functools import cache
from pathlib import Path

from django.conf import settings
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.safestring import mark_safe
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher, URLFetcherResponse

from parts.fit.drawings import dial_svg, section_svg, stack_svg, window_svg
from parts.fit.text import WORDS
from parts.pairings.page import hand_heights, measure_next, missing

PAPER_WIDTH = 180.0
"""mm between the margins of an A4 page."""
_SCALES = (20, 10, 8, 6, 5, 4, 3, 2.5, 2, 1.5, 1)
_FONTS = Path(settings.BASE_DIR) / "static" / "fonts"


def report_pdf(*, pairing, report, changed=()):
    """The PDF's bytes; `changed` tells the what-if numbers that the report was made with."""
    context = {
        "pairing": pairing,
        "report": report,
        "printed": timezone.localtime(),
        "words": WORDS[report.verdict].capitalize(),
        "measure_next": measure_next(report),
        "heights": hand_heights(report),
        "changed_numbers": changed,
        "missing": missing(report),
        "subjects": [
            (subject, [(check, WORDS[check.verdict]) for check in checks]) for subject, checks in report.by_subject()
        ],
        "section": _to_scale(section_svg, report, PAPER_WIDTH),
        "stack": _to_scale(stack_svg, report, 75.0),
        "dial": _to_scale(dial_svg, report, 95.0),
        "window": _to_scale(window_svg, report, 45.0),
    }
    page = render_to_string("parts/pairing_paper.html", context)
    return HTML(string=page, base_url="paper:///", url_fetcher=_OnlyFonts()).write_pdf(
        stylesheets=[_style()], font_config=_font_config(), pdf_tags=True
    )


def _to_scale(draw, report, width):
    """The drawing at the largest round scale that it has room for, with that scale in words; None where it is empty."""
    plain = draw(report, 1)
    if not plain:
        return None
    natural = float(plain.split('width="', 1)[1].split("mm", 1)[0])
    scale = next((step for step in _SCALES if natural * step <= width), 1)
    return {"svg": mark_safe(draw(report, scale)), "scale": f"{scale:g}:1"}


@cache
def _font_config():
    return FontConfiguration()


@cache
def _style():
    sheet = (Path(settings.BASE_DIR) / "static" / "css" / "paper.css").read_text()
    return CSS(string=sheet, base_url="paper:///", url_fetcher=_OnlyFonts(), font_config=_font_config())


class _OnlyFonts(URLFetcher):
    """Gives the bundled fonts and nothing else: no file and no address that a text could name."""

    def fetch(self, url, headers=None):
        name = url.removeprefix("paper:///fonts/")
        if name == url or not re.fullmatch(r"[A-Za-z0-9-]+\.woff2", name):
            raise ValueError("a paper may use bundled fonts only")
        return URLFetcherResponse(url, (_FONTS / name).read_bytes(), {"Content-Type": "font/woff2"})
