"""The measuring sheet: what is to be measured, in the order of the bench, as rows with boxes; it fits one page.

A blank one asks for what decides; one of a fit check only for what is still missing, and tells what is known.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil
from typing import TYPE_CHECKING, Any

from parts.dimensions.cards import of_every_row
from parts.dimensions.typed import OUTLINES, SEAT
from parts.fit.constructions import BACK_NUMBERS
from parts.fit.records import HANDS, describe, input_of
from parts.fit.sheet import NONE
from parts.fit.units import unit_word
from parts.library.sketches import of_the_hour, sketch_of
from parts.measuring.drawn import sketch_svg
from parts.measuring.how import of_the_front, seldom, stations
from parts.measuring.tools import tools_of
from parts.pairings.worksheet import number_at, shown_number
from parts.quick.asked import LETTERS

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping

MOST_BOXES = 3
_HEAD, _LOOK, _KNOWN = 6.0, 4.4, 2.8
_COLUMN, _LETTER_WIDTH = 92.0, 1.15
PITCHES = (12.0, 10.5, 9.0, 8.0, 7.2, 6.6, 6.0)
"""Heights of a row in mm, the roomiest first; a row holds a label, its tools, a sketch and its boxes."""


@dataclass(frozen=True, slots=True)
class Box:
    """Where a number is written: what it is of ("minute", "2"), and the number where it is known already."""

    head: str
    known: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One dimension of one thing or of several alike; `letter` is its letter on the quick check."""

    label: str
    unit: str
    tools: str
    sketch: str
    boxes: tuple[Box, ...]
    letter: str = ""

    @property
    def is_known(self) -> bool:
        """Whether no box is left to fill."""
        return all(box.known for box in self.boxes)

    @property
    def known(self) -> str:
        """The row as a few words with its numbers."""
        return f"{self.label} " + ", ".join(f"{box.head}: {box.known}" if box.head else box.known for box in self.boxes)


@dataclass(frozen=True, slots=True)
class Block:
    """A station of the bench on the sheet."""

    number: int
    title: str
    rows: tuple[Row, ...] = ()
    look: tuple[str, ...] = ()
    known: tuple[str, ...] = ()
    continued: bool = False

    @property
    def ticks(self) -> list[tuple[str, list[str]]]:
        """What is looked at, each with the words of its boxes; with none, one box stands before it."""
        return [(words, boxes) for words, *boxes in (look.split("|") for look in self.look)]

    def height(self, pitch: float) -> float:
        """Its height in mm."""
        lines = ceil(len(" · ".join(self.known)) * _LETTER_WIDTH / _COLUMN) if self.known else 0
        return _HEAD + _LOOK * len(self.look) + _KNOWN * lines + pitch * len(self.rows)


@dataclass(frozen=True, slots=True)
class Layout:
    """The sheet on its page: blocks in two columns, at one height of rows. `pitch` is that in tenths of a mm."""

    columns: tuple[tuple[Block, ...], ...]
    pitch: int


def blocks_of(sheet: Mapping[str, Any] | None = None, *, wanted: Collection[str] = ()) -> list[Block]:
    """The stations with what is to be measured; `wanted` are paths that are asked for although seldom needed."""
    sheet = sheet or {}
    asked = {of_the_hour(of_every_row(path)) for path in wanted}
    if _is_from_the_front(sheet):
        asked |= set(of_the_front())
    blocks = []
    for station in stations():
        paths = [path for path in station.paths if path == of_the_hour(path)]
        rows = [_row(path, sheet, whole=station.number == 9) for path in paths if not _is_left_out(path, sheet, asked)]
        seen = {look: _seen(look, sheet) for look in station.look}
        known = (*filter(None, seen.values()), *(row.known for row in rows if row.boxes and row.is_known))
        look = tuple(look for look, known_by_now in seen.items() if not known_by_now)
        open_rows = tuple(row for row in rows if row.boxes and not row.is_known)
        if open_rows or look or known:
            blocks.append(Block(station.number, station.title, open_rows, look, known))
    return blocks


def laid_out(blocks: list[Block], *, height: float) -> Layout:
    """The blocks in two columns of `height` mm, with the roomiest rows that fit."""
    for pitch in PITCHES:
        columns = _in_columns(blocks, pitch, height)
        if columns is not None:
            return Layout(columns, round(pitch * 10))
    raise ValueError(f"{sum(len(block.rows) for block in blocks)} rows do not fit one page")


