"""The answer of the fit check, for page, paper, command and search alike. Source: fit model section 10."""

from __future__ import annotations

from collections import Counter
from dataclasses import asdict, dataclass, field
from math import isfinite
from typing import TYPE_CHECKING, Any, cast

from parts.fit.answer.asked import asked_once
from parts.fit.answer.ways import Way
from parts.fit.bands import Remedy, Verdict
from parts.fit.checks.feet import FootMark
from parts.fit.checks.stem import CutPlan
from parts.fit.doubts import Doubt
from parts.fit.pressure import under_pressure
from parts.fit.verdicts import Check

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing, Seat


EDITION = 2
"""Edition of the fit model that reports are computed by."""


_ORDER = ("case", "dial", "movement", "hands", "stem", "crown")


@dataclass(slots=True, eq=False)
class Report:
    """One pairing's findings; `pairing` holds what they were computed from. Nothing changes a report once it is made.

    `checks` have a verdict, `waits` are those that wait for a part not among the chosen `parts`. `chance` maps each
    verdict but unclear to its share of the draws, None where none were made or a must lacks a number; `would_go` says
    what would make a pairing go that does not.
    """

    pairing: Pairing
    parts: frozenset[str]
    verdict: Verdict
    checks: list[Check]
    waits: list[Check]
    stem: CutPlan
    foot_marks: list[FootMark]
    measure_next: list[tuple[str, tuple[str, ...]]]
    doubts: list[Doubt]
    chance: dict[Verdict, float] | None = None
    would_go: list[Way] = field(default_factory=list)

    def __getitem__(self, key: str) -> Check:
        """The check with this key; KeyError where it does not apply."""
        for item in (*self.checks, *self.waits):
            if item.key == key:
                return item
        raise KeyError(key)

    @property
    def has_verdict(self) -> bool:
        """Whether a check that decides can be told of the parts that are chosen: advice alone makes no verdict."""
        return any(item.must for item in self.checks)

    @property
    def waiting(self) -> list[str]:
        """The parts that are not chosen and that a check waits for; all hands together where none is chosen."""
        names = {name for item in self.waits for name in item.waits_for}
        if not any(name.startswith("hands") for name in self.parts):
            names = {name.partition(".")[0] for name in names}
        return sorted(names, key=lambda name: (_ORDER.index(name.partition(".")[0]), name))

    @property
    def provisional(self) -> bool:
        """Whether the hands could not be seated with all they depend on known."""
        return any(item.provisional for item in self.checks)

    def by_subject(self) -> list[tuple[str, list[Check]]]:
        """The checks as (subject, checks) groups, in the order of the list of checks."""
        groups: dict[str, list[Check]] = {}
        for item in self.checks:
            groups.setdefault(item.subject, []).append(item)
        return list(groups.items())

    @property
    def asked_for(self) -> list[tuple[Check, Remedy]]:
        """What it takes, each thing once, with the check that asks for it first."""
        return [(cast("Check", item), remedy) for item, remedy, first in asked_once(self.checks) if first]

    @property
    def why(self) -> str:
        """The overall verdict in one sentence."""
        if not self.has_verdict:
            return "No verdict yet."
        if self.verdict is Verdict.NO:
            first, *rest = [c for c in self.checks if c.must and c.verdict is Verdict.NO]
            more = f" {len(rest)} more {'check does' if len(rest) == 1 else 'checks do'} not fit." if rest else ""
            return first.sentence + more
        if self.verdict is Verdict.UNCLEAR:
            return self.still_open
        if self.verdict is Verdict.WORK:
            kinds = Counter(remedy.kind for _, remedy in self.asked_for)
            asks = (
                ("part", "part", "to make or buy"),
                ("work", "job", "at the bench"),
                ("accept", "thing", "for the customer to accept"),
            )
            counted = [f"{n} {noun}{'s' * (n > 1)} {words}" for kind, noun, words in asks if (n := kinds[kind])]
            return f"Fits, with {', '.join(counted)}."
        return "Everything fits as it is."

    @property
    def still_open(self) -> str:
        """How many checks that decide are unclear, and how likely it is that the parts fit, in a sentence or two."""
        unclear = sum(1 for c in self.checks if c.must and c.verdict is Verdict.UNCLEAR)
        what = "1 check" if unclear == 1 else f"{unclear} checks"
        return " ".join(filter(None, (f"{what} still open.", self.chance_words)))

    @property
    def chance_words(self) -> str:
        """The chance with its meaning, in a sentence; empty where none was drawn."""
        if self.chance is None:
            return ""
        cases = in_hundred(1 - self.chance[Verdict.NO])
        if self.verdict is Verdict.UNCLEAR:
            return f"Too close to call: it fits, as it is or with work, in {cases}."
        return f"Fits, as it is or with work, in {cases}."

    def height_above_dial(self, name: str) -> float | None:
        """Height of a hand's top above the dial's face, mm; None where it is not known."""
        return self.above_dial(self.pairing.seating.seats[name])

    def above_dial(self, seat: Seat) -> float | None:
        """The same of a hand as it is seated."""
        height = seat.top - self.pairing.stack.face
        return height.value if height.known else None

    def as_dict(self) -> dict[str, Any]:
        """The whole report in plain values, lengths in mm, ready for JSON."""
        p = self.pairing
        pressed = under_pressure(p)
        advice = {"under_pressure": [_check_dict(item) for item in pressed]} if pressed else {}
        return {
            "edition": EDITION,
            "verdict": str(self.verdict),
            "why": self.why,
            "chance": _chance_dict(self.chance),
            "provisional": self.provisional,
            "waiting": self.waiting,
            "would_go": [way.as_dict() for way in self.would_go],
            "doubts": [{"inputs": list(doubt.inputs), "sentence": doubt.sentence} for doubt in self.doubts],
            "checks": [_check_dict(item) for item in (*self.checks, *self.waits)],
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
        } | advice


def in_hundred(share: float) -> str:
    """A share of the draws as it is said: "97 of 100 cases"; never all or none of them where it is neither."""
    cases = round(100 * share)
    if (cases, share) in ((0, 0.0), (100, 1.0)) or 0 < cases < 100:
        return f"{cases} of 100 cases"
    return "fewer than 1 of 100 cases" if cases == 0 else "more than 99 of 100 cases"


def _check_dict(item: Check) -> dict[str, Any]:
    band = item.band
    return {
        "key": item.key,
        "title": item.title,
        "subject": item.subject,
        "must": item.must,
        "verdict": None if item.waits_for else str(item.verdict),
        "waits_for": list(item.waits_for),
        "chance": _chance_dict(item.chance),
        "provisional": bool(item.provisional),
        "value": item.value.value,
        "low": _finite(item.low),
        "high": _finite(item.high),
        "rss": item.value.rss if item.value.known else None,
        "unit": item.unit,
        "limits": [_finite(band.low), _finite(band.high)] if band else None,
        "margin": item.margin,
        "sentence": item.sentence,
        "remedies": [{"kind": remedy.kind, "text": remedy.text} for remedy in item.remedies],
        "shares": item.value.shares,
        "missing": list(item.missing),
    }


def _chance_dict(chance: dict[Verdict, float] | None) -> dict[str, float] | None:
    return None if chance is None else {str(verdict): share for verdict, share in chance.items()}


def _finite(edge: float | None) -> float | None:
    return edge if edge is not None and isfinite(edge) else None
