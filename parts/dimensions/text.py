"""Text to dimension and back: the only place that reads and writes a measured number.

A ligne is 31250/13853 mm exactly (law of 19 frimaire an VIII: 1 m = 443.296 lignes). A size in lignes
is kept in mm, to 0.0001 mm; as a name on a movement it is only a label, since makers round it freely.
"""

import re
import unicodedata
from decimal import Decimal
from fractions import Fraction
from math import isfinite
from typing import NamedTuple

from parts.fit.units import UNITS, unit_word, with_minus

LIGNE = Fraction(31250, 13853)
"""mm in one ligne."""

_SUFFIXES = {
    "deg": ("°", "deg", "degrees"),
    "uA": ("µa", "ua"),
    "uN·m": ("µn·m", "µnm", "un·m", "unm"),
}
_AT_LEAST = re.compile(r"(?:at least|≥|>=)\s*", re.IGNORECASE)
PLUS_MINUS = re.compile(r"±|\+\s*/\s*-|\+\s*-")
_NUMBER = re.compile(r"-?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)")
_LIGNES = re.compile(
    r"(?:(?P<number>[0-9]+(?:[.,][0-9]+)?)|(?:(?P<whole>[0-9]+)[ -])?(?P<upper>[0-9]+) ?/ ?(?P<lower>[0-9]+))"
    r" ?(?:'''|lignes?)"
)
_LONGEST = 60
_PRIMES = str.maketrans(
    {"‘": "'", "’": "'", "‛": "'", "´": "'", "`": "'", "′": "'", "ʹ": "'"} | dict.fromkeys('“”„"ʺ″', "''")
)


class Reading(NamedTuple):
    """A measured value and the half-width of the interval that it lies in, both in the dimension's unit."""

    value: float
    plus_minus: float = 0.0

    @property
    def at_least(self) -> bool:
        """Whether the value is only the least that it can be."""
        return isinstance(self, AtLeast)


class AtLeast(Reading):
    """A bound: what ran together cleared, so that there is at least this much."""

    __slots__ = ()


class DimensionError(ValueError):
    """Text that is no dimension; says what was typed, what is accepted and what to do."""


def read_dimension(text: str, *, unit: str = "mm", bounded: bool = False) -> Reading | None:
    """The Reading that `text` stands for, or None where nothing is typed (not measured).

    Accepts 27.40, 27,40, 27.40 ±0.02 (also +-0.02 and +/-0.02), the unit behind a number and, for mm, lignes:
    11 1/2''', 11.5''', 11½'''. The plus-minus is always in the dimension's own unit. A `bounded` dimension may be
    "at least 2.30", without a plus-minus. Raises DimensionError.
    """
    plain = plain_text(text)
    if not plain:
        return None
    if len(plain) > _LONGEST:
        raise refusal(text, unit)
    bound = _AT_LEAST.match(plain)
    if bound and not bounded:
        raise DimensionError(f"“{text.strip()}” says “at least”, which does not work here. Type the number alone.")
    if bound:
        reading = read_dimension(plain[bound.end() :], unit=unit)
        if reading is None or reading.plus_minus:
            raise DimensionError(
                f"“{text.strip()}” does not work. Type “at least” and a number, such as at least 2.30."
            )
        return AtLeast(reading.value)
    value, *rest = (piece.strip() for piece in PLUS_MINUS.split(plain))
    if len(rest) > 1 or not value or rest == [""]:
        raise refusal(text, unit)
    plus_minus = read_number(rest[0], unit) if rest else 0.0
    if plus_minus is None or plus_minus < 0:
        raise DimensionError(
            f"“{rest[0]}” after the ± is not a number. Type something like ±0.02, in {unit_word(unit)}."
        )
    number = read_number(value, unit)
    if number is None and unit == "mm":
        number = _read_lignes(value, text)
    if number is None:
        raise refusal(text, unit)
    return Reading(number, plus_minus)


