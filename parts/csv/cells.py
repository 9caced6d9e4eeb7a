"""What one cell of a CSV file holds, in text and back.

A dimension is written as `27.40 ±0.02 measured`, a list of rows as `55 11.80 0.70; 235 11.80 0.70`. A minus before
a dimension is the sign −, since a spreadsheet takes a leading - with text behind it for a formula.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import TYPE_CHECKING

from parts.dimensions.field import Source
from parts.dimensions.text import DimensionError, read_dimension

if TYPE_CHECKING:
    from django.db.models import Model

_ITEM = re.compile(r"(?:\\.|[^;\\])+", re.DOTALL)
_NUMBER = re.compile(r"(\?|[^\s()±?]+(?:\s*±\s*[^\s()]+)?)\s*(?:\(([^)]*)\))?\s*")
_SOURCES = {str(source.label): source.value for source in Source if source != Source.AT_LEAST}
_SOURCE_WORDS = ", ".join([*list(_SOURCES)[:-1]]) + f" or {list(_SOURCES)[-1]}"


class CellError(ValueError):
    """A cell that cannot be read; says why and what to write."""


def write_dimension(dimension, record):
    """A dimension with its source; empty where not measured."""
    text = dimension.text(record).replace("-", "\u2212")
    if dimension.of(record)[2] == Source.AT_LEAST:
        return text
    return f"{text} {dimension.source(record)}" if text else ""


def read_dimension_cell(dimension, record, text):
    """Put what a cell says into the record."""
    source, number = dimension.usual_source, text.replace("’", "'") if text.endswith("sheet") else text
    for word, code in _SOURCES.items():
        if number.casefold().endswith(f" {word}"):
            source, number = code, number[: -len(word)]
    try:
        reading = read_dimension(number, unit=dimension.input.unit, bounded=dimension.input.bounded)
    except DimensionError as error:
        raise CellError(f"{error} After the number you can write {_SOURCE_WORDS}.") from error
    if reading is None:
        dimension.put(record, None)
    else:
        dimension.put(record, *reading, source=Source.AT_LEAST if reading.at_least else source)


def write_rows(items: Collection[Model], *, recorded: bool) -> str:
    """A list of rows; "none" where somebody looked and there are none."""
    if not items:
        return "none" if recorded else ""
    return "; ".join(_write_row(item) for item in items)


def read_rows(rows, text):
    """The unsaved rows that a cell lists; None where the list is not recorded."""
    if not text:
        return None
    if text.casefold() == "none":
        return []
    return [_read_row(rows, item.strip()) for item in _ITEM.findall(text) if item.strip()]


def row_pattern(rows):
    """How one row is written, in words: "angle radius diameter"."""
    words = " ".join(f"<{dimension.label}>" for dimension in rows.model.dimensions.values())
    return f"<what it is>: {words}" if _named(rows.model) else words


def _write_row(item):
    numbers = " ".join(_write_number(dimension, item) for dimension in item.dimensions.values())
    if not getattr(item, "name", ""):
        return numbers
    name = re.sub(r"([;\\])", r"\\\1", item.name)
    return f"{name}: {numbers}"


def _write_number(dimension, item):
    text = dimension.text(item).replace("-", "\u2212").replace(" ±", "±")
    if not text:
        return "?"
    source = dimension.of(item)[2]
    return text if source == dimension.usual_source else f"{text}({dimension.source(item)})"


def _read_row(rows, text):
    item, numbers = rows.model(), text
    if _named(rows.model):
        name, _, numbers = text.rpartition(":")
        item.name = re.sub(r"\\(.)", r"\1", name.strip(), flags=re.DOTALL)
    written = _numbers(numbers.strip().replace("+/-", "±").replace("+-", "±"))
    dimensions = list(item.dimensions.values())
    if written is None or len(written) != len(dimensions):
        raise CellError(f"“{text}” is not a {rows.singular}. Write {row_pattern(rows)}, with ? for not measured.")
    for dimension, (number, source) in zip(dimensions, written, strict=True):
        if number != "?":
            read_dimension_cell(dimension, item, f"{number} {source}".strip())
    return item


def _numbers(text):
    numbers, at = [], 0
    while at < len(text):
        match = _NUMBER.match(text, at)
        if not match:
            return None
        numbers.append((match[1], match[2] or ""))
        at = match.end()
    return numbers


def _named(model):
    return any(field.name == "name" for field in model._meta.fields)
