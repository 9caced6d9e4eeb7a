"""Finding, copying and archiving the records of the library."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.db.models import Q

from parts.copies import unsaved_copy
from parts.models import CaseFamily, Pairing
from parts.models.pairing import PARTS

if TYPE_CHECKING:
    from django.db.models import QuerySet

    from parts.library.kinds import Kind

MOST_LETTERS = 200
"""Letters of a search that are looked for; SQLite refuses patterns of many thousands."""


def find(*, kind: Kind, words: str = "", archived: Any = False) -> QuerySet[Any]:
    """The records of a kind whose name, family or notes hold every word; archived ones only when asked for."""
    records = kind.model.objects.filter(archived=archived)
    for word in words[:MOST_LETTERS].replace("\0", " ").split():
        hit = Q(name__icontains=word) | Q(notes__icontains=word)
        if kind.has_family:
            hit |= Q(family__name__icontains=word)
        if kind.stocked:
            hit |= Q(made_for__icontains=word)
        records = records.filter(hit)
    return with_rows(kind=kind, records=records)


def key_of(text):
    """A primary key as an address has it; None where the text cannot be one."""
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 19 else None


def with_rows(*, kind: Kind, records: QuerySet[Any]) -> QuerySet[Any]:
    """The records with family and rows read along."""
    if kind.has_family:
        records = records.select_related("family")
    return records.prefetch_related(*row_relations(kind))


def used_in(record):
    """What a record is used in: the fit checks of a part, or the cases and dials of a family, as (word, records)."""
    if isinstance(record, CaseFamily):
        return [
            ("case", list(record.cases.select_related("family"))),
            ("dial", list(record.dials.select_related("family"))),
        ]
    name = next(name for name in PARTS if type(record) is Pairing._meta.get_field(name).related_model)
    return [("fit check", list(Pairing.objects.using(record, name)))]


def new_from(*, kind: Kind, record: Any) -> Any:
    """Make a copy with its rows, as the start of a new record."""
    free = {"made_for": "", "copied_from": None} if kind.stocked else {}
    return _copied(kind, record, name=f"{record.name[:74]}, copy", **free)


def own_copy(*, kind: Kind, record: Any, made_for: str) -> Any:
    """Make a copy of a part with its rows that is for one thing alone."""
    return _copied(kind, record, made_for=made_for, copied_from=record.original)


@transaction.atomic
def _copied(kind: Kind, record: Any, **changes: Any) -> Any:
    """Save a copy with its rows, back in the drawers; nothing of it is in stock yet."""
    if kind.stocked:
        changes["in_stock"] = None
    made = unsaved_copy(record, archived=False, **changes)
    made.save()
    for relation in row_relations(kind):
        for row in getattr(record, relation).all():
            link = next(field for field in row._meta.fields if field.related_model is kind.model)
            unsaved_copy(row, **{link.name: made}).save()
    return made


def archive(*, record: Any, archived: bool) -> None:
    """Take a record out of the drawers, or bring it back."""
    record.archived = archived
    record.save(update_fields=["archived", "updated"])


def row_relations(kind):
    """The names of the relations to rows that belong to a record alone."""
    return [rows.name for rows in kind.rows] + (["hands"] if kind.has_hands else [])
