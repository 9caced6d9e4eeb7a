"""A record in words: what a detail page and a list show of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from parts.dimensions.cards import unusual
from parts.dimensions.pieces import outline_size
from parts.dimensions.text import ligne_label, show_dimension
from parts.fit.constructions import EDGES
from parts.fit.units import unit_word
from parts.models import Hand

if TYPE_CHECKING:
    from parts.library.kinds import Kind


@dataclass(frozen=True, slots=True)
class Line:
    """One label with its value; `text` is empty where nothing is known, `measurable` tells a dimension.

    `path` is that of a dimension that can be measured on the spot; `doubt` says that its value is unlikely.
    """

    label: str
    text: str
    source: str = ""
    where: str = ""
    lignes: str = ""
    how: str = ""
    measurable: bool = False
    path: str = ""
    unit: str = ""
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """The rows of one list; `recorded` is False where nobody has looked yet."""

    headings: list
    rows: list
    plural: str
    recorded: bool


@dataclass(frozen=True, slots=True)
class Shown:
    """A group of lines, with the rows that belong to it."""

    title: str
    lines: list
    table: Table | None = None


def groups_of(*, kind: Kind, record: Any, sees_money: bool = False) -> list[Shown]:
    """Everything recorded of a record, in the order in which it is measured; its rows are read already."""
    hands = {hand.role: hand for hand in record.hands.all()} if kind.has_hands else {}
    hidden = ("name", "notes", *_flags(kind), *(() if sees_money else ("cost",)))
    tables = {rows.name: _table(rows, record) for rows in kind.rows}
    shown = []
    for group in kind.groups:
        if group.only and group.only != record.loading:
            continue
        if group.role:
            hand = hands.get(group.role)
            lines = [_dimension_line(kind, hand, name) for name in group.fields if hand and name in Hand.dimensions]
        else:
            names = [name for name in group.fields if name not in hidden]
            names = [name for name in names if name in record.dimensions or not _idle(group, record, name)]
            lines = [line for name in names if (line := _line(kind, record, name))]
        if lines or group.rows:
            shown.append(Shown(group.title, lines, tables.get(group.rows)))
    return shown


def _idle(group, record, name):
    """Whether it is what most parts do without, and this one does too."""
    return name in group.seldom and not getattr(record, name)


def line_at(*, kind: Kind, record: Any, path: str) -> Line | None:
    """The line of a dimension that can be measured on the spot; None where the part has none such."""
    lines = (line for group in groups_of(kind=kind, record=record) for line in group.lines)
    return next((line for line in lines if path and line.path == path), None)


def measured_count(*, kind: Kind, record: Any) -> tuple[int, int]:
    """How many of the record's dimensions are known, and how many it has, without those of its lists."""
    holders = record.hands.all() if kind.has_hands else [record]
    texts = [
        dimension.text(holder) or _outline_for(holder, name)
        for holder in holders
        for name, dimension in holder.applying.items()
    ]
    return len([text for text in texts if text]), len(texts)


def _outline_for(record, name):
    """The outline that stands in the place of a dimension, which is not measured then; None where none does."""
    path = record.dimensions[name].path
    if path not in EDGES or getattr(record, name) is not None:
        return None
    outline, _ = EDGES[path]
    return next((getattr(record, piece.name) for piece in record.pieces.values() if piece.path == outline), None)


def list_cells(*, kind: Kind, record: Any) -> list[str]:
    """The record's cells in a list, one for each heading of `list_headings`."""
    if kind.has_hands:
        lengths = {hand.role: Hand.dimensions["length"].shown(hand) for hand in record.hands.all()}
        return [lengths.get(role, "none") or "" for role in Hand.Role.values]
    return [dimension.shown(record) or _short_outline(record, dimension.name) for dimension in kind.listed]


def _short_outline(record, name):
    outline = _outline_for(record, name)
    return outline_size(outline, short=True) if outline else ""


def list_headings(kind):
    """The headings of a list's dimensions."""
    if kind.has_hands:
        return [f"{role.label} length" for role in Hand.Role]
    return [dimension.label for dimension in kind.listed]


def _flags(kind):
    return [rows.flag for rows in kind.rows if rows.flag]


def _line(kind, record, name):
    if name in record.dimensions:
        is_there = name in record.applying and not _outline_for(record, name)
        return _dimension_line(kind, record, name) if is_there else None
    if name in record.pieces:
        text = record.pieces[name].shown(record)
        return Line(record.pieces[name].label, _shortened(text)) if text else None
    field = record._meta.get_field(name)
    value = getattr(record, name)
    if isinstance(value, bool):
        text = "yes" if value else "no"
    elif isinstance(value, float):
        text = show_dimension(value, unit=record.units[name])
    else:
        text = getattr(record, f"get_{name}_display", lambda: "" if value is None else str(value))()
    return Line(field.verbose_name, text)


_LONGEST = 120


def _shortened(text):
    """The lines of a piece on one; of an outline of many points the first few."""
    text = " | ".join(text.splitlines())
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]} …"


def _dimension_line(kind, record, name):
    dimension = record.dimensions[name]
    text, spec = dimension.shown(record), dimension.input
    lignes = ligne_label(getattr(record, name)) if text and name in kind.in_lignes else ""
    path = dimension.path.replace("hands.hour.", f"hands.{record.role}.") if kind.has_hands else dimension.path
    return Line(
        dimension.label,
        text,
        dimension.source(record),
        spec.where,
        lignes,
        dimension.how(record),
        measurable=True,
        path=path,
        unit=unit_word(spec.unit),
        doubt=unusual(path, getattr(record, name), unit=spec.unit) if text else "",
    )


def _table(rows, record):
    named = any(field.name == "name" for field in rows.model._meta.fields)
    dimensions = list(rows.model.dimensions.values())
    return Table(
        headings=[*(["marker"] if named else []), *(dimension.label for dimension in dimensions)],
        rows=[
            [
                *([Line("", item.name)] if named else []),
                *(Line(each.label, each.shown(item), how=each.how(item)) for each in dimensions),
            ]
            for item in getattr(record, rows.name).all()
        ],
        plural=rows.plural,
        recorded=getattr(record, rows.flag) if rows.flag else True,
    )
