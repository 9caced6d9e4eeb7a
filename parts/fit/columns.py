"""One check of many pairings at once, judged by the rules of the single check.

Where a row's value is not measured it is NaN, and the verdict is unclear. Ranks and truth values are columns, or single
where they are the same in every row.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Protocol

from parts.fit.arithmetic.elementwise import Number, Truth, negation, pick
from parts.fit.arithmetic.quantities import Quantity, in_hand
from parts.fit.bands import Band, Remedy, Verdict, touches, verdict_on

UNCLEAR, WORK = Verdict.UNCLEAR.rank, Verdict.WORK.rank


class Judged(Protocol):
    """What a check of one pairing and one of many have in common."""

    @property
    def must(self) -> Truth: ...
    @property
    def value(self) -> Quantity: ...
    @property
    def rank(self) -> Any: ...
    @property
    def remedies(self) -> Any: ...


@dataclass(slots=True)
class Column:
    """What `Check` is for one pairing: `remedies` says of each remedy in which rows it is called for.

    Nothing is missing in all rows: such a check is a plain `Check`, the same for every row.
    """

    key: str
    must: Truth
    value: Quantity
    rank: Number
    remedies: dict[Remedy, Truth]
    missing: tuple[str, ...] = ()
    subject: str = ""

    def mix(self, condition: Truth, other: Judged) -> Column:
        """The check in the rows where the condition holds, the other elsewhere."""
        theirs = other.remedies if isinstance(other, Column) else dict.fromkeys(other.remedies, True)
        remedies = {remedy: rows & condition for remedy, rows in self.remedies.items()}
        for remedy, rows in theirs.items():
            remedies[remedy] = remedies.get(remedy, False) | (rows & negation(condition))
        must = pick(condition, self.must, other.must)
        rank = pick(condition, self.rank, other.rank)
        return Column(self.key, must, self.value.mix(condition, other.value), rank, remedies)

    def unclear_where(self, condition: Truth, _because: str) -> Column:
        """The check, called unclear where the condition holds."""
        kept = negation(condition)
        remedies = {remedy: rows & kept for remedy, rows in self.remedies.items()}
        return Column(self.key, self.must, self.value, pick(condition, UNCLEAR, self.rank), remedies)

    def only_where(self, condition: Truth) -> Column:
        """The check in the rows where the condition holds; it finds nothing elsewhere."""
        remedies = {remedy: rows & condition for remedy, rows in self.remedies.items()}
        return Column(self.key, self.must, self.value, pick(condition, self.rank, 0), remedies)

    def standing_for(self, first: Judged) -> Column:
        """The check's finding about the value of the first."""
        return Column(self.key, self.must, first.value, self.rank, self.remedies)


def judge_column(key: str, must: Truth, value: Quantity, row: Sequence[Band], needs: tuple[Quantity, ...]) -> Column:
    """As `judge`, row by row: which bands each interval touches is a number, its verdict looked up in a table."""
    half = value.half_width
    pattern: Any = 0
    hits: list[tuple[Band, Truth]] = []
    for i, (band, hit) in enumerate(touches(row, value.value - half, value.value + half)):
        pattern = pattern + hit * (1 << i)
        hits.append((band, hit))
    known = in_hand(value, *needs)
    space = pattern.__array_namespace__()
    ranks = space.take(space.asarray(_ranks(tuple(band.verdict for band in row))), pattern)
    ranks = pick(known, ranks, UNCLEAR)
    remedies: dict[Remedy, Truth] = {}
    asks = known & ((ranks == WORK) | (ranks == UNCLEAR))
    for band, hit in hits:
        for remedy in band.remedies:
            remedies[remedy] = remedies.get(remedy, False) | (hit & asks)
    return Column(key, must, value, ranks, remedies)


@cache
def _ranks(verdicts: tuple[Verdict, ...]) -> list[int]:
    """The rank of what `verdict_on` says for each set of touched bands; a set is numbered by the powers of 2 in it."""
    sets = ([one for i, one in enumerate(verdicts) if pattern >> i & 1] for pattern in range(1 << len(verdicts)))
    return [verdict_on(found).rank if found else UNCLEAR for found in sets]
