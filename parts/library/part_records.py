"""Finding, copying and putting away the records of the library."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.db.models import Q

from parts.models import CaseFamily

if TYPE_CHECKING:
    from django.db.models import QuerySet

    from parts.library.kinds import Kind

MOST_LETTERS = 200
"""Letters of a search that are looked for; SQLite refuses patterns of many thousands."""


def find(*, kind: Kind, words: str = "", put_away: bool = False) -> QuerySet[Any]:
    """The records of a kind whose name, family or notes hold every word; put-away ones only when asked for."""
    records = kind.model.objects.filter(archived=put_away)
    for word in words[:MOST_LETTERS].replace("\0", " ").split():
        hit = Q(name__icontains=word) | Q(notes__icontains=word)
        if kind.has_family:
            hit |= Q(family__name__icontains=word)
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
    return [("fit check", list(record.pairings.all()))]


@transaction.atomic
def copy_of(*, kind: Kind, record: Any) -> Any:
    """A saved copy with its rows, as the start of a new record; nothing of it is in stock yet."""
    rows = [row for relation in row_relations(kind) for row in getattr(record, relation).all()]
    record.pk, record._state.adding = None, True
    record.name = f"{record.name[:74]}, copy"
    record.archived = False
    if kind.stocked:
        record.in_stock = None
    record.save()
    for row in rows:
        link = next(field for field in row._meta.fields if field.related_model is kind.model)
        row.pk, row._state.adding = None, True
        setattr(row, link.name, record)
        row.save()
    return record


def put_away(*, record: Any, away: bool) -> None:
    """Take a record out of the drawers, or bring it back."""
    record.archived = away
    record.save(update_fields=["archived", "updated"])


def row_relations(kind):
    """The names of the relations to rows that belong to a record alone."""
    return [rows.name for rows in kind.rows] + (["hands"] if kind.has_hands else [])
