"""Checks: how a value with its interval becomes a finding. Source: fit model section 3."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from math import inf
from typing import TypeAlias

from parts.fit.arithmetic.elementwise import Number, Truth, is_column, is_lost, negation, pick, rounded
from parts.fit.arithmetic.quantities import Quantity, missing_of
from parts.fit.bands import Band, Remedy, Verdict, touched, verdict_on
from parts.fit.columns import Column, judge_column
from parts.fit.records import describe
from parts.fit.units import with_unit


@dataclass(frozen=True, slots=True)
class Following:
    """A length in a sentence that is the check's value but for something known: a spacer's thickness, say."""

    length: Quantity


Word: TypeAlias = Quantity | Following | tuple[Number | None, str] | str
Span: TypeAlias = tuple[Number, Number]
"""The low and high end of a value's interval."""


def without_count(key: str) -> str:
    """A check's key as it is for the first of several: "sub-post" for "sub-post-2"."""
    return re.sub(r"-\d+$", "", key)


@dataclass(slots=True)
class Check:
    """One finding of the fit check; `value` carries shares and what is missing, `low` and `high` end its interval.

    `provisional` names what has to be measured before anything better than "no" is more than "at best". `chance` maps
    each verdict but unclear to its share of the draws, where they were made. `waits_for` names the parts that are not
    chosen: such a check has no verdict.
    """

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
    low: float | None = None
    high: float | None = None
    because: str = ""
    instead: Remedy | None = None
    subject: str = ""
    provisional: tuple[str, ...] = ()
    chance: dict[Verdict, float] | None = None
    waits_for: tuple[str, ...] = ()

    @property
    def rank(self) -> int:
        return self.verdict.rank

    def mix(self, condition: Truth, other: Finding) -> Finding:
        """The check in the rows where the condition holds, the other elsewhere; neither decides where both wait."""
        if self.missing and other.missing:
            return self
        return self._in_rows().mix(condition, other)

    def unclear_where(self, condition: Truth, because: str) -> Check:
        """The check, called unclear for the reason given where the condition holds."""
        if condition:
            self.verdict, self.because = Verdict.UNCLEAR, because
        return self

    def no_where(self, condition: Truth) -> Check:
        """The check, called "no" where the condition holds."""
        if condition:
            self.verdict = Verdict.NO
        return self

    def work_where(self, condition: Truth, because: str, remedy: Remedy) -> Check:
        """The check, called work with this one remedy where the condition holds."""
        if condition:
            self.verdict, self.because, self.instead, self.missing = Verdict.WORK, because, remedy, ()
        return self

    def only_where(self, condition: Truth) -> Finding:
        """The check in the rows where the condition holds; of one pairing the caller left it out already elsewhere."""
        return self._in_rows().only_where(condition) if is_column(condition) else self

    def _in_rows(self) -> Column:
        return Column(self.key, self.must, self.value, self.rank, dict.fromkeys(self.remedies, True))

    def standing_for(self, first: Finding) -> Check:
        """The check's finding about the value of the first."""
        self.because, self.value = self.sentence, first.value
        self.low, self.high = first.value.low, first.value.high
        return self

    @property
    def band(self) -> Band | None:
        """The band in which the nominal value lies; None where it is not known."""
        return touched(self.bands, self.value.value, self.value.value)[0] if self.value.known and self.bands else None

    @property
    def margin(self) -> float | None:
        """Distance from the nominal value to the nearest worse band; None where there is no worse one."""
        here = self.band
        if here is None:
            return None
        worse = [b for b in self.bands if b.verdict.rank > here.verdict.rank]
        return min((max(b.low - self.value.value, self.value.value - b.high) for b in worse), default=None)

    @property
    def undecided(self) -> tuple[str, ...]:
        """What has to be measured before the check can be told: what is missing, and what is known by a bound only."""
        if self.verdict is not Verdict.UNCLEAR:
            return ()
        needs = tuple(name for band in self.touches for name in band.needs)
        return tuple(dict.fromkeys((*self.missing, *needs, *self.value.unbounded)))

    @property
    def sentence(self) -> str:
        """The finding in one sentence with its numbers."""
        if self.waits_for:
            return f"Waits until chosen: {', '.join(part_in_words(name) for name in self.waits_for)}."
        if self.missing:
            return f"Not measured yet: {_phrases(self.missing)}."
        here = self.band
        text = (self.because or (here.says if here else "")).format(**self._fields())
        if self.bound and text.startswith(self.bound):
            text = text[:1].upper() + text[1:]
        if self.provisional and self.verdict is not Verdict.NO:
            text = f"At best, until measured ({_phrases(self.provisional)}): {text[:1].lower()}{text[1:]}"
        if self.because or here is None or self.verdict is here.verdict:
            return text
        if self.undecided:
            return f"{text} To be sure, measure: {_phrases(self.undecided)}."
        span = f"{with_unit(self.low, self.unit)} to {with_unit(self.high, self.unit)}"
        may = "too close to call" if self.verdict is Verdict.UNCLEAR else "may need work"
        return f"{text} With its ± this is {span}: {may}."

    @property
    def remedies(self) -> list[Remedy]:
        """What to do about it: the nominal band's remedies first, then those of the other bands touched.

        Remedies that undo each other make way for one: to measure better first. One that tells the value is not asked
        for where the nominal value says no: it would tell by how much the parts do not fit. Where only the value's ±
        calls for a remedy, it tells the end of the interval in that band.
        """
        unsure = self.missing or (self.because and self.verdict is Verdict.UNCLEAR)
        if unsure or self.verdict in (Verdict.FITS, Verdict.NO):
            return []
        fields = self._fields()
        if self.instead:
            return [Remedy(self.instead.kind, self.instead.text.format(**fields))]
        here = self.band
        says_no = here is not None and here.verdict is Verdict.NO
        ordered = sorted(self.touches, key=lambda band: band is not here)
        remedies = (
            Remedy(r.kind, r.text.format(**(fields if band is here else self._fields_at_end(band))))
            for band in ordered
            for r in band.remedies
            if not (says_no and r.tells_value)
        )
        return list(dict.fromkeys(remedies))

    def _fields(self) -> dict[str, str]:
        value = self.value.value
        words = {name: _in_words(word) for name, word in self.words.items()}
        bound = "" if self.verdict is Verdict.WORK else self.bound
        return words | {"value": bound + with_unit(value, self.unit), "size": with_unit(abs(value), self.unit)}

    def _fields_at_end(self, band: Band) -> dict[str, str]:
        """What fills the blanks of a remedy that only the end of the interval calls for."""
        fields, value = self._fields(), self.value.value
        if value is None or self.low is None or self.high is None:
            return fields
        end = min(self.high, band.high) if band.low >= value else max(self.low, band.low)
        if abs(end) == inf:
            return fields
        for name, word in self.words.items():
            if isinstance(word, Following) and word.length.known:
                fields[name] = self._up_to(word.length.value + end - value, word.length.value, "mm")
        return fields | {
            "value": self._up_to(end, value, self.unit),
            "size": self._up_to(abs(end), abs(value), self.unit),
        }

    @staticmethod
    def _up_to(end: Number, value: Number, unit: str) -> str:
        return f"{'up to ' if end > value else ''}{with_unit(end, unit)}"

    @property
    def bound(self) -> str:
        """What stands before a value that is known by a bound only: "at least "."""
        return "at least " if self.high == inf else "at most " if self.low == -inf else ""


