"""The best plans for a case and a dial: movement, hands, stem and crown together, those that no other plan beats.

A plan beats another that has no better chance, no fewer bench minutes and no fewer parts to make or buy, and is worse
in one of them. The library holds no prices, so cost is what has to be got.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from itertools import product
from math import prod
from typing import TYPE_CHECKING

from parts.fit import Report, SheetError, check_sheet
from parts.fit.bands import Verdict
from parts.fit.levels.stack import tolerance
from parts.fit.sheet import read_sheet
from parts.goes_in.lines import bench_minutes
from parts.goes_in.search import PLANNED, Search
from parts.goes_in.shortlist import shortlist
from parts.trials.chance import with_chance
from parts.trials.numbers import numbers_of

if TYPE_CHECKING:
    from parts.models import Pairing

LIMIT = 400
"""Combinations up to which each is looked at."""
DRAWS = 2_000
"""Draws for each plan's chance: whole percent are enough here."""
MOST_DRAWN = 60
"""Plans whose chance is drawn at most."""
FEW = 3
"""Plans shown of those that are not decided yet."""


@dataclass(frozen=True, slots=True)
class Plan:
    """One choice of all parts with its report; those `looked_for` were chosen for it, the others stay.

    `share` is the share of the draws in which it fits, as it is or with work; None where a must lacks a number.
    """

    pairing: Pairing
    report: Report
    looked_for: tuple
    share: float | None = None

    @property
    def to_get(self):
        """The parts looked for that are not known to be in stock, by name."""
        return [name for name in self.looked_for if not getattr(self.pairing, name).in_stock]

    @property
    def minutes(self):
        """Bench minutes beyond the routine work."""
        return bench_minutes(self.report)

    @property
    def cost(self):
        """How many parts and things have to be got: out of stock, to make or to buy."""
        return len(self.to_get) + len(self.asked_for("part"))

    @property
    def percent(self):
        """The share in whole percent; None where there is none."""
        return None if self.share is None else round(100 * self.share)

    @property
    def aims(self):
        """What plans are compared by, each the less the better."""
        return -self.percent, self.minutes, self.cost

    @property
    def place(self):
        """Its place in the ranking's order: verdict, minutes, what to get, to accept, to do, and last its parts."""
        counts = self.minutes, self.cost, len(self.asked_for("accept")), len(self.asked_for("work"))
        return (self.report.verdict.rank, *counts, [getattr(self.pairing, f"{name}_id") or 0 for name in PLANNED])

    @property
    def is_undecided(self):
        """Whether a must lacks a number, so that no chance can be drawn."""
        return any(check.must and check.undecided for check in self.report.checks)

    def asked_for(self, kind):
        """The texts of what it takes of one kind ("part", "work", "accept"), each thing once."""
        return [remedy.text for _, remedy in self.report.asked_for if remedy.kind == kind]


@dataclass(frozen=True, slots=True)
class Front:
    """The plans that no other beats, best chance first, and the first of those that are not decided yet.

    `weighed` of `combinations` were looked at. `lacking` names the parts of which the library has none; `error`
    refuses what is given.
    """

    plans: list = field(default_factory=list)
    undecided: list = field(default_factory=list)
    weighed: int = 0
    combinations: int = 0
    lacking: tuple = ()
    error: SheetError | None = None


def plans(pairing, changes):
    """The Front for what is given of a pairing, saved or not, with typed numbers by path; its movement is not asked."""
    search = Search.of(pairing, changes)
    try:
        read_sheet(search.question.sheet)
    except SheetError as error:
        return Front(error=error)
    counts = {part: search.records(part).count() for part in search.looked_for}
    if lacking := tuple(part for part, count in counts.items() if not count):
        return Front(lacking=lacking)
    combinations = prod(counts.values())
    choices = _each(search) if combinations <= LIMIT else shortlist(search)
    ordered = sorted(_looked_at(search, choices), key=lambda plan: plan.place)
    drawn, undecided, left_out = _drawn(ordered)
    return Front(_unbeaten(drawn), undecided[:FEW], len(choices) - left_out, combinations)


def _each(search):
    """Every combination, as tuples of primary keys in the order of what is looked for."""
    keys = (search.records(part).order_by("pk").values_list("pk", flat=True) for part in search.looked_for)
    return list(product(*keys))


def _looked_at(search, choices):
    """The Plans of these choices that may fit; numbers that contradict each other are no plan."""
    pieces = []
    for part, keys in zip(search.looked_for, map(set, zip(*choices, strict=True)), strict=False):
        records = search.with_rows(part, keys)
        pieces.append({key: (record, search.piece(part, record)) for key, record in records.items()})
    for choice in choices:
        mine = {part: own[key] for part, own, key in zip(search.looked_for, pieces, choice, strict=True)}
        try:
            report = check_sheet(search.question.sheet | {part: piece for part, (_, piece) in mine.items()})
        except SheetError:
            continue
        if report.verdict is not Verdict.NO:
            records = {part: record for part, (record, _) in mine.items()}
            yield Plan(search.pairing_with(records), report, search.looked_for)


def _drawn(ordered):
    """The plans with their chance, those that are not decided, and how many were left out at the limit.

    No chance is drawn of a plan that one certain to fit beats or equals already.
    """
    drawn, undecided, certain, shares, left_out = [], [], [], {}, 0
    for plan in ordered:
        if plan.is_undecided:
            undecided.append(plan)
            continue
        if any(sure.minutes <= plan.minutes and sure.cost <= plan.cost for sure in certain):
            continue
        decides = _what_decides(plan)
        if decides not in shares:
            if len(shares) == MOST_DRAWN:
                left_out += 1
                continue
            chance = with_chance(plan.report, DRAWS).chance
            shares[decides] = None if chance is None else 1 - chance[Verdict.NO]
        with_share = replace(plan, share=shares[decides])
        (undecided if with_share.share is None else drawn).append(with_share)
        if with_share.percent == 100:
            certain.append(with_share)
    return drawn, undecided, left_out


def _what_decides(plan):
    """What the chance hangs on: plans that are alike in all of it share theirs.

    Of stem and crown that is the stem's room in its tube and which numbers are drawn, for the spacer is drawn after
    them; themselves only where an open must uses their numbers.
    """
    pairing, p = plan.pairing, plan.report.pairing
    open_musts = [check for check in plan.report.checks if check.must and check.rank > Verdict.WORK.rank]
    used = {path.partition(".")[0] for check in open_musts for path in check.value.spread}
    drawn = tuple(path for path, own in numbers_of(p.sheet) if own.half_width > 0)
    ends = (part in used and getattr(pairing, f"{part}_id") for part in ("stem", "crown"))
    room = tolerance(p.sheet, p.rules)
    return pairing.movement_id, pairing.hands_id, p.stack.placement, p.stack.thickness, room, drawn, *ends


def _unbeaten(drawn):
    """The plans that no other beats, those alike in all aims once, best chance first."""
    first_of = {}
    for plan in drawn:
        first_of.setdefault(plan.aims, plan)
    unbeaten = [aims for aims in first_of if not any(_beats(other, aims) for other in first_of)]
    return [first_of[aims] for aims in sorted(unbeaten)]


def _beats(aims, others):
    return aims != others and all(mine <= theirs for mine, theirs in zip(aims, others, strict=True))
