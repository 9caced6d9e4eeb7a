"""The columns of each kind's CSV file, in the order in which a person measures."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

from django.core.exceptions import ValidationError

from parts.csv import cells, taken
from parts.csv.cells import CellError
from parts.dimensions.text import DimensionError, read_dimension
from parts.fit.units import unit_word
from parts.models import Hand

if TYPE_CHECKING:
    from parts.library.kinds import Kind

_IN_NO_FILE = ("out_of",)
"""Another record of the library, which a name in a file does not tell for certain."""
_YES_NO = {"yes": True, "no": False}


class Column:
    """A column with text. The others differ in how they write a draft's cell and read it."""

    about = "text"

    def __init__(self, name):
        self.name = name

    @property
    def heading(self):
        return self.name.replace("_", " ")

    def write(self, draft):
        return getattr(draft.record, self.name)

    def read(self, draft, text):
        setattr(draft.record, self.name, text)


class FamilyColumn(Column):
    about = "name of the case family; a new name adds a family"

    def write(self, draft):
        return draft.family

    def read(self, draft, text):
        if len(text) > 80:
            raise CellError(f"This name has {len(text)} characters. Shorten it to 80 at most.")
        draft.family = text


class ChoiceColumn(Column):
    """One of a few words; an empty cell leaves what is usual."""

    def __init__(self, name, choices):
        super().__init__(name)
        self.values = {str(label): value for value, label in choices if value}
        self.about = " or ".join(self.values)

    def write(self, draft):
        value = getattr(draft.record, self.name)
        return next((label for label, own in self.values.items() if own == value), "")

    def read(self, draft, text):
        if not text:
            return
        if text.casefold() not in self.values:
            raise CellError(f"Write {self.about}, or leave it blank.")
        setattr(draft.record, self.name, self.values[text.casefold()])


class YesNoColumn(Column):
    about = "yes or no"

    def write(self, draft):
        return "yes" if getattr(draft.record, self.name) else "no"

    def read(self, draft, text):
        if text and text.casefold() not in _YES_NO:
            raise CellError("Write yes or no; blank means no.")
        self.put(draft, _YES_NO.get(text.casefold(), False))

    def put(self, draft, value):
        setattr(draft.record, self.name, value)


class LookedColumn(YesNoColumn):
    """Whether there is something that not every part has; an empty cell says that nobody looked."""

    about = "yes or no; blank if nobody looked"

    def write(self, draft):
        return "" if getattr(draft.record, self.name) is None else super().write(draft)

    def read(self, draft, text):
        if text and text.casefold() not in _YES_NO:
            raise CellError("Write yes or no, or leave it blank if nobody looked.")
        self.put(draft, _YES_NO.get(text.casefold()))


class SecondsColumn(YesNoColumn):
    """Whether a hand set has a seconds hand; an empty cell says no."""

    def write(self, draft):
        return "yes" if draft.has_seconds else "no"

    def put(self, draft, value):
        draft.has_seconds = value


class NumberColumn(Column):
    """A number without plus-minus."""

    def __init__(self, name, unit):
        super().__init__(name)
        self.unit = unit
        self.about = f"number in {unit_word(unit)}"

    def write(self, draft):
        value = getattr(draft.record, self.name)
        return "" if value is None else repr(value)

    def read(self, draft, text):
        try:
            reading = read_dimension(text, unit=self.unit)
        except DimensionError as error:
            raise CellError(str(error)) from error
        if reading and reading.plus_minus:
            raise CellError("No ± here, please: write the number alone.")
        setattr(draft.record, self.name, reading and reading.value)


class CountColumn(Column):
    about = "how many are in stock; blank if not counted"

    def write(self, draft):
        value = getattr(draft.record, self.name)
        return "" if value is None else str(value)

    def read(self, draft, text):
        if text and not (text.isascii() and text.isdecimal() and len(text) < 10):
            raise CellError("Write a whole number, 0 or more, or leave it blank if not counted.")
        setattr(draft.record, self.name, int(text) if text else None)