def _in_columns(blocks, pitch, height):
    """Two columns of nearly one height; None where they do not fit. A block may go on in the second."""
    half = sum(block.height(pitch) for block in blocks) / 2
    first: list[Block] = []
    rest, used = list(blocks), 0.0
    while rest and used + rest[0].height(pitch) <= min(height, half + pitch):
        used += rest[0].height(pitch)
        first.append(rest.pop(0))
    if rest:
        bare = replace(rest[0], rows=()).height(pitch)
        count = int((min(height, half + pitch) - used - bare) // pitch)
        if count >= 2 and len(rest[0].rows) - count >= 2:
            block = rest.pop(0)
            first.append(replace(block, rows=block.rows[:count]))
            rest.insert(0, Block(block.number, block.title, block.rows[count:], continued=True))
    heights = [sum(block.height(pitch) for block in column) for column in (first, rest)]
    return (tuple(first), tuple(rest)) if max(heights) <= height else None


def _row(path: str, sheet: Mapping[str, Any], *, whole: bool) -> Row:
    spec = input_of(path.replace("[]", "[0]"))
    boxes = tuple(
        Box(head, shown_number(raw, spec.unit) if (raw := number_at(sheet, each)) is not None else "")
        for head, each in _places(path, sheet)
    )
    tools = tools_of(path, unit=spec.unit)
    tools = [tool for tool in tools if not tool.startswith("picture")] or tools
    tools = tools[-1:] if len(boxes) > 1 else [*tools[:1], *tools[1:][-1:]]
    sketch = sketch_of(path)
    words = ", ".join(tools).replace("\u00a0mm", "").replace(" mm", "")
    drawn = sketch_svg(sketch) if sketch else ""
    return Row(
        _label(path, whole=whole),
        unit_word(spec.unit),
        words,
        drawn,
        boxes,
        LETTERS[_is_from_the_front(sheet)].get(path, ""),
    )


def _seen(look: str, sheet: Mapping[str, Any]) -> str:
    """What is looked at in the words of its box, where the sheet has it already; empty where it has not."""
    words, *boxes = look.split("|")
    word = number_at(sheet, _LOOKED_AT[words]) if words in _LOOKED_AT else None
    return f"{words} {word}" if word in boxes else ""


_LOOKED_AT = {"Date window": "dial.window", "Loads from the": "case.construction", "Dial held by": "dial.fixing"}
"""Where the sheet has what is looked at."""


def _label(path: str, *, whole: bool) -> str:
    part, _, _ = path.partition(".")
    words = describe(path.replace("[]", "[0]")).phrase.replace("furniture", "marker").replace(" 1 ", " ")
    words = words.removeprefix("hour hand ").replace("hour post", "post")
    words = words if whole else words.removeprefix(f"{part} ")
    return words[:1].upper() + words[1:]


def _places(path: str, sheet: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Each thing that a row asks for: its word ("minute", "2") and its path."""
    if "[]" in path:
        head, tail = path.split("[]")
        rows = number_at(sheet, head)
        count = 2 if rows is None or not sheet.get(head.partition(".")[0]) else len(rows)
        for i in range(min(count, MOST_BOXES)):
            yield str(i + 1), f"{head}[{i}]{tail}"
    elif ".hour." in path:
        hands = sheet.get("hands") or {}
        for role in HANDS:
            if hands.get(role, {}) is not None:
                yield role, path.replace(".hour.", f".{role}.")
    else:
        yield "", path


def _is_left_out(path, sheet, asked):
    """Whether it is proven, is not there, of another construction or shape, or seldom needed and not asked for."""
    dial = sheet.get("dial") or {}
    proven = dial.get("own_case") and path in ("dial.diameter", "case.dial_seat_diameter")
    no_feet = dial.get("fixing") == "pads" and path.startswith(("dial.feet", "movement.foot_holes"))
    no_pads = dial.get("fixing") == "feet" and path == "dial.pad_thickness"
    absent = any(
        path.startswith(f"{name}.") and number_at(sheet, name) == NONE for name in ("dial.window", "movement.date")
    )
    behind = number_at(sheet, "dial.window") == NONE and path.startswith(_UNDER_A_WINDOW)
    outlined = bool(number_at(sheet, OUTLINES[path])) if path in OUTLINES else False
    unseated = path == SEAT and dial.get("rests_on") == "movement"
    of_the_back = _is_from_the_front(sheet) and path in _OF_THE_BACK
    unasked = path in seldom() and path not in asked and number_at(sheet, path) is None
    return any((proven, no_feet, no_pads, absent, behind, outlined, unseated, of_the_back, unasked))


def _is_from_the_front(sheet):
    return (sheet.get("case") or {}).get("construction") == "front"


_UNDER_A_WINDOW = ("movement.date.angle", "movement.date.numeral_")
"""What of a date disc matters only to a dial with a window; its ring takes room from pads under any dial."""
_OF_THE_BACK = {f"case.{name}" for name in BACK_NUMBERS}
"""What a case loaded from the front does without."""
