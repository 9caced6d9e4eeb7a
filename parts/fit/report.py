"""The answer of the fit check, for page, paper, command and search alike. Source: fit model section 10."""

from __future__ import annotations

from collections import Counter
from dataclasses import asdict, dataclass
from math import isfinite
from typing import TYPE_CHECKING, Any

from parts.fit.bands import Verdict
from parts.fit.checks.feet import FootMark
from parts.fit.checks.stem import CutPlan
from parts.fit.records import describe
from parts.fit.verdicts import Check

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


@dataclass(slots=True)
class Report:
    """One pairing's findings; `pairing` holds what they were computed from."""

    pairing: Pairing
    verdict: Verdict
    checks: list[Check]
    stem: CutPlan
    foot_marks: list[FootMark]
    measure_next: list[tuple[str, tuple[str, ...]]]

    def __getitem__(self, key: str) -> Check:
        """The check with this key; KeyError where it does not apply."""
        for item in self.checks:
            if item.key == key:
                return item
        raise KeyError(key)

    def by_subject(self) -> list[tuple[str, list[Check]]]:
        """The checks as (subject, checks) groups, in the order of the list of checks."""
        groups: dict[str, list[Check]] = {}
        for item in self.checks:
            groups.setdefault(item.subject, []).append(item)
        return list(groups.items())

    @property
    def why(self) -> str:
        """The overall verdict in one sentence."""
        if self.verdict is Verdict.NO:
            first, *rest = [c for c in self.checks if c.must and c.verdict is Verdict.NO]
            more = f" {len(rest)} more {'check does' if len(rest) == 1 else 'checks do'} not fit." if rest else ""
            return first.sentence + more
        if self.verdict is Verdict.UNCLEAR:
            waiting = [c for c in self.checks if c.must and c.verdict is Verdict.UNCLEAR]
            what = "1 check" if len(waiting) == 1 else f"{len(waiting)} checks"
            best = describe(self.measure_next[0][0]).phrase if self.measure_next else ""
            return f"{what} still open. Next, measure the {best}." if best else f"{what} still open."
        if self.verdict is Verdict.WORK:
            kinds = Counter(remedy.kind for c in self.checks for remedy in c.remedies)
            told = (
                ("part", "to make or buy"),
                ("work", "at the bench"),
                ("accept", "for the customer to accept"),
            )
            return "Fits, with " + ", ".join(f"{kinds[kind]} {words}" for kind, words in told if kinds[kind]) + "."
        return "Everything fits as it is."

    def height_above_dial(self, name: str) -> float | None:
        """Height of a hand's top above the dial's face, mm; None where it is not known."""
        height = self.pairing.seating.seats[name].top - self.pairing.stack.face
        return height.value if height.known else None

    def as_dict(self) -> dict[str, Any]:
        """The whole report in plain values, lengths in mm, ready for JSON."""
        p = self.pairing
        return {
            "verdict": str(self.verdict),
            "why": self.why,
            "checks": [_check_dict(item) for item in self.checks],
            "spacer": {"placement": p.stack.placement, "thickness": p.stack.thickness},
            "seating": {
                name: {"lift": seat.lift, "height_above_dial": self.height_above_dial(name)}
                for name, seat in p.seating.seats.items()
            },
            "stem": {
                "length": self.stem.length,
                "cut_off": self.stem.cut_off,
                "plan": [asdict(step) for step in self.stem.steps],
                "gap_cut_off": self.stem.gap_cut_off,
                "disagreement": self.stem.disagreement,
            },
            "foot_marks": [asdict(mark) for mark in self.foot_marks],
            "measure_next": [{"input": name, "decides": list(keys)} for name, keys in self.measure_next],
            "rules": asdict(p.rules),
        }


def _check_dict(item: Check) -> dict[str, Any]:
    band = item.band
    return {
        "key": item.key,
        "title": item.title,
        "subject": item.subject,
        "must": item.must,
        "verdict": str(item.verdict),
        "value": item.value.value,
        "low": item.low,
        "high": item.high,
        "rss": item.value.rss if item.value.known else None,
        "unit": item.unit,
        "limits": [_finite(band.low), _finite(band.high)] if band else None,
        "margin": item.margin,
        "sentence": item.sentence,
        "remedies": [{"kind": remedy.kind, "text": remedy.text} for remedy in item.remedies],
        "shares": item.value.shares,
        "missing": list(item.missing),
    }


def _finite(edge: float) -> float | None:
    return edge if isfinite(edge) else None