class CostColumn(Column):
    about = "what one costs you, such as 12.50; blank if not known"

    def write(self, draft):
        return "" if draft.record.cost is None else str(draft.record.cost)

    def read(self, draft, text):
        draft.record.cost = None
        if not text:
            return
        if not re.fullmatch(r"[0-9]{1,7}([.,][0-9]{1,2})?", text):
            raise CellError("Write an amount such as 12.50, or leave it blank.")
        draft.record.cost = Decimal(text.replace(",", "."))


class TakenColumn(Column):
    """How the numbers of a part were taken, all in one cell; `taken.settle` puts it to the numbers at the end."""

    about = "written by an export; leave it blank in a file of your own"

    def write(self, draft):
        return taken.write(draft)

    def read(self, draft, text):
        draft.taken = text


class DimensionColumn(Column):
    """A dimension of the record, or of one of its hands."""

    def __init__(self, name, dimension, role=""):
        super().__init__(name)
        self.dimension, self.role = dimension, role
        self.about = dimension.input.limits

    def write(self, draft):
        holder = self._holder(draft)
        return cells.write_dimension(self.dimension, holder) if holder else ""

    def read(self, draft, text):
        cells.read_dimension_cell(self.dimension, self._holder(draft), text)

    def _holder(self, draft):
        return draft.hands.get(self.role) if self.role else draft.record


class PieceColumn(Column):
    """A whole piece of the fit sheet, its lines between bars."""

    def __init__(self, name, piece):
        super().__init__(name)
        self.piece = piece
        self.about = piece.pattern.replace("one a line", "with | between")

    def write(self, draft):
        return self.piece.text(draft.record).replace("\n", " | ")

    def read(self, draft, text):
        try:
            setattr(draft.record, self.name, self.piece.read(text))
        except ValidationError as error:
            raise CellError(" ".join(error.messages)) from error


class RowsColumn(Column):
    """A list of rows in one cell."""

    def __init__(self, rows):
        super().__init__(rows.name)
        self.rows = rows
        self.about = f"{cells.row_pattern(rows)}; and so on, or none"

    def write(self, draft):
        recorded = bool(self.rows.flag) and getattr(draft.record, self.rows.flag)
        return cells.write_rows(draft.lists[self.rows.name], recorded=recorded)

    def read(self, draft, text):
        items = cells.read_rows(self.rows, text)
        draft.lists[self.rows.name] = items or []
        if self.rows.flag:
            setattr(draft.record, self.rows.flag, items is not None)


def columns_of(kind: Kind, *, sees_money: bool = False) -> list[Column]:
    """The columns of a kind's file; what a part costs only for who sees money."""
    columns = []
    lists = {rows.name: rows for rows in kind.rows}
    flags = {rows.flag for rows in kind.rows}
    for group in kind.groups:
        if group.role:
            columns += [_hand_column(group.role, name) for name in group.fields]
        else:
            names = [name for name in group.fields if name not in flags and name not in _IN_NO_FILE]
            columns += [_column(kind.model, name) for name in names if sees_money or name != "cost"]
        if group.rows:
            columns.append(RowsColumn(lists[group.rows]))
    if kind.has_hands or kind.model.dimensions:
        columns.append(TakenColumn("taken"))
    return columns


def _hand_column(role, name):
    if name in Hand.dimensions:
        return DimensionColumn(f"{role}_{name}", Hand.dimensions[name], role)
    return SecondsColumn(name)


def _column(model, name):
    if name in model.dimensions:
        return DimensionColumn(name, model.dimensions[name])
    if name in model.pieces:
        return PieceColumn(name, model.pieces[name])
    field = model._meta.get_field(name)
    if field.is_relation:
        return FamilyColumn(name)
    if field.null and field.get_internal_type() == "BooleanField":
        return LookedColumn(name)
    if field.choices:
        return ChoiceColumn(name, field.choices)
    makers = {"BooleanField": YesNoColumn, "PositiveIntegerField": CountColumn, "DecimalField": CostColumn}
    if field.get_internal_type() == "FloatField":
        return NumberColumn(name, model.units[name])
    return makers.get(field.get_internal_type(), Column)(name)
