"""What was read at the bench, in one line of text: a number, several readings, two directions or a pair of pins.

    27.40                 one reading: it takes the tool's limit of error as its plus-minus
    27.40 27.42 27.41     repeated readings: their mean, plus-minus by the GUM (parts/dimensions/uncertainty.py)
    27.40/27.42           two directions or more of a round part: the one that counts; the difference is its ovality
    0.88<0.89             pins: 0.88 goes, 0.89 does not
    27.40 ±0.01           a plus-minus that is typed wins over all of this, ±0 too

Units are those of the dimension. Source of the sums: measuring at the bench, section 4.
"""

from dataclasses import dataclass, replace
from math import floor, isfinite, log10
from typing import Any, Literal

from parts.dimensions.text import PLUS_MINUS, DimensionError, format_dimension, plain_text, read_dimension, read_number
from parts.dimensions.uncertainty import of_mean

Counts = Literal["mean", "smallest", "largest"]
"""Which direction of a round part counts: the smallest of a bore, the largest of what must pass it."""
MOST_READINGS = 30
_LONGEST = 200
_FAR = {"mm": (0.1, 0.05), "deg": (10.0, 0.0)}
_FAR_ELSEWHERE = (1.0, 0.2)


@dataclass(frozen=True, slots=True)
class Tool:
    """What a number was taken with: its name, limit of error and digital step, in the unit of what it measures."""

    name: str
    limit: float
    step: float = 0.0

    @property
    def in_sentence(self) -> str:
        """Its name within a line."""
        return _in_sentence(self.name)


PINS = Tool("Pins", 0.002)
"""A good set of pins, limit in mm; common practice, no source. A shop has its own."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A number as it was taken: value and half-width of its interval, and the readings that they come from.

    `stated` tells a plus-minus that was typed; `tool` is empty where no tool gave one.
    """

    value: float
    plus_minus: float = 0.0
    at_least: bool = False
    stated: bool = False
    tool: str = ""
    readings: tuple[float, ...] = ()
    directions: tuple[float, ...] = ()
    pins: tuple[float, ...] = ()

    @property
    def oval(self) -> float | None:
        """How far the directions of a round part differ; None where it was not taken in several."""
        return _clean(max(self.directions) - min(self.directions)) if self.directions else None

    @property
    def has_plus_minus(self) -> bool:
        """Whether a person or a tool gave its plus-minus; without one it passes for exact."""
        return self.stated or self.at_least or bool(self.tool)

    @property
    def record(self) -> dict[str, Any]:
        """How it was taken, as JSON has it; `how_taken` puts it in words."""
        pieces = {
            "instrument": self.tool,
            "readings": list(self.readings),
            "directions": list(self.directions),
            "oval": self.oval,
            "pins": list(self.pins),
            "stated": self.stated,
        }
        return {name: piece for name, piece in pieces.items() if piece or (name == "oval" and piece is not None)}


def take(
    text: str,
    *,
    unit: str = "mm",
    bounded: bool = False,
    tool: Tool | None = None,
    pins: Tool = PINS,
    counts: Counts = "mean",
) -> Taken | None:
    """What `text` says that was taken, or None where nothing is typed. Raises DimensionError.

    A single number is read as `read_dimension` does. Without a `tool` it stays as it is typed.
    """
    plain = plain_text(text)
    if not plain:
        return None
    if len(plain) > _LONGEST:
        raise DimensionError(f"This has {len(plain)} characters. Type {MOST_READINGS} readings at most.")
    head, *behind = PLUS_MINUS.split(plain, maxsplit=1)
    several = _several(head.strip(), unit, pins, tool, counts)
    if several is None:
        reading = read_dimension(text, unit=unit, bounded=bounded)
        if reading is None or behind or reading.at_least or tool is None:
            return reading and _alone(reading, tool, bool(behind))
        return Taken(reading.value, tool.limit, tool=tool.name)
    if not behind:
        return several
    stated = read_dimension(f"{several.value} ±{behind[0]}", unit=unit)
    return replace(several, plus_minus=stated.plus_minus, stated=True) if stated else several


def how_taken(record: dict[str, Any], *, unit: str = "mm") -> str:
    """How a number was taken, in words: "calliper, 3 readings", "calliper, 0.02 oval"; empty where nobody wrote it."""
    words = [_in_sentence(record.get("instrument", ""))]
    if record.get("readings"):
        words.append(f"{len(record['readings'])} readings")
    if record.get("directions"):
        oval = format_dimension(record.get("oval") or 0.0, unit=unit)
        words.append(f"{len(record['directions'])} directions, {oval} oval")
    if len(record.get("pins", ())) == 2:
        goes, stops = (format_dimension(pin, unit=unit) for pin in record["pins"])
        words.append(f"{goes} goes, {stops} does not")
    if record.get("stated"):
        words.append("± as typed")
    return ", ".join(filter(None, words))


