"""Verdicts, and bands: a check's value on a number line, each stretch with its verdict.

Source: fit model section 3. The interval decides, not the nominal value.
"""

from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import inf

from parts.fit.arithmetic.quantities import SLACK


class Verdict(StrEnum):
    FITS = "fits"
    WORK = "work"
    UNCLEAR = "unclear"
    NO = "no"

    @property
    def rank(self):
        """0 for the best verdict, 3 for the worst."""
        return _RANK[self]


_RANK = {Verdict.FITS: 0, Verdict.WORK: 1, Verdict.UNCLEAR: 2, Verdict.NO: 3}


@dataclass(frozen=True, slots=True)
class Remedy:
    """What makes a pairing go together: `kind` is "work", "part" or "accept"."""

    kind: str
    text: str


def by_work(text):
    return Remedy("work", text)


def by_part(text):
    return Remedy("part", text)


def by_accepting(text):
    return Remedy("accept", text)


@dataclass(slots=True)
class Band:
    """A stretch of a check's value with one verdict; `low` and `high` are open at ±infinity.

    `effort` orders bands from better to worse: a part to get is more than work at the bench. `reach` is `high` with
    the slack of the comparison, on the side of the better neighbour.
    """

    verdict: Verdict
    says: str
    remedies: tuple = ()
    effort: int = 0
    low: float = -inf
    high: float = inf
    reach: float = inf


def fits(says):
    return Band(Verdict.FITS, says)


def work(says, *remedies):
    return Band(Verdict.WORK, says, remedies, 2 if any(remedy.kind == "part" for remedy in remedies) else 1)


def no(says):
    return Band(Verdict.NO, says, effort=3)


def bands(*parts):
    """Bands written as on a number line: band, edge, band, edge, band.

    An edge belongs to the better of its two bands, between equals to the upper one.
    """
    row = list(parts[::2])
    for edge, (below, above) in zip(parts[1::2], pairwise(row), strict=True):
        below.high = above.low = edge
        below.reach = edge + SLACK if below.effort < above.effort else edge - SLACK
    return row


def touches(row, low, high):
    """For each band along the line, whether the interval [low, high] touches it."""
    start = -inf
    for band in row:
        yield band, (low <= band.reach) & (high > start)
        start = band.reach


def touched(row, low, high):
    """The bands that the interval [low, high] touches, in order along the line."""
    return [band for band, hit in touches(row, low, high) if hit]


def verdict_on(found):
    """What an interval says whose touched bands have these verdicts; "no" only where all of them do."""
    worst = max(found, key=lambda verdict: verdict.rank)
    return Verdict.UNCLEAR if worst is Verdict.NO and any(one is not Verdict.NO for one in found) else worst
