"""What the fit check says of a pairing's parts with the what-if changes put in."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from django.utils import timezone

from parts.fit import Report, SheetError, check_sheet
from parts.fit.answer.report import EDITION
from parts.fit.bands import Verdict
from parts.pairings.what_if import refusal, with_changes
from parts.rules.shop import shop_rules
from parts.sheets import sheet_of

if TYPE_CHECKING:
    from parts.models import Pairing


@dataclass(frozen=True, slots=True)
class Answer:
    """The report, or the SheetError that refuses the sheet; `faults` are what-if numbers that were left out."""

    sheet: dict
    report: Report | None
    error: SheetError | None = None
    faults: dict = field(default_factory=dict)


def answer(pairing, rules=None):
    """Check the pairing as its records and its what-if changes stand now, by the shop's `rules` (read where None).

    A what-if number that contradicts the others is left out like one that cannot be read, and stands in `faults`.
    """
    changes, refused = dict(pairing.what_if), {}
    own = sheet_of(pairing) | {"rules": shop_rules() if rules is None else rules}
    while True:
        sheet, faults = with_changes(own, changes)
        try:
            return Answer(sheet, _checked(json.dumps(sheet)), faults=faults | refused)
        except SheetError as error:
            if error.key not in changes:
                return Answer(sheet, None, error, faults | refused)
            refused[error.key] = refusal(changes.pop(error.key), error)


@lru_cache(maxsize=64)
def _checked(sheet: str) -> Report:
    """The report on a sheet as JSON; pages ask for the same one again and again."""
    return check_sheet(json.loads(sheet))


def save_with_report(*, pairing: Pairing, answered: Answer) -> None:
    """Keep the pairing together with the report as it stands now; without one where nothing could be checked."""
    report = answered.report if answered.report and answered.report.has_verdict else None
    pairing.report = report.as_dict() | {"sheet": answered.sheet} if report else None
    pairing.computed_at = timezone.now() if report else None
    pairing.save()


class Change(NamedTuple):
    """A check whose verdict changed: its title, the verdict then and the verdict now, None where gone or new."""

    title: str
    before: str | None
    after: str | None

    @property
    def direction(self) -> str:
        """Which way it went: "better" or "worse"; a check that is new or gone goes by what it asks or asked for."""
        before, after = _rank(self.before), _rank(self.after)
        return "worse" if after > before else "better" if after < before else "other"


class LessSure(Change):
    """A check whose number is as good as before, where only its ± says otherwise."""

    direction = "less sure"


def _rank(verdict: str | None) -> int:
    return Verdict(verdict).rank if verdict else 0


@dataclass(frozen=True, slots=True)
class Changes:
    """The checks that changed since a report was kept.

    `other_edition` says that the kept report was computed by another edition of the fit model: then it is the model
    that says something else, not the parts.
    """

    rows: list[Change]
    other_edition: bool = False

    def __iter__(self):
        return iter(self.rows)

    def __len__(self):
        return len(self.rows)

    @property
    def counts(self):
        """How many went which way, as {"worse": 1, "better": 2}; a way that none went is left out."""
        ways = Counter(row.direction for row in self.rows)
        return {way: ways[way] for way in ("worse", "less sure", "better", "other") if ways[way]}


FIRST_EDITION = 1
"""Edition of the reports that do not say which one they were computed by."""


def changes_since(saved, report):
    """The Changes from a kept report to one of now."""
    if not saved or not report:
        return Changes([])
    then = {item["key"]: item for item in saved["checks"]}
    now = {item.key: item for item in report.checks}
    rows = []
    for key in [*now, *(key for key in then if key not in now)]:
        before = then[key]["verdict"] if key in then else None
        after = str(now[key].verdict) if key in now else None
        if before != after:
            change = Change(now[key].title if key in now else then[key]["title"], before, after)
            band = now[key].band if key in now and before else None
            as_good = change.direction == "worse" and band is not None and band.verdict.rank <= _rank(before)
            rows.append(LessSure(*change) if as_good else change)
    return Changes(rows, saved.get("edition", FIRST_EDITION) != EDITION)