Finding: TypeAlias = Check | Column
"""What a check's function yields: a Check of one pairing, a Column of many."""


def _phrases(names: Sequence[str]) -> str:
    return ", ".join(describe(name).phrase for name in names)


def part_in_words(name: str) -> str:
    """A part of the sheet as a sentence names it: "the minute hand" for "hands.minute"."""
    head, _, hand = name.partition(".")
    return f"the {hand} hand" if hand else f"the {head}"


def _in_words(word: Word) -> str:
    if isinstance(word, Following):
        word = word.length
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
    span: Span | None = None,
    provisional: tuple[str, ...] = (),
    measure_first: str = "",
    by_row: bool = False,
    **words: Word,
) -> Finding:
    """Weigh a value against its bands.

    `needs` are further quantities that must be known although the value is not made of them (a limit, say); `span` is
    the interval where it is not the value with its half-width to both sides; `measure_first` is what to do first where
    the interval spans remedies that undo each other; `by_row` says that the bands' edges are columns. `words` fill the
    sentences: a Quantity is told in mm, a number with a unit in that, anything else as it is.
    """
    missing = missing_of(value, *needs)
    if missing:
        return Check(key, title, must, unit, value, row, Verdict.UNCLEAR, [], words, missing)
    low, high = span or (value.low, value.high)
    if by_row or is_column(value.value) or is_column(low) or any(is_column(other.value) for other in needs):
        return judge_column(key, must, value, row, needs, low, high, measure_first)
    bands = touched(row, low, high)
    verdict = bands[0].verdict if len(bands) == 1 else verdict_on([band.verdict for band in bands])
    if value.unbounded and verdict is Verdict.NO:
        verdict = Verdict.UNCLEAR
    check = Check(key, title, must, unit, value, row, verdict, bands, words, (), low, high, provisional=provisional)
    if measure_first and verdict is Verdict.WORK and {1, -1} <= {band.side for band in bands}:
        check.instead = Remedy("work", measure_first)
    return check


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
    worst = checks[0]
    for other in checks[1:]:
        worst = pick(_is_worse(other, worst, sign), other, worst)
    return worst


def _is_worse(a: Finding, b: Finding, sign: int) -> Truth:
    """Whether check `a` decides over `b`: by verdict, then by value, then by uncertainty; a lost value over any."""
    mine, theirs = sign * rounded(a.value.value), sign * rounded(b.value.value)
    by_value = (mine > theirs) | ((mine == theirs) & (a.value.half_width > b.value.half_width))
    worse = (a.rank > b.rank) | ((a.rank == b.rank) & by_value)
    return is_lost(mine) | (worse & negation(is_lost(theirs)))
