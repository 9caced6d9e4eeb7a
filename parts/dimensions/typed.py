"""Numbers typed for parts that are not in the library yet: texts by their paths in the pairing sheet, read once.

A draft of a fit check holds them as JSON, path to entry. An entry has the `text` as it was typed; where it could be
read also `value` and `plus_minus` in the dimension's unit, `at_least` for a bound, and how it was taken.
"""

from __future__ import annotations

import re
from copy import deepcopy
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from parts.fit.constructions import FRONT_NUMBERS
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
    "movement.date": {IS: {}, "none": NONE},
    "hands.seconds": {IS: {}, "none": None},
}
"""What is picked and not measured: path to the words that stand for it and what the sheet has then."""
FROM_THE_FRONT = frozenset(f"case.{name}" for name in FRONT_NUMBERS)
"""The numbers that only a case loaded from the front has."""
GAUGES: dict[str, tuple[str, float]] = {
    "gauge.hands": ("case.crystal_gap_centre", 1.0),
    "gauge.back": ("case.back_depth", 1.0),
    "gauge.reach": ("case.dial_opening_diameter", 2.0),
    "gauge.stem": ("case.tube_bore_diameter", 1.0),
}
"""What ran together in the watch as it came: its path here to the number that it bounds, and how often it goes in."""
_STEP = re.compile(r"[a-z_]+|[0-9]+")


def typed_sheet(typed: Mapping[str, Entry]) -> dict[str, Any]:
    """The pairing sheet that the readable entries make: only parts that something was typed for."""
    sheet: dict[str, Any] = {}
    picked = {path: word for path in CHOICES if (word := picked_at(typed, path)) in CHOICES[path]}
    if "case.construction" not in picked:
        picked.pop("case.ring", None)
        typed = {path: entry for path, entry in typed.items() if path not in FROM_THE_FRONT}
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
    return sheet


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
