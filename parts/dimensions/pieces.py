"""What a record holds as a whole piece of the fit sheet, and the text in which a person types it.

An outline is "rectangle 27.00 × 30.40, corner 2.00", "oval 26.00 × 29.00" or points "x, y", one a line. Anything else
is a line for each row, its numbers in order between semicolons; a blank one is not measured.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.field import refuse_outside, refused_words
from parts.dimensions.text import DimensionError, format_dimension, read_dimension
from parts.fit.errors import SheetError
from parts.fit.records import describe, input_of
from parts.fit.records.outline import SHAPES
from parts.fit.sheet import read_sheet
from parts.fit.units import UNITS


@dataclass(frozen=True, slots=True)
class Rows:
    """The numbers of a row in order. `named` rows begin with a name; `single` says that there is one row at most."""

    fields: tuple[str, ...]
    named: bool = False
    single: bool = False
    by_name: bool = False

    @property
    def pattern(self) -> str:
        """How a line is written."""
        names = (["name"] if self.named else []) + [name.replace("_", " ") for name in self.fields]
        return "; ".join(names)


_HAND = ("hole_diameter", "length", "tail", "thickness", "hub_height", "hub_diameter", "cap_thickness", "tip_drop")
ROWS = {
    "case.rim": Rows(("radius", "height")),
    "dial.subdials": Rows(("angle", "radius", "hole_diameter", "depth"), named=True),
    "dial.day_window": Rows(("angle", "radius", "radial", "tangential"), single=True),
    "movement.subsidiary": Rows(("angle", "radius", "diameter", "height", "made_for", "end_play"), named=True),
    "movement.day": Rows(("angle", "numeral_radius", "numeral_radial", "numeral_tangential", "pitch"), single=True),
    "hands.subsidiary": Rows(_HAND, named=True, by_name=True),
}
"""The pieces that are rows; every other one is an outline."""


class Piece:
    """The column `<name>`, a JSON piece of the fit sheet at `path`, null where there is none.

    The model lists its pieces in `Model.pieces`: name to Piece.
    """

    def __init__(self, path: str) -> None:
        self.path = path
        self.part, _, self.key = path.partition(".")
        self.label = describe(path).phrase.removeprefix(f"{self.part} ")
        self.rows = ROWS.get(path)

    def contribute_to_class(self, model: Any, name: str) -> None:
        """Called by Django as the model is made."""
        self.name = name
        models.JSONField(self.label, null=True, blank=True).contribute_to_class(model, name)
        model.pieces = {**getattr(model, "pieces", {}), name: self}

    @property
    def pattern(self) -> str:
        """How it is typed."""
        if self.rows is None:
            return "rectangle 27.00 × 30.40, corner 2.00; or oval 26.00 × 29.00; or points x, y in mm, one a line"
        return self.rows.pattern if self.rows.single else f"{self.rows.pattern}; one a line"

    def text(self, record: Any) -> str:
        """The piece as it is typed; empty where there is none."""
        value = getattr(record, self.name)
        if not value:
            return ""
        if self.rows is None:
            return outline_text(value)
        return "\n".join(_row_text(self.rows, row) for row in self._as_rows(value))

    def shown(self, record: Any) -> str:
        """The piece as it is read, an outline with its size and unit; empty where there is none."""
        outline = getattr(record, self.name)
        if not outline or self.rows is not None:
            return self.text(record)
        if outline["shape"] == "polyline":
            return f"{outline_size(outline)}: {self.text(record)}"
        return outline_size(outline) + (f", corner {_shown(outline['corner'])}" if outline.get("corner") else "")

    def read(self, text: str) -> Any:
        """The piece that a text tells, None for none. Raises ValidationError for what cannot be read."""
        lines = [line.strip() for line in text.replace("|", "\n").splitlines() if line.strip()]
        if not lines:
            return None
        if self.rows is None:
            return read_outline(lines)
        rows = [_read_row(self.rows, line) for line in lines]
        if self.rows.single:
            if len(rows) > 1:
                raise ValidationError(lazy("One line, please."))
            return rows[0]
        return {row.pop("name"): row for row in rows} if self.rows.by_name else rows

    def size_text(self, outline: dict[str, Any], name: str) -> str:
        """A size of an outline as it is typed; empty where it is not measured."""
        return _number_text(outline.get(name))

    def read_sizes(self, shape: str, typed: dict[str, str]) -> dict[str, Any]:
        """The outline of a shape and its sizes, each as it is typed.

        Raises ValidationError with each size that cannot be read, or that no such size can be.
        """
        sizes, faults = {}, []
        for name, text in typed.items():
            try:
                sizes[name] = self._read_size(name, text)
            except ValidationError as fault:
                faults.append(fault)
        if faults:
            raise ValidationError(faults)
        return {"shape": shape} | sizes

    def _read_size(self, name, text):
        size = _read_number(text, name)
        if size is not None:
            value, plus_minus = size if isinstance(size, list) else (size, 0.0)
            spec = input_of(f"{self.path}.{name}")
            refuse_outside(spec, spec.label, value, plus_minus)
        return size

    def normal(self, value: Any) -> Any:
        """The piece as it is kept: rows that a sheet has as pairs get their names; None for what is no piece."""
        if not isinstance(value, list | dict) or not value:
            return None
        if self.rows is None or isinstance(value, dict):
            return value
        return self._as_rows(value)

    def check(self, record: Any) -> None:
        """Refuse what no such piece can be: ValidationError."""
        value = getattr(record, self.name)
        if value is None:
            return
        try:
            read_sheet({self.part: {self.key: value}})
        except SheetError as error:
            raise ValidationError(refused_words(error)) from error

    def _as_rows(self, value: Any) -> list[dict[str, Any]]:
        if isinstance(value, dict):
            return [value] if self.rows and self.rows.single else [{"name": name} | row for name, row in value.items()]
        names = self.rows.fields if self.rows else ()
        return [row if isinstance(row, dict) else dict(zip(names, row, strict=False)) for row in value]


def _number_text(value: Any) -> str:
    if value is None:
        return ""
    return format_dimension(*value) if isinstance(value, list) else format_dimension(value)


def _read_number(text: str, what: str) -> Any:
    try:
        reading = read_dimension(text)
    except DimensionError as error:
        raise ValidationError(lazy("{what}: {error}").format(what=what, error=error)) from error
    if reading is None:
        return None
    return [reading.value, reading.plus_minus] if reading.plus_minus else reading.value


def _row_text(rows: Rows, row: dict[str, Any]) -> str:
    cells = ([row.get("name", "")] if rows.named else []) + [_number_text(row.get(name)) for name in rows.fields]
    return "; ".join(cells).rstrip("; ")


def _read_row(rows: Rows, line: str) -> dict[str, Any]:
    cells = [cell.strip() for cell in line.split(";")]
    names = (["name"] if rows.named else []) + list(rows.fields)
    if len(cells) > len(names):
        raise ValidationError(
            lazy("“{line}” has {count} entries. Write {pattern}.").format(
                line=line, count=len(cells), pattern=rows.pattern
            )
        )
    row = dict(zip(names, cells, strict=False))
    if rows.named and not row.get("name"):
        raise ValidationError(
            lazy("“{line}” begins without a name. Write {rows.pattern}.").format(line=line, rows=rows)
        )
    numbers = {name: _read_number(text, name.replace("_", " ")) for name, text in row.items() if name != "name"}
    numbers = {name: number for name, number in numbers.items() if number is not None}
    return ({"name": row["name"]} if rows.named else {}) | numbers


def outline_text(outline: dict[str, Any]) -> str:
    """An outline of the fit sheet as it is typed."""
    if outline["shape"] == "polyline":
        return "\n".join(f"{x:g}, {y:g}" for x, y in outline["points"])
    text = f"{outline['shape']} {_number_text(outline.get('width'))} × {_number_text(outline.get('height'))}"
    return text + (f", corner {_number_text(outline['corner'])}" if outline.get("corner") is not None else "")


def outline_size(outline: dict[str, Any], *, short: bool = False) -> str:
    """The shape of an outline and how large it is, for reading: rectangle 27.00 ±0.02 × 30.40 mm.

    `short` leaves out the shape and each ±, as a list of parts has it.
    """
    if outline["shape"] == "polyline":
        wide, high = (max(side) - min(side) for side in zip(*outline["points"], strict=True))
        text = f"{wide:.2f} × {high:.2f}{UNITS['mm'].behind}"
        return text if short else f"{len(outline['points'])} points, {text}"
    sizes = [outline.get(name) for name in ("width", "height")]
    if short:
        sizes = [size[0] if isinstance(size, list) else size for size in sizes]
    text = f"{_shown(sizes[0], unit='')} × {_shown(sizes[1])}"
    return text if short else f"{outline['shape']} {text}"


def _shown(size: Any, unit: str = UNITS["mm"].behind) -> str:
    return f"{_number_text(size)}{unit}" if size is not None else "not measured"


def read_outline(lines: list[str]) -> dict[str, Any]:
    """The outline that such lines tell; ValidationError for what cannot be read."""
    shape = lines[0].split()[0].casefold()
    if shape not in SHAPES or shape == "polyline":
        return {"shape": "polyline", "points": _read_points(lines[shape == "polyline" :])}
    sizes = re.split(r"\s*(?:×|\bx\b|;|,?\s*\bcorner\b)\s*", " ".join(lines)[len(shape) :].strip())
    names = SHAPES[shape]
    if len(sizes) > len(names):
        raise ValidationError(
            lazy("{shape}: write {numbers}.").format(
                shape=shape.capitalize(), numbers=" × ".join(names[:2]) + ", corner" * (len(names) > 2)
            )
        )
    return {"shape": shape} | {name: _read_number(size, name) for name, size in zip(names, sizes, strict=False)}


def _read_points(lines: list[str]) -> list[list[float]]:
    points = []
    for line in filter(str.strip, ";".join(lines).split(";")):
        numbers = line.replace(",", " ").split()
        try:
            x, y = map(float, numbers)
        except ValueError:
            raise ValidationError(
                lazy(
                    "“{line}” is no point and no outline. Write rectangle, oval, or points x, y in mm, one a line."
                ).format(line=line[:40])
            ) from None
        points.append([x, y])
    return points
