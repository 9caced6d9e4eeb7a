"""Which case families could take which movements: every case of the library against every movement."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from parts.fit import SheetError
from parts.fit.bands import Verdict
from parts.fit.sheet import read_part, read_sheet
from parts.goes_in.blocks import blocks_of
from parts.goes_in.given import dials_of
from parts.goes_in.standing import standing
from parts.rules.shop import shop_rules
from parts.sheets import sheet_for

if TYPE_CHECKING:
    from django.db.models import QuerySet

    from parts.models import Case, HandSet, Movement

GOES = Verdict.WORK.rank
NOT_COVERED = -1
"""Stands for a case that the fit check does not cover, or whose numbers contradict each other."""


@dataclass(frozen=True, slots=True)
class Matrix:
    """`ranks[i, j]` is the verdict's rank of the i-th case with the movement `movements[j]` (its primary key)."""

    cases: list
    dials: list
    movements: np.ndarray
    ranks: np.ndarray

    @property
    def takes(self):
        """How many movements go into each case, with work or without."""
        return ((self.ranks >= 0) & (self.ranks <= GOES)).sum(axis=1)

    @property
    def goes_into(self):
        """How many cases each movement goes into."""
        return ((self.ranks >= 0) & (self.ranks <= GOES)).sum(axis=0)


def matrix(*, cases: Iterable[Case], movements: QuerySet[Movement], hands: HandSet | None = None) -> Matrix:
    """The Matrix of some cases, each with the dial that goes by it, and a queryset of movements; hands where given."""
    cases = list(cases)
    dials = dials_of(cases)
    blocks = [(block.keys, read_part("movement", block.sheet)) for block in blocks_of("movement", movements)]
    keys = np.concatenate([keys for keys, _ in blocks]) if blocks else np.array([], dtype=int)
    rules, ranks = shop_rules(), np.full((len(cases), len(keys)), NOT_COVERED)
    for i, (case, dial) in enumerate(zip(cases, dials, strict=True)):
        given = {"case": case, "dial": dial, "hands": hands}
        parts = {name for name, part in given.items() if part} | {"movement", "spacer"}
        try:
            sheet, read_rules = read_sheet(sheet_for(**given) | {"rules": rules})
        except SheetError:
            continue
        per_block = [
            standing(replace(sheet, movement=rows), read_rules, parts, len(keys)).rank for keys, rows in blocks
        ]
        ranks[i] = np.concatenate(per_block) if per_block else ranks[i]
    return Matrix(cases, dials, keys, ranks)
