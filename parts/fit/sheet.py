"""Reads a pairing sheet (plain dict, as JSON gives it) into records, refusing what cannot be.

Source: fit model section 2. SheetError names the key, the value and the limit.
"""

import json
from collections.abc import Mapping
from dataclasses import Field, fields
from functools import lru_cache
from typing import Any, TypeAlias
from unicodedata import category

from parts.fit.arithmetic.elementwise import is_column
from parts.fit.arithmetic.quantities import Quantity, at_least, measured, unknown
from parts.fit.constructions import refuse_mixed, refuse_outlines
from parts.fit.contradictions import refuse_contradictions
from parts.fit.errors import SheetError
from parts.fit.inputs import Input, finite
from parts.fit.records import HANDS, SMALL_HANDS, Sheet
from parts.fit.rules import Rules, read_rules

NONE = "none"
"""What a sheet says of a window or a date that is not there; nothing at all means that nobody looked."""


def read_sheet(data: object) -> tuple[Sheet, Rules]:
    """The sheet's records and its bench rules, as (Sheet, Rules).

    Raises SheetError for an unknown key, a number outside its limits, and a combination that no part can have.
    """
    sheet: Sheet = _read_record(Sheet, data, "")
    refuse_mixed(sheet)
    refuse_outlines(sheet)
    refuse_contradictions(sheet)
    return sheet, read_rules(sheet.rules)


def read_part(key: str, data: object) -> Any:
    """The record of one part of a sheet ("movement"), whose numbers may be [column, column], NaN where not measured."""
    return _read_field(key, data, {item.name: item for item in fields(Sheet)}[key].metadata, None)


def chosen_parts(data: Mapping[str, Any] | None) -> frozenset[str]:
    """The parts that a sheet holds ("case", "hands.hour"); one without a key, or with an empty one, is not chosen."""
    data = data or {}
    parts = {name for name, value in data.items() if value and name != "hands"}
    hands = data.get("hands") or {}
    return frozenset(parts | {f"hands.{name}" for name in (*HANDS, SMALL_HANDS) if hands.get(name)})


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
    values = dict(pairs)
    if len(values) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise SheetError(twice, values[twice], "given once", "key given twice")
    return values


def read_number(path: str, raw: Any, spec: Input) -> Quantity:
    """A number, [number, plus_minus], {"at_least": number} or None as the Quantity named `path`.

    Columns of them were looked at before.
    """
    if raw is None:
        return unknown(path)
    if isinstance(raw, dict) and spec.bounded and raw.keys() == {"at_least"}:
        spec.check(path, raw["at_least"])
        return at_least(path, float(raw["at_least"]))
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


_READ = object()


def _absent(item: Field[Any], at: str) -> Any:
    """What a field is where the sheet says nothing of it."""
    meta = item.metadata
    if "input" in meta:
        return unknown(at)
    if "rows" in meta:
        return meta["absent"]
    if "flag" in meta:
        return False
    if "part" in meta:
        return None if "optional" in meta else _READ
    return _READ if "rules" in meta else item.default


_Field: TypeAlias = tuple[str, str, Mapping[str, Any], Any, Input | None, Any]


@lru_cache(maxsize=1024)
def _plan(cls: Any, path: str) -> tuple[tuple[_Field, ...], set[str]]:
    """Of each field of a record at this path its name and path, what is said of it, its default and its number.

    The last is what stands there where the sheet says nothing, _READ where that has to be read all the same.
    """
    prefix = f"{path}." if path else ""
    plan = tuple(
        (item.name, at, item.metadata, item.default, item.metadata.get("input"), _absent(item, at))
        for item in fields(cls)
        for at in (prefix + item.name,)
    )
    return plan, {item.name for item in fields(cls)}


