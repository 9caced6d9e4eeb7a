"""Fields as an entry page shows them: with unit, source and sketch."""

from dataclasses import dataclass
from typing import NamedTuple

from django.forms import BoundField

from parts.dimensions.cards import has_card
from parts.dimensions.field import Dimension
from parts.fit.records import input_of
from parts.fit.units import unit_word
from parts.library.forms import FROM_FILE
from parts.library.groups import Group
from parts.library.sketches import SKETCHES, sketch_of


class Fault(NamedTuple):
    """One thing to correct: the field's label, its id on the page, and the message."""

    label: str
    id: str
    message: str


@dataclass(frozen=True, slots=True)
class Entry:
    """A field as the page shows it; a dimension has a source, a unit and a sketch."""

    field: BoundField
    source: BoundField | None = None
    dimension: Dimension | None = None

    @property
    def wrong(self):
        """The fields that have errors: the value, its source, or both."""
        return [field for field in (self.field, self.source) if field is not None and field.errors]

    @property
    def is_filled(self):
        """Whether it holds something, or has a fault."""
        return bool(self.wrong) or self.field.value() not in (None, "", False)

    @property
    def doubts(self):
        """What is only unlikely about the number, in sentences."""
        return self.field.form.doubts.get(self.field.name, [])

    @property
    def note(self):
        """What becomes of what is typed; how it was taken where it stands; the plus-minus to come where blank."""
        form, name = self.field.form, self.field.name
        if self.field.errors:
            return ""
        if not self.field.value() or not form.judged:
            return self.field.field.to_come
        how = self.dimension.how(form.instance)
        if not form.is_bound or name not in form.changed_data:
            return how
        how = how or ("" if self.field.field.is_exact else "± not given")
        return f"{self.dimension.shown(form.instance)}, {how}" if how else ""

    @property
    def unit(self):
        unit = getattr(self.field.field, "unit", None)
        return unit and unit_word(unit)

    @property
    def sketch(self):
        return self.dimension and SKETCHES.get(self.dimension.path)

    @property
    def row_sketches(self):
        """Of lines of numbers, such as subdials, where each number of a line is taken: path, input and sketch."""
        piece = getattr(self.field.field, "piece", None)
        paths = [f"{piece.path}[].{name}" for name in piece.rows.fields] if piece and piece.rows else []
        return [(path, input_of(path.replace("[]", "[0]")), sketch_of(path)) for path in paths if has_card(path)]


@dataclass(frozen=True, slots=True)
class EntryGroup:
    """A group of fields, with the rows that belong to it."""

    group: Group
    entries: list
    rows: object = None

    @property
    def leading(self):
        """What every part has, and what else holds something."""
        seldom = {*self.group.seldom, *(f"{name}{FROM_FILE}" for name in self.group.seldom)}
        return [entry for entry in self.entries if entry.field.name not in seldom or entry.is_filled]

    @property
    def seldom(self):
        """What most parts do without, as long as it holds nothing."""
        leading = self.leading
        return [entry for entry in self.entries if entry not in leading]

    @property
    def is_filled(self):
        """Whether any of its fields holds something, or has a fault."""
        return any(entry.is_filled for entry in self.entries)

    @property
    def with_source(self):
        return [entry for entry in self.entries if entry.source is not None]

    @property
    def has_wrong_source(self):
        return any(entry.source.errors for entry in self.with_source)


def entries_of(form, names):
    """The fields called `names` of a form, as the page shows them."""
    dimensions = form._meta.model.dimensions
    return [
        Entry(form[name], form[f"{name}_source"], dimensions[name]) if name in dimensions else Entry(form[name])
        for name in names
    ]


def row_fields(form):
    plain = ["name"] if "name" in form.fields else []
    return [*plain, *form._meta.model.dimensions]


def faults_of(entry: Entry, *, prefix: str) -> list[Fault]:
    """The faults of one field and of its source."""
    return [Fault(prefix + str(field.label), field.auto_id, text) for field in entry.wrong for text in field.errors]
