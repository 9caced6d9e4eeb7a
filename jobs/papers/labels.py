"""Tray labels: the dimensions of the sizes that a shop may choose, and where one lies on its sheet."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LabelSize:
    """A label, mm: `across` by `down` labels on a page of that `page` size, or one by one where it names none.

    The sheets are those that stationers sell everywhere for each paper.
    """

    width: float
    height: float
    page: str = ""
    across: int = 1
    down: int = 1

    @property
    def places(self) -> int:
        """Labels on a sheet."""
        return self.across * self.down

    @property
    def paper(self) -> str:
        """The page's size as CSS has it."""
        return self.page or f"{self.width:g}mm {self.height:g}mm"

    def cells(self, place: int) -> list[list[bool]]:
        """The rows of a sheet, True where the label at that place lies, counted from 1 along the rows."""
        return [[row * self.across + column + 1 == place for column in range(self.across)] for row in range(self.down)]


SIZES = {
    "90x40": LabelSize(90, 40),
    "62x29": LabelSize(62, 29),
    "57x32": LabelSize(57, 32),
    "a4-24": LabelSize(70, 37, "A4", 3, 8),
    "a4-21": LabelSize(63.5, 38.1, "A4", 3, 7),
    "letter-30": LabelSize(66.7, 25.4, "letter", 3, 10),
}
"""By the codes of `Shop.Label`."""


def place_on(size: LabelSize, text: str) -> int:
    """The place on a sheet of that size that was asked for, the first one where it is none."""
    return int(text) if text.isascii() and text.isdecimal() and 1 <= int(text[:4]) <= size.places else 1
