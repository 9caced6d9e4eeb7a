"""Tips: shown wherever their case family or movement is used; added, changed, archived."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from parts.models import CaseFamily, Movement, PartNote
from parts.tools.stale_guard import StalePage

if TYPE_CHECKING:
    from django.contrib.auth.models import User

HOLDERS = {"case-families": CaseFamily, "movements": Movement}
"""The kinds of parts that have notes, by their slugs."""


def notes_for(parts):
    """The notes in use of these parts, in one query: families, movements, and cases and dials by their family.

    A movement that is a job's own copy has the notes of the one that it was copied from. None among the parts is left
    out; parts that can have no notes take no query.
    """
    families, movements = set(), set()
    for part in parts:
        if isinstance(part, CaseFamily):
            families.add(part.pk)
        elif isinstance(part, Movement):
            movements |= {part.pk, part.copied_from_id or part.pk}
        elif family := getattr(part, "family_id", None):
            families.add(family)
    if not (families or movements):
        return []
    wanted = Q(family__in=families) | Q(movement__in=movements)
    notes = PartNote.objects.in_drawers().filter(wanted).select_related("family", "movement", "by")
    return list(notes.only("family__name", "movement__name", "movement__made_for", "by__username", "text", "at"))


def archived_of(part):
    """The notes of a family or movement that were put away, the last one first."""
    return list(part.tricks.filter(archived=True).select_related("by", "archived_by").order_by("-archived_at"))


def add(*, part: CaseFamily | Movement, text: str, by: User) -> PartNote:
    """Write down a note of a case family or movement; on a job's own copy it is kept with the original."""
    if isinstance(part, Movement):
        return PartNote.objects.create(movement=part.original, text=text, by=by)
    return PartNote.objects.create(family=part, text=text, by=by)


@transaction.atomic
def change(*, note: PartNote, text: str, by: User) -> PartNote:
    """Put a new wording in the note's place. Raises StalePage where the note is no longer in use."""
    note = PartNote.objects.select_for_update().get(pk=note.pk)
    if note.archived:
        raise StalePage(
            "Someone changed or archived this tip meanwhile. Copy what you typed, look at the newest tip, and add "
            f"yours again. The newest tip: {_newest(note)}"
        )
    if text == note.text:
        return note
    archive(note=note, by=by)
    return PartNote.objects.create(family=note.family, movement=note.movement, text=text, by=by)


def _newest(note):
    newest = note.of.tricks.in_drawers().last()
    return f"“{newest.text}”" if newest else "none"


def archive(*, note: PartNote, by: User) -> None:
    """Put a note away; what it says stays."""
    note.archived, note.archived_by, note.archived_at = True, by, timezone.now()
    note.save(update_fields=["archived", "archived_by", "archived_at"])


def bring_back(*, note: PartNote) -> None:
    """Show a note again that was put away."""
    note.archived, note.archived_by, note.archived_at = False, None, None
    note.save(update_fields=["archived", "archived_by", "archived_at"])