def _alone(reading, tool, stated):
    """One number as it is typed; a bound comes from what ran together, not from a tool."""
    return Taken(*reading, reading.at_least, stated, tool.name if tool and not reading.at_least else "")


def checked_record(data: dict[str, Any]) -> dict[str, Any]:
    """What `Taken.record` may have given, from a file; raises TypeError or ValueError for what it cannot."""
    readings, directions, pins = (
        tuple(float(each) for each in data.get(name, ())) for name in ("readings", "directions", "pins")
    )
    for numbers in (readings, directions, pins):
        if len(numbers) > MOST_READINGS or not all(map(isfinite, numbers)):
            raise ValueError(f"more than {MOST_READINGS} numbers, or one that is none")
    stated, tool = data.get("stated") is True, str(data.get("instrument", ""))[:_LONGEST]
    return Taken(0.0, stated=stated, tool=tool, readings=readings, directions=directions, pins=pins).record


def _several(head, unit, pins, tool, counts):
    """What several numbers say; None where `head` is one number or none."""
    for sign, reader in (("<", _pin_pair), ("/", _directions), (" ", _repeated)):
        numbers = _numbers(head, sign, unit)
        if numbers:
            return reader(numbers, head, unit, pins if sign == "<" else tool, counts)
    return None


def _numbers(head, sign, unit):
    """The numbers between the signs; None where there is one alone, or anything else. A fraction is no directions."""
    if sign == " ":
        words = [word.rstrip(",;") for word in head.split()]
        pieces = [word for word in words if word and read_number(f"0{word}", unit) != 0.0]
    else:
        pieces = [piece.strip() for piece in head.split(sign)]
    if len(pieces) < 2 or (sign == "/" and not any(mark in head for mark in ".,")):
        return None
    numbers = [read_number(piece, unit) for piece in pieces]
    return None if None in numbers else numbers


def _repeated(numbers, head, unit, tool, _counts):
    if len(numbers) > MOST_READINGS:
        raise DimensionError(f"These are {len(numbers)} readings. Type {MOST_READINGS} at most.")
    least, share = _FAR.get(unit, _FAR_ELSEWHERE)
    apart = max(numbers) - min(numbers)
    if apart > least + share * max(map(abs, numbers)):
        raise DimensionError(
            f"“{head}” are readings {format_dimension(_clean(apart), unit=unit)} apart. Leave out what was misread, or "
            "type one number."
        )
    mean, plus_minus = of_mean(numbers, limit=tool.limit if tool else 0.0, step=tool.step if tool else 0.0)
    value, plus_minus = _rounded(mean, plus_minus)
    return Taken(value, plus_minus, tool=tool.name if tool else "", readings=tuple(numbers))


def _directions(numbers, head, unit, tool, counts):
    """The direction that counts. A true extreme may lie between those taken: half the ovality adds to the limit."""
    apart = max(numbers) - min(numbers)
    if min(numbers) <= 0 or apart > 0.05 * max(numbers) + 0.05:
        raise DimensionError(
            f"“{head}” says {format_dimension(_clean(apart), unit=unit)} out of round. Type the directions of one "
            "round part, as in 27.40/27.42."
        )
    values = {"smallest": min(numbers), "largest": max(numbers), "mean": (min(numbers) + max(numbers)) / 2}
    plus_minus = (tool.limit if tool else 0.0) + apart / 2
    return Taken(_clean(values[counts]), _clean(plus_minus), tool=tool.name if tool else "", directions=tuple(numbers))


def _pin_pair(numbers, head, _unit, tool, _counts):
    """The hole lies between the pin that goes and the one that does not, each of them off by the pins' limit."""
    if len(numbers) > 2 or not 0 < numbers[0] < numbers[1]:
        raise DimensionError(f"“{head}” is no pair of pins. Type the one that goes first, as in 0.88<0.89.")
    goes, stops = numbers
    half = (stops - goes) / 2
    return Taken(_clean(goes + half), _clean(half + tool.limit), tool=tool.name, pins=(goes, stops))


def _rounded(value, plus_minus):
    """Two digits of the plus-minus, and the value to the same place (GUM 7.2.6)."""
    if not plus_minus:
        return _clean(value), 0.0
    places = min(max(1 - floor(log10(plus_minus)), 0), 6)
    return round(value, places), round(plus_minus, places)


def _clean(number):
    """Without what binary fractions leave behind."""
    return round(number, 9)


def _in_sentence(name):
    """A name within a line: its capital goes, unless more capitals follow it."""
    return name[:1].lower() + name[1:] if name[1:2].islower() else name
