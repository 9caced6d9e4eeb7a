"""Verdicts, bands and checks: how a value with its interval becomes a finding.

Source: fit model section 3. The interval decides, not the nominal value.
"""

from dataclasses import dataclass, field
from enum import StrEnum
from itertools import pairwise
from math import inf

from .numbers import with_unit
from .quantities import SLACK, Quantity, missing_of
from .records import describe


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


def touched(row, low, high):
    """The bands that the interval [low, high] touches, in order along the line."""
    found = []
    start = -inf
    for band in row:
        if low <= band.reach and high > start:
            found.append(band)
        start = band.reach
    return found


@dataclass(slots=True)
class Check:
    """One finding of the fit check; `value` carries interval, shares and what is missing."""

    key: str
    title: str
    must: bool
    unit: str
    value: Quantity
    bands: list
    verdict: Verdict
    touches: list
    words: dict = field(default_factory=dict)
    missing: tuple = ()
    because: str = ""
    subject: str = ""

    @property
    def low(self):
        return self.value.value - self.value.half_width if self.value.known else None

    @property
    def high(self):
        return self.value.value + self.value.half_width if self.value.known else None

    @property
    def band(self):
        """The band in which the nominal value lies; None where it is not known."""
        return touched(self.bands, self.value.value, self.value.value)[0] if self.value.known else None

    @property
    def margin(self):
        """Distance from the nominal value to the nearest worse band; None where there is no worse one."""
        here = self.band
        if here is None:
            return None
        worse = [b for b in self.bands if b.verdict.rank > here.verdict.rank]
        return min((max(b.low - self.value.value, self.value.value - b.high) for b in worse), default=None)

    @property
    def sentence(self):
        """The finding in one sentence with its numbers."""
        if self.missing:
            return f"Not measured: {', '.join(describe(name).phrase for name in self.missing)}."
        text = (self.because or self.band.says).format(**self._fields())
        if self.because or self.verdict is self.band.verdict:
            return text
        span = f"{with_unit(self.low, self.unit)} to {with_unit(self.high, self.unit)}"
        may = "too close to call" if self.verdict is Verdict.UNCLEAR else "it may need work"
        return f"{text} Measured this closely ({span}), {may}."

    @property
    def remedies(self):
        """What to do about it: the nominal band's remedies first, then those of the other bands touched."""
        undecided = self.missing or (self.because and self.verdict is Verdict.UNCLEAR)
        if undecided or self.verdict in (Verdict.FITS, Verdict.NO):
            return []
        ordered = sorted(self.touches, key=lambda band: band is not self.band)
        fields = self._fields()
        told = (Remedy(r.kind, r.text.format(**fields)) for band in ordered for r in band.remedies)
        return list(dict.fromkeys(told))

    def _fields(self):
        value = self.value.value
        told = {
            name: with_unit(word.value, "mm") if isinstance(word, Quantity) else word
            for name, word in self.words.items()
        }
        return told | {"value": with_unit(value, self.unit), "size": with_unit(abs(value), self.unit)}


def judge(key, title, value, row, *, unit="mm", must=True, needs=(), **words):
    """Weigh a value against its bands.

    `needs` are further quantities that must be known although the value is not made of them (a limit, say);
    `words` fill the sentences: a Quantity is told in mm, anything else as it is.
    """
    missing = tuple(dict.fromkeys(value.missing + tuple(name for other in needs for name in other.missing)))
    if missing:
        return Check(key, title, must, unit, value, row, Verdict.UNCLEAR, [], words, missing)
    half = value.half_width
    touches = touched(row, value.value - half, value.value + half)
    worst = max((band.verdict for band in touches), key=lambda verdict: verdict.rank)
    if worst is Verdict.NO and any(band.verdict is not Verdict.NO for band in touches):
        worst = Verdict.UNCLEAR
    return Check(key, title, must, unit, value, row, worst, touches, words)


def weakest(checks, *, small_is_bad=True):
    """Of several candidates for one check the one that decides: worst verdict first, then the worst value.

    Where something of one candidate is missing the whole is, for it might be the worst.
    """
    first, missing = checks[0], missing_of(*(item.value for item in checks))
    if missing:
        return judge(first.key, first.title, Quantity(None, None, missing), [], unit=first.unit, must=first.must)
    sign = -1 if small_is_bad else 1

    def badness(item):
        return item.verdict.rank, sign * round(item.value.value, 9), item.value.half_width

    return max(checks, key=badness)
