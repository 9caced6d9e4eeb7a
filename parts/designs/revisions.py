"""Revisions of holder rings and spacers: the latest, the next, what differs, how one turned out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields, replace
from typing import TYPE_CHECKING

from django.core.files.base import ContentFile
from django.db import transaction
from django.db.models import Max

from parts.dimensions.pieces import outline_text
from parts.fit.units import with_unit
from parts.holder.parameters import KINDS, Ring, as_plain, from_plain, label_of
from parts.models import HolderDesign, HolderPhoto

if TYPE_CHECKING:
    from parts.holder.parameters import Piece
    from parts.models import CaseFamily, Movement, Pairing
    from parts.tools.pictures import Kept

REVISION = "#"
"""What stands for the revision's number in the words on a piece."""
MOST_NOTES = HolderDesign._meta.get_field("notes").max_length or 0
"""Letters that the notes of a design hold."""


def latest_design(case_family, movement, kind="ring"):
    """The design to make for a case family and a movement, None where there is none.

    The last revision that fits, else the last one that is not to be printed again, else the last one.
    """
    designs = HolderDesign.objects.in_drawers().filter(family=case_family, movement=movement, kind=kind)
    designs = designs.select_related("family", "movement", "pairing").order_by("-revision")
    return (
        designs.filter(result=HolderDesign.Result.FITS).first()
        or designs.exclude(result=HolderDesign.Result.REPRINT).first()
        or designs.first()
    )


def design_of(pairing: Pairing, kind: str) -> HolderDesign | None:
    """The last revision made for this pairing, or for the one that it is a copy of; None where there is none."""
    own = [pk for pk in (pairing.pk, pairing.copied_from_id) if pk]
    return HolderDesign.objects.in_drawers().filter(pairing__in=own, kind=kind).order_by("-revision").first()


def as_typed(design: HolderDesign) -> Piece:
    """The geometry's parameters of a kept design as they were typed, REVISION in its words."""
    return from_plain(design.kind, design.parameters)


def parameters_of(design: HolderDesign) -> Piece:
    """The geometry's parameters of a kept design, its revision's number in its words."""
    return numbered(as_typed(design), design.revision)


def numbered(parameters: Piece, revision: int) -> Piece:
    """The parameters with the revision's number where the words on the piece ask for it."""
    if not isinstance(parameters, Ring) or REVISION not in parameters.mark_words:
        return parameters
    return replace(parameters, mark_words=parameters.mark_words.replace(REVISION, str(revision)))


def next_revision(family: CaseFamily, movement: Movement, kind: str) -> int:
    """The number of the next revision of a piece."""
    before = HolderDesign.objects.filter(family=family, movement=movement, kind=kind)
    return (before.aggregate(last=Max("revision"))["last"] or 0) + 1


@transaction.atomic
def keep_design(
    *,
    family: CaseFamily,
    movement: Movement,
    kind: str,
    pairing: Pairing | None,
    parameters: Piece,
    notes: str = "",
    tried_on: str = "",
) -> HolderDesign:
    """Keep the parameters as the next revision for this family and movement."""
    list(HolderDesign.objects.select_for_update().filter(family=family, movement=movement, kind=kind))
    return HolderDesign.objects.create(
        family=family,
        movement=movement,
        kind=kind,
        pairing=pairing,
        revision=next_revision(family, movement, kind),
        parameters=as_plain(parameters),
        notes=notes,
        tried_on=tried_on,
    )


@transaction.atomic
def add_photos(*, design: HolderDesign, pictures: Iterable[Kept]) -> None:
    """Keep pictures with a design."""
    for picture in pictures:
        photo = HolderPhoto(design=design)
        for field, content in ((photo.file, picture.large), (photo.thumbnail, picture.small)):
            field.save("photo.jpg", ContentFile(content), save=False)
        photo.save()


@transaction.atomic
def note_outcome(*, design: HolderDesign, result: str, tried_on: str, words: str) -> dict[str, str]:
    """Note how a revision turned out, with the words at the end of its notes; returns what `undo_outcome` needs."""
    before = {"result": design.result, "tried_on": design.tried_on}
    notes = f"{design.notes}\n{_outcome_line(result, tried_on, words)}".strip()
    design.result, design.tried_on = result, tried_on
    if len(notes) <= MOST_NOTES:
        design.notes = notes
    design.save()
    return before


@transaction.atomic
def undo_outcome(*, design: HolderDesign, result: str, tried_on: str, words: str, before: dict[str, str]) -> None:
    """Undo `note_outcome`. What was noted since then stays; the line goes from the notes in any case."""
    if (design.result, design.tried_on) == (result, tried_on):
        design.result, design.tried_on = before["result"], before["tried_on"]
    noted = _outcome_line(result, tried_on, words)
    design.notes = "\n".join(line for line in design.notes.splitlines() if line != noted)
    design.save()


def _outcome_line(result, tried_on, words):
    return ": ".join(filter(None, (f"{tried_on}, {HolderDesign.Result(result).label}", words)))


def revisions_of(design):
    """Every revision of the same piece, newest first, those put away too."""
    return HolderDesign.objects.filter(family=design.family, movement=design.movement, kind=design.kind).order_by(
        "-revision"
    )


def differences(kind, before, after):
    """What differs between two sets of plain parameters: (words, before, after) as text, in the fields' order."""
    changes = []
    for item in fields(KINDS[kind]):
        old, new = before.get(item.name), after.get(item.name)
        edge = item.name.removesuffix("_diameter")
        if edge != item.name and (before.get(f"{edge}_outline") or after.get(f"{edge}_outline")):
            continue
        known = "outline" in item.metadata or (old is not None and new is not None)
        if known and in_words(item, old) != in_words(item, new):
            changes.append((label_of(item), in_words(item, old), in_words(item, new)))
    return changes


def in_words(item, value):
    """A parameter's plain value in words."""
    if "rows" in item.metadata:
        names = [f.name for f in fields(item.metadata["rows"])]
        return "; ".join(_row(dict(zip(names, row, strict=False))) for row in value) or "none"
    if "choice" in item.metadata or "words" in item.metadata:
        return value or "none"
    if "outline" in item.metadata:
        return outline_text(value) if value else "none"
    return with_unit(value, item.metadata["input"].unit)


def _row(row):
    name = row.pop("name", "")
    return " ".join([*(f"{value:g}" for value in row.values()), name]).strip()
