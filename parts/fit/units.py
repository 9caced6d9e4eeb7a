"""The units, each told in one way: a number always with its unit, lengths in mm with two decimals."""

from dataclasses import dataclass

MONTH_DAYS = 30.4375
"""Days in a mean month, a twelfth of 365.25."""


@dataclass(frozen=True, slots=True)
class Unit:
    """How a unit is written behind a number: its `word`, with `decimals` of the number times `factor` before it.

    `spoken` is what a sentence says in its place.
    """

    word: str
    decimals: int
    factor: int = 1
    spoken: str = ""

    @property
    def behind(self) -> str:
        """What stands right behind a number; a degree sign keeps no distance."""
        return f" {self.word}" if self.word and self.word != "°" else self.word


UNITS = {
    "mm": Unit("mm", 2),
    "deg": Unit("°", 1, spoken="degrees"),
    "uN·m": Unit("µN·m", 3),
    "mg": Unit("mg", 2),
    "mAh": Unit("mAh", 1),
    "uA": Unit("µA", 2),
    "months": Unit("months", 0),
    "share": Unit("%", 1, factor=100),
    "count": Unit("", 0),
    "s/day": Unit("s/day", 2),
    "ppm/°C²": Unit("ppm/°C²", 3),
    "°C": Unit("°C", 1),
    "N": Unit("N", 2),
    "bar": Unit("bar", 1),
}
"""The units by their codes, as pairing sheet, bench rules and columns have them; "count" is a bare number."""


def with_unit(value: float | None, unit: str) -> str:
    """The value with its unit, or "not measured" for None."""
    if value is None:
        return "not measured"
    shape = UNITS[unit]
    text = f"{value * shape.factor:.{shape.decimals}f}{shape.behind}"
    return with_minus(text) if any(digit in text for digit in "123456789") else text.removeprefix("-")


def with_minus(number: str) -> str:
    """The number with a minus sign in place of the hyphen that stands for one."""
    return f"−{number[1:]}" if number.startswith("-") else number


def unit_word(unit: str) -> str:
    """The unit as it is written on paper ("µN·m" for "uN·m"); empty where a bare number says it."""
    return UNITS[unit].word


def spoken_unit(unit: str) -> str:
    """The unit as a sentence says it: "degrees" for "deg"."""
    return UNITS[unit].spoken or UNITS[unit].word
