"""The drawings that an entry may show: the dial as it is now, and the section through the watch."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from jobs.options.choosing import chosen_option, report_of
from parts.fit.drawings.section import section_plain_svg
from parts.pairings.look import looks_of

if TYPE_CHECKING:
    from jobs.models import WindowEntry
    from jobs.window.pictures import Pictures

_IN_WORDS = re.compile(r"<title>.*?</title><desc>.*?</desc>", re.DOTALL)
_TOP = "{top}"
"""Stands in a drawing for the way from its page to the top of the site."""


def drawings_of(entry: WindowEntry, pictures: Pictures) -> dict[str, str]:
    """The "look" and the "section", drawn for every language; empty where not wanted, or nothing is measured."""
    option = chosen_option(entry.job)
    report = report_of(option)
    if option is None or report is None:
        return {"look": "", "section": ""}

    def address(picture):
        dial = pictures.add(picture.flat)
        return f"{_TOP}{dial.path}" if dial else ""

    return {
        "look": looks_of(pairing=option.pairing, report=report, address=address).dial if entry.with_look else "",
        "section": section_plain_svg(report) if entry.with_section else "",
    }


def on_page(drawing: str, *, title: str, top: str) -> SafeString:
    """A drawing as a page shows it: with a title in its language, and the way to the `top` of the site."""
    words = f"<title>{escape(title)}</title>"
    return mark_safe(_IN_WORDS.sub(lambda _words: words, drawing, count=1).replace(_TOP, top))
