"""What is only unlikely in a sheet, and worth a second look; it changes no verdict.

Source: fit model section 2.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from parts.fit.arithmetic.quantities import SLACK, Quantity
from parts.fit.contradictions import in_mm
from parts.fit.records import Sheet, describe

BORE_SMALL, BORE_LARGE = 10.0, 60.0
"""Bores outside these, in mm, are looked at again; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """Numbers worth another look: their paths, and the sentence that says why."""

    inputs: tuple[str, ...]
    sentence: str


def doubts(sheet: Sheet) -> list[Doubt]:
    """What is only unlikely in a sheet, and worth a second look."""
    return [*_hands_doubted(sheet), *_bore_doubted(sheet), *_numerals_doubted(sheet), *_markers_doubted(sheet)]


def _hands_doubted(sheet: Sheet) -> Iterator[Doubt]:
    hour, minute = sheet.hands.hour.length, sheet.hands.minute.length
    if _surely_above(hour, minute):
        says = f"the hour hand, {in_mm(hour)}, is longer than the minute hand, {in_mm(minute)}"
        yield Doubt(("hands.hour.length", "hands.minute.length"), f"Look at the hands again: {says}.")


def _bore_doubted(sheet: Sheet) -> Iterator[Doubt]:
    bore = sheet.case.bore_diameter
    if bore.known and not BORE_SMALL <= bore.value <= BORE_LARGE:
        size = "small" if bore.value < BORE_SMALL else "large"
        yield Doubt(("case.bore_diameter",), f"Look at the bore again: {in_mm(bore)} is {size} for a watch.")
    opening = sheet.case.dial_opening_diameter
    if sheet.dial.own_case and _surely_above(opening, bore):
        says = f"the dial opening, {in_mm(opening)}, is wider than the bore, {in_mm(bore)}, that the dial passes"
        yield Doubt(("case.dial_opening_diameter", "case.bore_diameter"), f"Look at the case again: {says}.")


def _numerals_doubted(sheet: Sheet) -> Iterator[Doubt]:
    date = sheet.movement.date
    if not date:
        return
    width = date.disc_outer_radius - date.disc_inner_radius
    if _surely_above(date.numeral_radial, width):
        paths = tuple(f"movement.date.{name}" for name in ("numeral_radial", "disc_inner_radius", "disc_outer_radius"))
        says = f"its numerals, {in_mm(date.numeral_radial)}, are wider than the disc, {in_mm(width)}"
        yield Doubt(paths, f"Look at the date disc again: {says}.")


def _markers_doubted(sheet: Sheet) -> Iterator[Doubt]:
    rim = 0.5 * sheet.case.dial_opening_diameter
    marks = [("dial.hour_marker_inner_radius", sheet.dial.hour_marker_inner_radius)]
    marks += [(f"dial.furniture[{i}].inner_radius", item.inner_radius) for i, item in enumerate(sheet.dial.furniture)]
    for path, radius in marks:
        if not rim.unbounded and _surely_above(radius, rim):
            says = f"the {describe(path).phrase}, {in_mm(radius)}, lies beyond the dial opening's rim at {in_mm(rim)}"
            yield Doubt((path, "case.dial_opening_diameter"), f"Look at the markers again: {says}.")


def _surely_above(a: Quantity, b: Quantity) -> bool:
    return a.known and b.known and a.low > b.high + SLACK
