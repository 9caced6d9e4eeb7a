"""Reads a pairing sheet (plain dict, as JSON gives it) into records, refusing what cannot be.

Source: fit model section 2. SheetError names the key, the value and the limit.
"""

import json
from collections.abc import Mapping
from dataclasses import fields
from functools import cache
from math import hypot
from typing import Any, NoReturn
from unicodedata import category

from parts.fit.arithmetic.elementwise import is_column
from parts.fit.arithmetic.quantities import Quantity, measured, unknown
from parts.fit.errors import SheetError
from parts.fit.inputs import Input
from parts.fit.records import Dial, Sheet, fitted
from parts.fit.rules import Rules, read_rules


def read_sheet(data: object) -> tuple[Sheet, Rules]:
    """The sheet's records and its bench rules, as (Sheet, Rules).

    Raises SheetError for an unknown key, a number outside its limits, and a combination that no part can have.
    """
    sheet: Sheet = _read_record(Sheet, data, "")
    if sheet.case.loading != "back":
        raise SheetError(
            "case.loading",
            sheet.case.loading,
            '"back"',
            "only cases loaded from the back, with the dial on a shoulder inside, can be checked",
        )
    for name, hand in fitted(sheet.hands):
        if _less(hand.hub_height, hand.thickness):
            limit = f"at least the blade thickness, {hand.thickness.value:g} mm"
            raise SheetError(
                f"hands.{name}.hub_height", hand.hub_height.value, limit, "the hub is thinner than the blade"
            )
    _refuse_window_outside(sheet.dial)
    if sheet.movement.date and _less(sheet.movement.date.disc_outer_radius, sheet.movement.date.disc_inner_radius):
        _refuse_order("movement.date.disc_outer_radius", sheet.movement.date, "disc_inner_radius", "disc_outer_radius")
    for i, item in enumerate(sheet.dial.furniture):
        if _less(item.outer_radius, item.inner_radius):
            _refuse_order(f"dial.furniture[{i}].outer_radius", item, "inner_radius", "outer_radius")
    return sheet, read_rules(sheet.rules)


def read_part(key: str, data: object) -> Any:
    """The record of one part of a sheet ("movement"), whose numbers may be [column, column], NaN where not measured."""
    return _read_field(key, data, {item.name: item for item in fields(Sheet)}[key].metadata, None)


def parse_sheet(text: str) -> Any:
    """A pairing sheet from its JSON text, as a dict. Raises SheetError where it is no JSON or names a key twice."""
    try:
        return json.loads(text, object_pairs_hook=_once_each)
    except ValueError as error:
        if isinstance(error, SheetError):
            raise
        raise SheetError("sheet", text.strip()[:20], "a fit sheet (JSON)", f"not JSON ({error})") from error
    except RecursionError as error:
        raise SheetError("sheet", text.strip()[:20], "a fit sheet (JSON)", "nested too deeply") from error


def _once_each(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise SheetError(twice, found[twice], "given once", "key given twice")
    return found


def read_number(path: str, raw: Any, spec: Input) -> Quantity:
    """A number, [number, plus_minus] or None as the Quantity named `path`; columns of them were looked at before."""
    if raw is None:
        return unknown(path)
    value, plus_minus = raw, 0.0
    if isinstance(raw, (list, tuple)):
        if len(raw) != 2:
            raise SheetError(path, raw, "a number, or [value, plus_minus]", "this list is neither of these")
        value, plus_minus = raw
        if value is None:
            raise SheetError(path, raw, "null alone where it is not measured", "a plus-minus without a value")
    if is_column(value):
        return measured(path, value, plus_minus)
    spec.check(path, value, plus_minus)
    return measured(path, float(value), float(plus_minus))


@cache
def _plan(cls: Any) -> tuple[tuple[tuple[str, Mapping[str, Any], Any], ...], set[str]]:
    return tuple((item.name, item.metadata, item.default) for item in fields(cls)), {item.name for item in fields(cls)}


def _read_record(cls: Any, data: object, path: str) -> Any:
    if data is None:
        data = {}
    plan, names = _plan(cls)
    if not isinstance(data, dict):
        raise SheetError(path or "sheet", data, "an object with named values", "not a part")
    if not data.keys() <= names:
        key = next(key for key in data if key not in names)
        raise SheetError(f"{path}.{key}" if path else str(key), data[key], "left out", "unknown key")
    prefix = f"{path}." if path else ""
    return cls(*(_read_field(prefix + name, data.get(name), meta, default) for name, meta, default in plan))


def _read_field(path: str, raw: Any, meta: Mapping[str, Any], default: object) -> Any:
    if "input" in meta:
        return read_number(path, raw, meta["input"])
    if "part" in meta:
        return None if raw is None and "optional" in meta else _read_record(meta["part"], raw, path)
    if "rows" in meta:
        return _read_rows(path, raw, meta)
    if raw is None:
        return {} if "rules" in meta else default
    if "choice" in meta:
        if raw not in meta["choice"]:
            raise SheetError(
                path, raw, " or ".join(f'"{option}"' for option in meta["choice"]), "not one of the choices"
            )
    elif "rules" in meta:
        if not isinstance(raw, dict):
            raise SheetError(path, raw, "an object of rule names and numbers", "not a set of bench rules")
    elif not isinstance(raw, bool if "yes_no" in meta else str):
        wanted = "true or false" if "yes_no" in meta else "a text"
        raise SheetError(path, raw, wanted, "the wrong type")
    elif isinstance(raw, str) and "text" in meta and any(category(char) in ("Cc", "Cs") for char in raw):
        raise SheetError(
            path, raw, "letters, figures and signs on one line", "it has characters that cannot be printed"
        )
    return raw


def _read_rows(path: str, raw: Any, meta: Mapping[str, Any]) -> tuple[Any, ...] | None:
    if raw is None:
        absent: tuple[()] | None = meta["absent"]
        return absent
    if not isinstance(raw, (list, tuple)):
        raise SheetError(path, raw, "a list", "not a list")
    for i, row in enumerate(raw):
        if row is None:
            raise SheetError(f"{path}[{i}]", row, "an object with named values", "empty row")
    return tuple(_read_record(meta["rows"], row, f"{path}[{i}]") for i, row in enumerate(raw))


def _less(a: Quantity, b: Quantity) -> bool:
    return a.known and b.known and a.value < b.value


def _refuse_order(path: str, record: object, lower: str, upper: str) -> NoReturn:
    limit = f"at least the {lower.replace('_', ' ')}, {getattr(record, lower).value:g} mm"
    raise SheetError(path, getattr(record, upper).value, limit, "the two radii are the wrong way round")


def _refuse_window_outside(dial: Dial) -> None:
    window = dial.window
    if window is None or not (dial.diameter.known and window.radius.known and window.radial.known):
        return
    across = window.tangential.value / 2 if window.tangential.known else 0.0
    corner = hypot(window.radius.value + window.radial.value / 2, across)
    if corner > dial.diameter.value / 2:
        limit = f"such that its outer corner, now at {corner:.2f} mm, lies within {dial.diameter.value / 2:.2f} mm"
        raise SheetError("dial.window.radius", window.radius.value, limit, "the window reaches past the dial's edge")
