"""Numbers typed for parts that are not in the library yet: texts by their paths in the pairing sheet, read once.

A draft of a fit check holds them as JSON, path to entry. An entry has the `text` as it was typed; where it could be
read also `value` and `plus_minus` in the dimension's unit, `at_least` for a bound, and how it was taken.
"""

from __future__ import annotations

import re
from copy import deepcopy
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from parts.fit.constructions import EDGES, FRONT_NUMBERS
from parts.fit.records import SMALL_HANDS
from parts.fit.records.outline import SHAPES
from parts.fit.sheet import NONE

if TYPE_CHECKING:
    from collections.abc import Mapping

    Entry = Mapping[str, Any]

IS = "is"
"""Picked for what is there, or is another one than that of the set: its numbers count."""
CHOICES: dict[str, dict[str, Any]] = {
    "case.construction": {"front": "front"},
    "case.ring": {"rehaut": "rehaut", "tension": "tension"},
    "dial.rests_on": {"movement": "movement"},
    "dial.own_case": {"yes": True},
    "dial.fixing": {"feet": "feet", "pads": "pads"},
    "dial.window": {IS: {}, "none": NONE},
    "dial.subdials": {IS: [{}]},
    "movement.date": {IS: {}, "none": NONE},
    "movement.subsidiary": {IS: [{}]},
    "hands.seconds": {IS: {}, "none": None},
    f"hands.{SMALL_HANDS}": {IS: [{}]},
}
"""What is picked and not measured: path to the words that stand for it and what the sheet has then."""
FROM_THE_FRONT = frozenset(f"case.{name}" for name in FRONT_NUMBERS)
"""The numbers that only a case loaded from the front has."""
OUTLINES = {diameter: outline for diameter, (outline, _) in EDGES.items()}
"""Each diameter with the outline that is asked for where the part is not round."""
SEAT = "case.dial_seat_diameter"
"""What is not asked for where the dial rests on the movement."""
_DIAMETERS = {outline: diameter for diameter, outline in OUTLINES.items()}
ROUND = "round"
"""Picked for a dial that is round in a case that is not."""
SMALL = "small seconds"
"""What the post, subdial and hand of typed parts are called."""
GAUGES: dict[str, tuple[str, float]] = {
    "gauge.hands": ("case.crystal_gap_centre", 1.0),
    "gauge.back": ("case.back_depth", 1.0),
    "gauge.reach": ("case.dial_opening_diameter", 2.0),
    "gauge.stem": ("case.tube_bore_diameter", 1.0),
}
"""What ran together in the watch as it came: its path here to the number that it bounds, and how often it goes in."""
_STEP = re.compile(r"[a-z_]+|[0-9]+")


@dataclass(frozen=True, slots=True)
class Beside:
    """What chosen parts tell of those typed beside them.

    `shape` is the case's, "" for round and None where none is chosen; `small` names small seconds, "" for none.
    """

    shape: str | None = None
    small: str = ""


def typed_sheet(typed: Mapping[str, Entry], beside: Beside = Beside()) -> dict[str, Any]:
    """The pairing sheet that the readable entries make: only parts that something was typed for."""
    sheet: dict[str, Any] = {}
    typed = {path: entry for path, entry in typed.items() if counts(path, typed, beside)}
    picked = {path: word for path in CHOICES if (word := picked_at(typed, path)) in CHOICES[path]}
    if "case.construction" not in picked:
        picked.pop("case.ring", None)
    if not has_small(typed, beside):
        picked.pop(f"hands.{SMALL_HANDS}", None)
    for path, word in picked.items():
        _put(sheet, path, deepcopy(CHOICES[path][word]))
    for path, entry in typed.items():
        lies_in = path.rpartition(".")[0]
        if path not in GAUGES and entry.get("value") is not None and picked.get(lies_in, IS) == IS:
            _put(sheet, path, _number(entry))
    for gauge, (path, times) in GAUGES.items():
        entry = typed.get(gauge, {})
        if entry.get("value") is not None and typed.get(path, {}).get("value") is None:
            _put(sheet, path, {"at_least": round(times * (entry["value"] - entry["plus_minus"]), 9)})
    _put_shapes(sheet, typed, beside)
    _name_small(sheet, beside.small or SMALL)
    return sheet