def format_dimension(value: float | None, plus_minus: float = 0.0, *, unit: str = "mm", at_least: bool = False) -> str:
    """The text that `read_dimension` reads back to exactly these numbers; empty for a value that is None.

    Millimetres show two decimals, more only where the number needs them; other units as few as they need.
    """
    if value is None:
        return ""
    text = _format_number(value, unit)
    if at_least:
        return f"at least {text}"
    return f"{text} ±{_format_number(plus_minus, unit)}" if plus_minus else text


def show_dimension(value: float | None, plus_minus: float = 0.0, *, unit: str = "mm", at_least: bool = False) -> str:
    """A dimension for reading, with its unit: 27.40 ±0.02 mm, 90°, at least 2.30 mm."""
    return with_minus(format_dimension(value, plus_minus, unit=unit, at_least=at_least)) + UNITS[unit].behind


def ligne_label(value):
    """The size in lignes that a diameter in mm is near, to the quarter: 11 1/2''', or "about 11 1/4'''".

    It says "about" from 0.01 mm off. Returns an empty text below a quarter ligne, and for what is no finite number.
    """
    if not isfinite(value):
        return ""
    quarters = round(Fraction(value) / LIGNE * 4)
    if quarters < 1:
        return ""
    whole, part = divmod(quarters, 4)
    words = " ".join(filter(None, (str(whole) if whole else "", ("", "1/4", "1/2", "3/4")[part])))
    about = "about " if abs(value - float(quarters * LIGNE / 4)) >= 0.01 else ""
    return f"{about}{words}'''"


def plain_text(text):
    """The text with plain signs and single blanks."""
    spaced = "".join(f" {char}" if unicodedata.decomposition(char).startswith("<fraction>") else char for char in text)
    straight = unicodedata.normalize("NFKC", spaced.translate(_PRIMES)).translate(_PRIMES)
    return " ".join(straight.replace("⁄", "/").replace("\u2212", "-").replace("μ", "µ").split())


def read_number(text, unit):
    """The number that the text is, its unit behind it or not; None where it is none."""
    lowered = text.lower()
    for suffix in sorted(_SUFFIXES.get(unit, (unit.lower(),)), key=len, reverse=True):
        if lowered.endswith(suffix):
            lowered = lowered.removesuffix(suffix).rstrip()
            break
    return float(lowered.replace(",", ".")) if _NUMBER.fullmatch(lowered) else None


def _read_lignes(piece, text):
    if re.search(r"[0-9] ?/ ?[0-9]+$", piece):
        raise DimensionError(
            f"“{text.strip()}” has a fraction, which only works in lignes. Add three marks, "
            "as in 11 1/2''', or type the size in mm, as in 25.94."
        )
    match = _LIGNES.fullmatch(piece.lower())
    if not match:
        return None
    if match["number"]:
        return _ligne_size(Fraction(match["number"].replace(",", ".")))
    whole, upper, lower = (int(match[name] or 0) for name in ("whole", "upper", "lower"))
    if upper >= lower:
        raise DimensionError(f"“{text.strip()}” has a fraction of a whole or more. Type it as in 11 1/2''' or 11.5'''.")
    return _ligne_size(whole + Fraction(upper, lower))


def _ligne_size(lignes):
    return float(round(lignes * LIGNE, 4))


def refusal(text, unit):
    """The error for a text that is no dimension."""
    typed, word = text.strip(), unit_word(unit)
    if len(typed) > _LONGEST:
        typed = typed[:_LONGEST] + "…"
    if unit == "mm":
        examples = "27.40, 27,40 or 27.40 ±0.02 in mm, or lignes such as 11 1/2'''"
    else:
        examples = f"12, 12,5 or 12.5 ±0.5 in {'degrees' if word == '°' else word}"
    return DimensionError(f"“{typed}” is not a number. Type {examples}, or leave it blank if not measured.")


def _format_number(number, unit):
    if not isfinite(number):
        return str(number)
    decimal = Decimal(repr(float(number)))
    places = max(2 if unit == "mm" else 0, -decimal.normalize().as_tuple().exponent)
    return f"{decimal:.{places}f}"
