"""Verdicts, and bands: a check's value on a number line, each stretch with its verdict.

Source: fit model section 3. The interval decides, not the nominal value.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from math import inf
from typing import cast

from parts.fit.arithmetic.elementwise import Number, Truth, is_column, pick
from parts.fit.arithmetic.quantities import SLACK, Quantity


class Verdict(StrEnum):
    FITS = "fits"
    WORK = "work"
    UNCLEAR = "unclear"
    NO = "no"

    @property
    def rank(self) -> int:
        """0 for the best verdict, 3 for the worst."""
        return _RANK[self]


_RANK = {Verdict.FITS: 0, Verdict.WORK: 1, Verdict.UNCLEAR: 2, Verdict.NO: 3}


@dataclass(frozen=True, slots=True)
class Remedy:
    """What makes a pairing go together: `kind` is "work", "part" or "accept"."""

    kind: str
    text: str

    @property
    def tells_value(self) -> bool:
        """Whether its words have a blank for the check's value."""
        return "{value}" in self.text


def as_it_is(words: str) -> str:
    """Somebody's own words within a sentence that has blanks: their braces are no blanks."""
    return words.replace("{", "{{").replace("}", "}}")


def by_work(text: str) -> Remedy:
    return Remedy("work", text)


def by_part(text: str) -> Remedy:
    return Remedy("part", text)


def by_accepting(text: str) -> Remedy:
    return Remedy("accept", text)


@dataclass(slots=True)
class Band:
    """A stretch of a check's value with one verdict; `low` and `high` are open at ±infinity.

    `effort` orders bands from better to worse: a part to get is more than work at the bench. `reach` is `high` with
    the slack of the comparison, on the side of the better neighbour. `side` tells remedies that undo each other, such
    as opening and closing one hole, by their sign. `ranks` holds the verdict's rank for each row where it differs
    between rows; `needs` is what has to be known before the band's verdict can be told.
    """

    verdict: Verdict
    says: str
    remedies: tuple[Remedy, ...] = ()
    effort: int = 0
    side: int = 0
    ranks: Number | None = None
    needs: tuple[str, ...] = ()
    low: Number = -inf
    high: Number = inf
    reach: Number = inf


def fits(says: str) -> Band:
    return Band(Verdict.FITS, says)


def work(says: str, *remedies: Remedy, side: int = 0) -> Band:
    return Band(Verdict.WORK, says, remedies, 2 if any(remedy.kind == "part" for remedy in remedies) else 1, side)


def no(says: str) -> Band:
    return Band(Verdict.NO, says, effort=3)


def work_if(room: Quantity, band: Band, otherwise: str) -> Band:
    """The band where `room` is surely not below zero, "no" where it surely is; unclear where that cannot be told."""
    if room.missing:
        return replace(band, verdict=Verdict.UNCLEAR, remedies=(), needs=room.missing)
    enough, too_little = room.low >= -SLACK, room.high < -SLACK
    if is_column(enough) or is_column(too_little):
        ranks = pick(enough, _RANK[Verdict.WORK], pick(too_little, _RANK[Verdict.NO], _RANK[Verdict.UNCLEAR]))
        return replace(band, ranks=ranks)
    if enough:
        return Band(band.verdict, band.says, band.remedies, band.effort, band.side)
    if too_little:
        return replace(band, verdict=Verdict.NO, says=otherwise, remedies=(), effort=3)
    return replace(band, verdict=Verdict.UNCLEAR, remedies=(), needs=tuple(room.spread))


def bands(*parts: Band | Number) -> list[Band]:
    """Bands written as on a number line: band, edge, band, edge, band.

    An edge belongs to the better of its two bands, between equals to the upper one.
    """
    row = cast("list[Band]", list(parts[::2]))
    below = row[0]
    for above, edge in zip(row[1:], cast("tuple[Number, ...]", parts[1::2]), strict=True):
        below.high = above.low = edge
        below.reach = edge + SLACK if below.effort < above.effort else edge - SLACK
        below = above
    return row


def touches(row: Sequence[Band], low: Number, high: Number) -> Iterator[tuple[Band, Truth]]:
    """For each band along the line, whether the interval [low, high] touches it."""
    start: Number = -inf
    for band in row:
        yield band, (low <= band.reach) & (high > start)
        start = band.reach


def touched(row: Sequence[Band], low: Number, high: Number) -> list[Band]:
    """The bands that the interval [low, high] touches, in order along the line."""
    return [band for band, hit in touches(row, low, high) if hit]


def verdict_on(verdicts: Sequence[Verdict]) -> Verdict:
    """What an interval says whose touched bands have these verdicts; "no" only where all of them do."""
    worst = max(verdicts, key=lambda verdict: verdict.rank)
    return Verdict.UNCLEAR if worst is Verdict.NO and any(verdict is not Verdict.NO for verdict in verdicts) else worst