def counts(path: str, typed: Mapping[str, Entry], beside: Beside) -> bool:
    """Whether a number is of the construction, the shape and the seconds that were picked; what is not stays typed."""
    across = diameter_of(path)
    if across in FROM_THE_FRONT and picked_at(typed, "case.construction") != "front":
        return False
    if across == SEAT and picked_at(typed, "dial.rests_on") == "movement":
        return False
    if across in OUTLINES:
        shape = shape_of(across.partition(".")[0], typed, beside)
        return not shape if measured_path(path) == across else path.rpartition(".")[2] in SHAPES.get(shape, ())
    for feature in ("dial.subdials", "movement.subsidiary"):
        if path.startswith(f"{feature}["):
            return picked_at(typed, feature) == IS
    return not path.startswith(f"hands.{SMALL_HANDS}[") or has_small(typed, beside)


def shape_of(part: str, typed: Mapping[str, Entry], beside: Beside) -> str:
    """The shape of a typed case, dial or movement, "" for round; a dial has its case's unless another was picked."""
    shape = picked_at(typed, f"{part}.shape")
    if part == "dial" and not shape:
        shape = picked_at(typed, "case.shape") if beside.shape is None else beside.shape
    return "" if shape == ROUND else shape


def has_small(typed: Mapping[str, Entry], beside: Beside) -> bool:
    """Whether the watch has small seconds."""
    return bool(beside.small) or IS in (picked_at(typed, "dial.subdials"), picked_at(typed, "movement.subsidiary"))


def diameter_of(path: str) -> str:
    """The diameter in whose place a number of an outline stands; any other path is its own."""
    path = measured_path(path)
    return _DIAMETERS.get(path.rpartition(".")[0], path)


def _put_shapes(sheet: dict[str, Any], typed: Mapping[str, Entry], beside: Beside) -> None:
    """Say of each edge of a part that is not round which shape it has, measured or not."""
    for outline in OUTLINES.values():
        part = outline.partition(".")[0]
        shape = shape_of(part, typed, beside)
        is_there = part in sheet or picked_at(typed, f"{part}.shape")
        if shape and is_there and counts(f"{outline}.width", typed, beside):
            _put(sheet, f"{outline}.shape", shape)


def _name_small(sheet: dict[str, Any], name: str) -> None:
    """Call subdial, post and hand by the same name, so that they are taken for each other's."""
    for row in (*sheet.get("dial", {}).get("subdials", ()), *sheet.get("movement", {}).get("subsidiary", ())):
        row["name"] = name
    if rows := sheet.get("hands", {}).get(SMALL_HANDS):
        sheet["hands"][SMALL_HANDS] = {name: rows[0]}


def measured_path(path: str) -> str:
    """The path of the dimension that is typed at a path: a gauge's is that which it bounds."""
    return GAUGES[path][0] if path in GAUGES else path


def picked_at(typed: Mapping[str, Entry], path: str) -> str:
    """The word that was picked at a path; empty where nothing was."""
    return typed.get(path, {}).get("text", "")


def _number(entry):
    if entry.get("at_least"):
        return {"at_least": entry["value"]}
    return [entry["value"], entry["plus_minus"]] if entry["plus_minus"] else entry["value"]


def _put(sheet, path, number):
    """Set what stands at a path, with the records and list items on the way to it."""
    steps = [int(step) if step.isdigit() else step for step in _STEP.findall(path)]
    inside: Any = sheet
    for step, after in pairwise(steps):
        missing = [] if isinstance(after, int) else {}
        if isinstance(step, int):
            inside.extend({} for _ in range(step + 1 - len(inside)))
            inside = inside[step]
        else:
            inside = inside.setdefault(step, missing)
    inside[steps[-1]] = number
