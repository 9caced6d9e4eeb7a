"""Days, numbers and lengths in the language that is spoken now, by the Unicode locale data."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from babel.dates import format_date, format_skeleton
from babel.numbers import format_decimal
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop, ngettext

from jobs.language.choices import spoken

if TYPE_CHECKING:
    import datetime as dt
    from decimal import Decimal

_LOCALES = {"en": "en_GB", "de": "de_DE", "fr": "fr_FR", "es": "es_ES", "ja": "ja_JP"}
_MEASURED = re.compile(r"(at least |at most |up to )?(-?\d+(?:\.\d+)?)([ \xa0]?)(\D*)")
"""A number with its unit as the fit check writes it, and what stands before one that is a bound."""
_BOUNDS = {
    "at least ": gettext_noop("at least {value}"),
    "at most ": gettext_noop("at most {value}"),
    "up to ": gettext_noop("up to {value}"),
}


def locale_code() -> str:
    """The locale of the language that is spoken now; English is that of the pages."""
    return _LOCALES[spoken()]


def day(date: dt.date, length: str = "long") -> str:
    """A day, its month in words: 3 March 2026; "medium" is for where there is little room."""
    return format_date(_local(date), length, locale=locale_code())


def month(date: dt.date) -> str:
    """A month of a year: March 2026."""
    return format_skeleton("yMMMM", _local(date), locale=locale_code())


def _local(date):
    """The day of a moment on the clock at the wall; a day is one already."""
    return timezone.localtime(date) if hasattr(date, "tzinfo") else date


def number(value: float | Decimal, places: int | None = None) -> str:
    """A number with so many places; without, as many as it has, four at most. Minus is the true minus sign."""
    pattern = "#,##0.####" if places is None else f"#,##0.{'0' * places}" if places else "#,##0"
    return format_decimal(value, pattern, locale=locale_code()).replace("-", "−")


def measured(words: str) -> str:
    """A number with its unit as the fit check writes it ("at least 0.35 mm"); anything else as it is."""
    match = _MEASURED.fullmatch(words)
    if match is None:
        return words
    bound, digits, gap, unit = match.groups()
    places = len(digits.partition(".")[2])
    if unit == "months":
        count = round(float(digits))
        text = ngettext("%(count)s month", "%(count)s months", count) % {"count": number(count)}
    else:
        text = f"{number(float(digits), places)}{gap}{unit}"
    return _(_BOUNDS[bound]).format(value=text) if bound else text
