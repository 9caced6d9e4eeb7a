"""One check of many pairings at once, judged by the rules of the single check.

Where a row's value is not measured it is NaN, and the verdict is unclear. Ranks and truth values are columns, or single
where they are the same in every row.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Protocol

from parts.fit.arithmetic.elementwise import Number, Truth, is_column, lower, negation, pick, upper
from parts.fit.arithmetic.quantities import Quantity, in_hand
from parts.fit.bands import Band, Remedy, Verdict, touches, verdict_on

NO, UNCLEAR, WORK = Verdict.NO.rank, Verdict.UNCLEAR.rank, Verdict.WORK.rank


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
        elsewhere = negation(condition)
        remedies = {remedy: rows & elsewhere for remedy, rows in self.remedies.items()}
        return Column(self.key, self.must, self.value, pick(condition, UNCLEAR, self.rank), remedies)

    def no_where(self, condition: Truth) -> Column:
        """The check, called "no" where the condition holds."""
        elsewhere = negation(condition)
        remedies = {remedy: rows & elsewhere for remedy, rows in self.remedies.items()}
        return Column(self.key, self.must, self.value, pick(condition, NO, self.rank), remedies)

    def work_where(self, condition: Truth, _because: str, remedy: Remedy) -> Column:
        """The check, called work with this one remedy where the condition holds."""
        check = self.remedy_where(condition, remedy)
        return Column(self.key, self.must, self.value, pick(condition, WORK, self.rank), check.remedies)

    def remedy_where(self, condition: Truth, remedy: Remedy) -> Column:
        """The check with this one remedy where the condition holds."""
        elsewhere = negation(condition)
        remedies = {other: rows & elsewhere for other, rows in self.remedies.items()}
        remedies[remedy] = remedies.get(remedy, False) | condition
        return Column(self.key, self.must, self.value, self.rank, remedies)

    def only_where(self, condition: Truth) -> Column:
        """The check in the rows where the condition holds; it finds nothing elsewhere."""
        remedies = {remedy: rows & condition for remedy, rows in self.remedies.items()}
        return Column(self.key, self.must, self.value, pick(condition, self.rank, 0), remedies)

    def standing_for(self, first: Judged) -> Column:
        """The check's finding about the value of the first."""
        return Column(self.key, self.must, first.value, self.rank, self.remedies)


def judge_column(
    key: str,
    must: Truth,
    value: Quantity,
    row: Sequence[Band],
    needs: tuple[Quantity, ...],
    low: Number,
    high: Number,
    measure_first: str,
) -> Column:
    """As `judge`, row by row."""
    hits = list(touches(row, low, high))
    ranks = _ranks_by_row(hits) if any(band.ranks is not None for band in row) else _ranks_by_set(hits)
    if value.unbounded:
        ranks = pick(ranks == NO, UNCLEAR, ranks)
    known = in_hand(value, *needs)
    ranks = pick(known, ranks, UNCLEAR)
    remedies: dict[Remedy, Truth] = {}
    asks = known & ((ranks == WORK) | (ranks == UNCLEAR))
    for band, hit in hits:
        for remedy in band.remedies:
            called_for = hit & asks if band.ranks is None else hit & asks & (band.ranks == WORK)
            if remedy.tells_value:
                called_for = called_for & negation(_says_no(row, value.value))
            remedies[remedy] = remedies.get(remedy, False) | called_for
    check = Column(key, must, value, ranks, remedies)
    if not measure_first:
        return check
    above, below = (_any(hit for band, hit in hits if band.side == side) for side in (1, -1))
    return check.remedy_where(above & below & (ranks == WORK), Remedy("work", measure_first))


def _says_no(row: Sequence[Band], nominal: Number) -> Truth:
    """Whether the nominal value itself lies where the verdict is "no"."""
    return _any(hit & _is_no(band) for band, hit in touches(row, nominal, nominal))


def _is_no(band: Band) -> Truth:
    return band.verdict is Verdict.NO if band.ranks is None else band.ranks == NO


def _any(truths: Iterable[Truth]) -> Truth:
    some: Truth = False
    for truth in truths:
        some = some | truth
    return some


def _ranks_by_set(hits: Sequence[tuple[Band, Truth]]) -> Number:
    """Which bands each interval touches is a number, its verdict looked up in a table."""
    pattern: Any = 0
    for i, (_, hit) in enumerate(hits):
        pattern = pattern + hit * (1 << i)
    if not is_column(pattern):
        return _table(tuple(band.verdict for band, _ in hits))[pattern]
    space = pattern.__array_namespace__()
    return space.take(space.asarray(_table(tuple(band.verdict for band, _ in hits))), pattern)


def _ranks_by_row(hits: Sequence[tuple[Band, Truth]]) -> Number:
    """The worst rank of the bands that each interval touches, where a band's verdict differs between rows."""
    worst: Number = -1
    best: Number = NO + 1
    for band, hit in hits:
        rank = band.verdict.rank if band.ranks is None else band.ranks
        worst, best = upper(worst, pick(hit, rank, -1)), lower(best, pick(hit, rank, NO + 1))
    return pick((worst == NO) & (best < NO), UNCLEAR, worst)


@cache
def _table(verdicts: tuple[Verdict, ...]) -> list[int]:
    """The rank of what `verdict_on` says for each set of touched bands; a set is numbered by the powers of 2 in it."""
    sets = ([verdict for i, verdict in enumerate(verdicts) if number >> i & 1] for number in range(1 << len(verdicts)))
    return [verdict_on(touched).rank if touched else UNCLEAR for touched in sets]
