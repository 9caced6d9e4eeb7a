"""What plans are looked for with: the case, the dial and what else stays, and the records that may fill the rest."""

from __future__ import annotations

from copy import copy
from dataclasses import dataclass
from typing import TYPE_CHECKING

from parts.fit.records import HANDS
from parts.goes_in.question import Question, on_sheet, staying_hands
from parts.library import part_records
from parts.library.kinds import KIND_OF
from parts.sheets import sheet_for

if TYPE_CHECKING:
    from parts.models import Pairing

PLANNED = ("movement", "hands", "stem", "crown")
"""The parts of a plan; the movement is always looked for, the others where none is given."""


@dataclass(frozen=True, slots=True)
class Search:
    """A pairing `given` without its movement, the typed numbers that count, and the parts `looked_for`.

    `question` is that of the movement; its sheet holds all that is given. The single hands `staying` go with every
    set that is tried.
    """

    given: Pairing
    changes: dict
    looked_for: tuple
    question: Question
    staying: tuple

    @classmethod
    def of(cls, pairing, changes):
        """The search for a pairing, saved or not, whose movement is not asked; the pairing stays as it is."""
        given = copy(pairing)
        given.movement = None
        staying = staying_hands(given)
        stays = {name for name in PLANNED if getattr(given, f"{name}_id") is not None}
        if {*HANDS} <= {*staying}:
            stays.add("hands")
        looked_for = tuple(name for name in PLANNED if name not in stays)
        changes = {path: text for path, text in changes.items() if path.split(".")[0] not in looked_for}
        return cls(given, changes, looked_for, Question.of("movement", given, changes), staying)

    @property
    def is_open(self):
        """Whether case or dial are neither chosen nor typed."""
        return not {"case", "dial"} <= self.question.parts

    def records(self, part):
        """The records of a part that may be in a plan."""
        return KIND_OF[part].model.objects.filter(archived=False)

    def with_rows(self, part, keys):
        """The records with these primary keys, by key, their rows read along."""
        return part_records.with_rows(kind=KIND_OF[part], records=self.records(part)).in_bulk(list(keys))

    def in_stock(self, part):
        """The primary keys of those that lie in stock."""
        return set(self.records(part).filter(in_stock__gt=0).values_list("pk", flat=True))

    def piece(self, part, record):
        """The record as its piece of the sheet; hands that stay are not its own."""
        own = sheet_for(case=self.given.case, **{part: record})[part]
        return on_sheet(own, self.question.sheet["hands"], self.staying) if part == "hands" else own

    def pairing_with(self, records):
        """The pairing, not saved, of what is given and these records by part."""
        pairing = copy(self.given)
        for part, record in records.items():
            setattr(pairing, part, record)
        return pairing
