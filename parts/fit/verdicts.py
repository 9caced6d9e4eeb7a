"""Checks: how a value with its interval becomes a finding. Source: fit model section 3."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from parts.fit.arithmetic.elementwise import Number, Truth, is_column, is_lost, negation, pick, rounded
from parts.fit.arithmetic.quantities import Quantity, missing_of
from parts.fit.bands import Band, Remedy, Verdict, touched, verdict_on
from parts.fit.columns import Column, judge_column
from parts.fit.records import describe
from parts.fit.units import with_unit

Word: TypeAlias = Quantity | tuple[Number | None, str] | str


@dataclass(slots=True)
class Check:
    """One finding of the fit check; `value` carries interval, shares and what is missing."""

    key: str
    title: str
    must: Truth
    unit: str
    value: Quantity
    bands: list[Band]
    verdict: Verdict
    touches: list[Band]
    words: dict[str, Word] = field(default_factory=dict)
    missing: tuple[str, ...] = ()
    because: str = ""
    subject: str = ""

    @property
    def rank(self) -> int:
        return self.verdict.rank

    def mix(self, condition: Truth, other: Finding) -> Finding:
        """The check in the rows where the condition holds, the other elsewhere; neither decides where both wait."""
        if self.missing and other.missing:
            return self
        alike = Column(self.key, self.must, self.value, self.rank, dict.fromkeys(self.remedies, True))
        return alike.mix(condition, other)

    def unclear_where(self, condition: Truth, because: str) -> Check:
        """The check, called unclear for the reason given where the condition holds."""
        if condition:
            self.verdict, self.because = Verdict.UNCLEAR, because
        return self

    def only_where(self, _condition: Truth) -> Check:
        """The check; the caller left it out already where the condition does not hold."""
        return self

    def standing_for(self, first: Finding) -> Check:
        """The check's finding about the value of the first."""
        self.because, self.value = self.sentence, first.value
        return self

    @property
    def low(self) -> float | None:
        return self.value.value - self.value.half_width if self.value.known else None

    @property
    def high(self) -> float | None:
        return self.value.value + self.value.half_width if self.value.known else None

    @property
    def band(self) -> Band | None:
        """The band in which the nominal value lies; None where it is not known."""
        return touched(self.bands, self.value.value, self.value.value)[0] if self.value.known else None

    @property
    def margin(self) -> float | None:
        """Distance from the nominal value to the nearest worse band; None where there is no worse one."""
        here = self.band
        if here is None:
            return None
        worse = [b for b in self.bands if b.verdict.rank > here.verdict.rank]
        return min((max(b.low - self.value.value, self.value.value - b.high) for b in worse), default=None)

    @property
    def sentence(self) -> str:
        """The finding in one sentence with its numbers."""
        if self.missing:
            return f"Not measured yet: {', '.join(describe(name).phrase for name in self.missing)}."
        here = self.band
        text = (self.because or (here.says if here else "")).format(**self._fields())
        if self.because or here is None or self.verdict is here.verdict:
            return text
        span = f"{with_unit(self.low, self.unit)} to {with_unit(self.high, self.unit)}"
        may = "too close to call" if self.verdict is Verdict.UNCLEAR else "may need work"
        return f"{text} With its ± this is {span}: {may}."

    @property
    def remedies(self) -> list[Remedy]:
        """What to do about it: the nominal band's remedies first, then those of the other bands touched."""
        undecided = self.missing or (self.because and self.verdict is Verdict.UNCLEAR)
        if undecided or self.verdict in (Verdict.FITS, Verdict.NO):
            return []
        ordered = sorted(self.touches, key=lambda band: band is not self.band)
        fields = self._fields()
        told = (Remedy(r.kind, r.text.format(**fields)) for band in ordered for r in band.remedies)
        return list(dict.fromkeys(told))

    def _fields(self) -> dict[str, str]:
        value = self.value.value
        told = {name: _told(word) for name, word in self.words.items()}
        return told | {"value": with_unit(value, self.unit), "size": with_unit(abs(value), self.unit)}


Finding: TypeAlias = Check | Column
"""What a check's function yields: a Check of one pairing, a Column of many."""


def _told(word: Word) -> str:
    if isinstance(word, tuple):
        return with_unit(*word)
    return with_unit(word.value, "mm") if isinstance(word, Quantity) else word


def judge(
    key: str,
    title: str,
    value: Quantity,
    row: list[Band],
    *,
    unit: str = "mm",
    must: Truth = True,
    needs: tuple[Quantity, ...] = (),
    **words: Word,
) -> Finding:
    """Weigh a value against its bands.

    `needs` are further quantities that must be known although the value is not made of them (a limit, say);
    `words` fill the sentences: a Quantity is told in mm, a number with a unit in that, anything else as it is.
    """
    missing = tuple(dict.fromkeys(value.missing + tuple(name for other in needs for name in other.missing)))
    if missing:
        return Check(key, title, must, unit, value, row, Verdict.UNCLEAR, [], words, missing)
    half = value.half_width
    if is_column(value.value) or any(is_column(other.value) for other in needs):
        return judge_column(key, must, value, row, needs)
    found = touched(row, value.value - half, value.value + half)
    return Check(key, title, must, unit, value, row, verdict_on([band.verdict for band in found]), found, words)


def weakest(checks: Sequence[Finding], *, small_is_bad: bool = True) -> Finding:
    """Of several candidates for one check the one that decides: worst verdict first, then the worst value.

    Where something of one candidate is missing the whole is, for it might be the worst.
    """
    missing = missing_of(*(item.value for item in checks))
    if missing:
        waiting = next(item for item in checks if isinstance(item, Check) and item.value.missing)
        lost = Quantity(None, None, missing)
        return judge(waiting.key, waiting.title, lost, [], unit=waiting.unit, must=waiting.must)
    sign = -1 if small_is_bad else 1
    found = checks[0]
    for other in checks[1:]:
        found = pick(_is_worse(other, found, sign), other, found)
    return found


def _is_worse(a: Finding, b: Finding, sign: int) -> Truth:
    """Whether check `a` decides over `b`: by verdict, then by value, then by uncertainty; a lost value over any."""
    one, two = sign * rounded(a.value.value), sign * rounded(b.value.value)
    by_value = (one > two) | ((one == two) & (a.value.half_width > b.value.half_width))
    worse = (a.rank > b.rank) | ((a.rank == b.rank) & by_value)
    return is_lost(one) | (worse & negation(is_lost(two)))
