"""The drawings that an entry may show: the dial as it is now, and the section through the watch."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from jobs.options.choosing import chosen_option, report_of
from parts.fit.drawings.section import section_plain_svg
from parts.pairings.look import looks_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from jobs.models import WindowEntry
    from parts.models import PartPicture

_IN_WORDS = re.compile(r"<title>.*?</title><desc>.*?</desc>", re.DOTALL)


def drawings_of(entry: WindowEntry, address: Callable[[PartPicture], str]) -> tuple[SafeString, SafeString]:
    """(look, section) in the language that is spoken now; each empty where it is not wanted, or nothing is measured.

    `address` says where a picture of the dial lies on the site.
    """
    option = chosen_option(entry.job) if entry.with_look or entry.with_section else None
    report = report_of(option)
    look = section = ""
    if option and report and entry.with_look:
        look = looks_of(pairing=option.pairing, report=report, address=address).dial
        title = _("The dial with its hands, drawn to scale")
        look = _IN_WORDS.sub(lambda _words: f"<title>{escape(title)}</title>", look, count=1)
    if report and entry.with_section:
        title = _("Section through the watch, drawn to scale")
        section = section_plain_svg(report, title=title, description=_("Crystal above, case back below."))
    return mark_safe(look), mark_safe(section)
