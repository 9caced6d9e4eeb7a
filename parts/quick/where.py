"""Where the numbers of a quick check are taken: letters on a sketch of a watch cut through, drawn for the look.

Coordinates are those of the sketch, 640 by 290, y downwards; a number that is not asked for has no letter on it. Loaded
from the front, the watch stands on its case's floor, and another sketch is drawn.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from parts.dimensions.typed import diameter_of, shape_of
from parts.quick.asked import LETTERS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from parts.models import Pairing
    from parts.quick.page import Line

_HEAD = 5


@dataclass(frozen=True, slots=True)
class Mark:
    """A letter at (x, y), the path of its arrow and of its thin leads, and the state of its number."""

    letter: str
    x: float
    y: float
    arrow: str
    leads: str
    state: str


def _across(y: float, left: float, right: float, to: float, at: float) -> tuple[float, float, str, str]:
    """An arrow from left to right at height y, its leads down or up to `to`."""
    arrow = f"M{left} {y}H{right}M{left + _HEAD} {y - 4}L{left} {y}L{left + _HEAD} {y + 4}"
    arrow += f"M{right - _HEAD} {y - 4}L{right} {y}L{right - _HEAD} {y + 4}"
    return at, y, arrow, f"M{left} {to}V{y}M{right} {to}V{y}"


def _down(x: float, top: float, bottom: float, to: float | None = None) -> tuple[float, float, str, str]:
    """An arrow from top to bottom at x, its leads sideways to `to`."""
    arrow = f"M{x} {top}V{bottom}M{x - 4} {top + _HEAD}L{x} {top}L{x + 4} {top + _HEAD}"
    arrow += f"M{x - 4} {bottom - _HEAD}L{x} {bottom}L{x + 4} {bottom - _HEAD}"
    return x, (top + bottom) / 2, arrow, f"M{to} {top}H{x}M{to} {bottom}H{x}" if to is not None else ""


def _spot(x: float, y: float, to_x: float, to_y: float) -> tuple[float, float, str, str]:
    """A letter with a lead to a spot."""
    return x, y, "", f"M{x} {y}L{to_x} {to_y}"


_BACK = {
    "case.bore_diameter": _across(262, 70, 570, 225, 250),
    "case.dial_seat_diameter": _across(16, 95, 545, 118, 220),
    "case.dial_opening_diameter": _across(40, 110, 530, 100, 262),
    "case.stem_axis_depth": _down(626, 120, 165, 545),
    "case.back_depth": _down(14, 120, 230, 95),
    "case.stem_angle": _spot(626, 205, 604, 172),
    "dial.diameter": _spot(150, 98, 150, 121),
    "dial.thickness": _spot(185, 98, 185, 121),
    "dial.centre_hole_diameter": _spot(270, 98, 303, 124),
    "dial.window.angle": _spot(400, 98, 436, 121),
    "dial.window.radius": _spot(426, 98, 444, 121),
    "dial.window.radial": _spot(452, 98, 450, 121),
    "dial.window.tangential": _spot(478, 98, 456, 121),
    "case.crystal_gap_centre": _down(352, 72, 120),
    "case.crystal_gap_edge": _down(508, 84, 120),
    "case.crystal_edge_radius": _across(282, 320, 508, 122, 420),
}
_FRONT = {path: place for path, place in _BACK.items() if path.startswith("dial.")} | {
    "case.bore_diameter": _across(266, 84, 556, 226, 250),
    "case.dial_opening_diameter": _across(40, 126, 514, 100, 262),
    "case.front_opening_diameter": _across(16, 96, 544, 84, 220),
    "case.floor_stem": _down(626, 165, 230, 556),
    "case.floor_ring": _down(14, 120, 230, 96),
    "case.stem_angle": _spot(626, 128, 613, 146),
    "case.floor_crystal_centre": _down(352, 74, 230),
    "case.floor_crystal_edge": _down(500, 86, 230),
    "case.crystal_edge_radius": _across(282, 320, 500, 232, 420),
}
_MARKS = {False: _BACK, True: _FRONT}


def marks(lines: Iterable[Line], *, from_the_front: bool) -> list[Mark]:
    """The letters of the numbers that are asked for, each in the state of its number: of several, of the one to do."""
    places, letters = _MARKS[from_the_front], LETTERS[from_the_front]
    states: dict[str, list[str]] = {}
    for line in lines:
        if (path := diameter_of(line.asked.path)) in places and line.letter:
            states.setdefault(path, []).append(line.state or "open")
    return [
        Mark(letters[path], *places[path], next((state for state in of_each if state != "in"), "in"))
        for path, of_each in states.items()
    ]


def front_of(pairing: Pairing) -> str:
    """The shape to be drawn from the front, of what is not round; empty where all is."""
    shapes = [shape_of(part, pairing.typed, pairing.beside_typed) for part in ("case", "dial", "movement")]
    return next(filter(None, shapes), "")


def all_marks() -> list[Mark]:
    """Every letter of a case loaded from the back, none of the numbers typed yet."""
    return [Mark(LETTERS[False][path], *place, "open") for path, place in _BACK.items()]
