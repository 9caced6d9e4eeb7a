"""The numbers of a pairing as rows: what is stored, where it comes from, and what was typed instead."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from parts.dimensions.text import format_dimension, show_dimension
from parts.fit.records import describe, paths
from parts.fit.rules import RULES
from parts.library.kinds import KIND_OF
from parts.rules.shop import shop_rules
from parts.sheets import sheet_of

if TYPE_CHECKING:
    from parts.models import Pairing

PREFIX = "what-if:"
"""What-if inputs of the page's form are called by this and the path in the sheet."""
_LONGEST = 60


@dataclass(frozen=True, slots=True)
class Row:
    """One number: `stored` as it is shown, empty where not measured; `typed` in its place on this page."""

    path: str
    label: str
    where: str
    stored: str
    source: str
    typed: str
    fault: str

    @property
    def field(self):
        return PREFIX + self.path


@dataclass(frozen=True, slots=True)
class PartRows:
    """The rows of one part of the pairing; `kind` and `pk` lead to the part itself, None where it is typed."""

    part: str
    kind: str
    pk: int | None
    rows: list

    @property
    def typed(self):
        return any(row.typed for row in self.rows)


def part_word(name):
    """A part's name as it is said: "hand set" for "hands"."""
    return "hand set" if name == "hands" else name


def typed_changes(data):
    """The what-if numbers of a posted form, path to text; those left empty are no change."""
    return {
        name.removeprefix(PREFIX): text.strip()[:_LONGEST]
        for name, text in data.items()
        if name.startswith(PREFIX) and text.strip()
    }


def part_rows(
    pairing: Pairing, *, sources: Mapping[str, str], changes: Mapping[str, str], faults: Mapping[str, str]
) -> list[PartRows]:
    """The PartRows of each part that the pairing has."""
    sheet = sheet_of(pairing)
    groups: dict[str, list[Row]] = {}
    for path in _paths(sheet):
        if row := _row(path, sheet, sources, changes, faults):
            groups.setdefault(path.split(".")[0], []).append(row)
    return [
        PartRows(part_word(part), KIND_OF[part].slug, _key_of(pairing, part), rows) for part, rows in groups.items()
    ]


def row_at(
    path: str, pairing: Pairing, *, sources: Mapping[str, str], changes: Mapping[str, str], faults: Mapping[str, str]
) -> Row | None:
    """The row of one number; None where the path names none."""
    try:
        return _row(path, sheet_of(pairing), sources, changes, faults)
    except (KeyError, ValueError):
        return None


def _row(path, sheet, sources, changes, faults):
    described = describe(path)
    if not described.input:
        return None
    stored = shown_number(number_at(sheet, path), described.input.unit)
    typed = changes.get(path, ""), faults.get(path, "")
    return Row(path, described.phrase, described.input.where, stored, sources.get(path, ""), *typed)


def _key_of(pairing, part):
    if part == "hands":
        return next((hand_set.pk for hand_set in pairing.hand_sets.values()), None)
    return getattr(pairing, f"{part}_id")


def open_rows(part: str, *, changes: Mapping[str, str], faults: Mapping[str, str]) -> list[Row]:
    """The rows of a part that is not chosen, for the numbers that every such part has."""
    plain = [path for path in paths() if path.startswith(f"{part}.") and path.count(".") == 1]
    described = ((path, describe(path)) for path in plain)
    return [
        Row(path, dimension.phrase, dimension.input.where, "", "", changes.get(path, ""), faults.get(path, ""))
        for path, dimension in described
        if dimension.input
    ]


def rule_rows(*, changes: Mapping[str, str], faults: Mapping[str, str]) -> list[Row]:
    """The bench rules as rows; the shop's own or the default stands as stored, with the reason for it."""
    own = shop_rules()
    return [_rule_row(name, own, changes, faults) for name in RULES]


def rule_row(path: str, changes: Mapping[str, str], faults: Mapping[str, str]) -> Row | None:
    """The row of one bench rule; None where the path names none."""
    name = path.removeprefix("rules.")
    return _rule_row(name, shop_rules(), changes, faults) if name in RULES else None


def _rule_row(name, own, changes, faults):
    rule, path = RULES[name], f"rules.{name}"
    stored = rule_value(own.get(name, rule.default), rule.metadata["unit"])
    reason = rule.metadata["reason"]
    return Row(path, rule_words(name), "", stored, reason, changes.get(path, ""), faults.get(path, ""))


def rule_words(name):
    """A bench rule's name as it is said."""
    return RULES[name].metadata["label"]


def rule_value(value: float, unit: str) -> str:
    """A bench rule's value with its unit; a share as it is typed and in percent."""
    number = format_dimension(value, unit="count")
    match unit:
        case "mm":
            return show_dimension(value, unit="mm")
        case "deg":
            return f"{number}°"
        case "share":
            return f"{number} ({100 * value:g}\u00a0%)"
        case "count":
            return f"{number}\u00a0times"
    return f"{number}\u00a0{unit}"


def _paths(sheet):
    """The paths of all numbers of the parts chosen, list items with their index."""
    for path in paths():
        part = path.split(".")[0]
        if part not in sheet or not sheet[part]:
            continue
        if "[]" not in path:
            if _reachable(sheet, path):
                yield path
            continue
        head, tail = path.split("[]")
        for i in range(len(number_at(sheet, head) or ())):
            yield f"{head}[{i}]{tail}"


def _reachable(sheet, path):
    """Whether the record that holds the number is there (a dial without a window has no window's numbers)."""
    *branch, _ = path.split(".")
    inside = sheet
    for step in branch:
        inside = inside.get(step)
        if not isinstance(inside, dict):
            return False
    return True


def number_at(sheet, path):
    """What the sheet has at a path, None where it has nothing."""
    inside = sheet
    for step in re.findall(r"[a-z_]+|[0-9]+", path):
        inside = _inside(inside, step)
    return inside


def _inside(node, step):
    if step.isdigit():
        node = list(node.values()) if isinstance(node, dict) else node
        return node[int(step)] if isinstance(node, list) and int(step) < len(node) else None
    return node.get(step) if isinstance(node, dict) else None


def shown_number(raw, unit):
    """A number of the sheet as it is read, with its unit; empty where it is not measured."""
    if isinstance(raw, dict):
        return show_dimension(raw["at_least"], unit=unit, at_least=True)
    value, plus_minus = raw if isinstance(raw, list) else (raw, 0.0)
    return "" if value is None else show_dimension(value, plus_minus, unit=unit)