def _read_record(cls: Any, data: object, path: str) -> Any:
    if data is None:
        data = {}
    plan, names = _plan(cls, path)
    if not isinstance(data, dict):
        raise SheetError(path or "sheet", data, "an object with named values", "not a part")
    if not data.keys() <= names:
        key = next(key for key in data if key not in names)
        raise SheetError(f"{path}.{key}" if path else str(key), data[key], "left out", "unknown key")
    values = []
    for name, at, meta, default, spec, lacking in plan:
        raw = data.get(name)
        if raw is None and lacking is not _READ:
            values.append(lacking)
        elif spec is None:
            values.append(_read_field(at, raw, meta, default))
        else:
            values.append(read_number(at, raw, spec))
    return cls(*values)


def _read_field(path: str, raw: Any, meta: Mapping[str, Any], default: object) -> Any:
    if "part" in meta:
        if "feature" in meta and (raw is False or raw == NONE):
            return False
        if "flag" in meta and not isinstance(raw, dict):
            return _read_flag(path, raw)
        return None if raw is None and "optional" in meta else _read_record(meta["part"], raw, path)
    if "rows" in meta:
        return _read_rows(path, raw, meta)
    if raw is None:
        return {} if "rules" in meta else default
    if "points" in meta:
        return _read_points(path, raw)
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


def _read_flag(path: str, raw: Any) -> bool:
    if raw is None or isinstance(raw, bool):
        return bool(raw)
    raise SheetError(path, raw, "true or false, or an object with named values", "the wrong type")


def _read_rows(path: str, raw: Any, meta: Mapping[str, Any]) -> tuple[Any, ...] | None:
    if raw is None:
        absent: tuple[()] | None = meta["absent"]
        return absent
    if "by_name" in meta:
        raw = _as_rows(path, raw)
    if not isinstance(raw, (list, tuple)):
        raise SheetError(path, raw, "a list", "not a list")
    for i, row in enumerate(raw):
        if row is None:
            raise SheetError(f"{path}[{i}]", row, "an object with named values", "empty row")
    if "pairs" in meta:
        raw = [_as_pair(meta["rows"], row, f"{path}[{i}]") for i, row in enumerate(raw)]
    return tuple(_read_record(meta["rows"], row, f"{path}[{i}]") for i, row in enumerate(raw))


_FARTHEST, _MOST_POINTS = 100.0, 20_000
"""mm from the axis, and how many points an outline has at most."""


def _read_points(path: str, raw: Any) -> tuple[tuple[float, float], ...]:
    if isinstance(raw, tuple):
        return raw
    if not isinstance(raw, list) or not 3 <= len(raw) <= _MOST_POINTS:
        raise SheetError(path, raw, f"3 to {_MOST_POINTS} points [x, y]", "not an outline")
    for i, point in enumerate(raw):
        if not isinstance(point, (list, tuple)) or len(point) != 2:
            raise SheetError(f"{path}[{i}]", point, "[x, y] in mm", "not a point")
        for number in point:
            if abs(finite(f"{path}[{i}]", number)) > _FARTHEST:
                limit = f"at most {_FARTHEST:g} mm from the hands' axis"
                raise SheetError(f"{path}[{i}]", number, limit, "the point lies outside any watch")
    return tuple((float(x), float(y)) for x, y in raw)


def _as_rows(path: str, raw: Any) -> list[Any]:
    """What stands under names as rows that carry them; a name without anything is none."""
    if not isinstance(raw, dict):
        raise SheetError(path, raw, "an object of names, each with named values", "not a set of hands")
    for name, row in raw.items():
        if row is not None and not isinstance(row, dict):
            raise SheetError(f"{path}.{name}", row, "an object with named values", "not a part")
    return [row | {"name": name} for name, row in raw.items() if row is not None]


def _as_pair(cls: Any, row: Any, path: str) -> Any:
    """Two numbers as the record that they stand for."""
    if isinstance(row, dict):
        return row
    names = [item.name for item in fields(cls)]
    if not isinstance(row, (list, tuple)) or len(row) != len(names):
        raise SheetError(path, row, f"[{', '.join(names)}]", "not a pair")
    return dict(zip(names, row, strict=True))
