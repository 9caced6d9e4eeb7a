"""The chance of each verdict: every uncertain number drawn anew, many times, and each draw checked.

Source: propagation of distributions as in JCGM 101:2008; each number is drawn from a rectangular distribution over its
plus-minus. The spacer is made to its nominal thickness, so it is drawn by what its making allows; the hands are set
anew in each draw. The seed is fixed, so that the same sheet always has the same chance.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from parts.fit.answer.report import Report
from parts.fit.arithmetic.quantities import SLACK, Quantity
from parts.fit.bands import Verdict
from parts.fit.check import check_draws, measure_next
from parts.fit.records import MADE_SPACER
from parts.fit.verdicts import Check, Finding
from parts.trials.numbers import numbers_of, with_numbers

DRAWS = 20_000
SEED = 20_000
SLICES = 20
"""Into how many equal slices the draws are cut by one number, to see what knowing it would tell."""
_SHARES = (Verdict.FITS, Verdict.WORK, Verdict.NO)


def with_chance(report: Report, draws: int = DRAWS) -> Report:
    """The report with its chance and that of each of its checks, and what to measure next by what it would settle."""
    columns, findings = _drawn(report, draws)
    ranks = {item.key: _ranks(item, draws) for item in findings}
    checks = [replace(item, chance=_shares(ranks.get(item.key))) for item in report.checks]
    worst = _worst(checks, ranks, draws)
    return replace(
        report,
        checks=checks,
        chance=_shares(worst),
        measure_next=measure_next(checks, _gains(worst, columns)),
    )


def draw(quantity: Quantity, spread: float, chance: np.random.Generator, draws: int) -> np.ndarray:
    """That many values of the quantity, all over its plus-minus alike."""
    return quantity.value + spread * chance.uniform(-1.0, 1.0, draws)


def _drawn(report: Report, draws: int) -> tuple[dict[str, np.ndarray], list[Finding]]:
    """The drawn values of each uncertain number, by its path, and the checks of all draws."""
    chance, p = np.random.default_rng(SEED), report.pairing
    columns = {
        path: draw(quantity, quantity.half_width, chance, draws)
        for path, quantity in numbers_of(p.sheet)
        if quantity.half_width > 0
    }
    made, thickness = p.stack.made, p.stack.made.value
    if thickness:
        spacer = draw(Quantity(thickness), p.rules.spacer_pm, chance, draws)
        made = Quantity(spacer, {MADE_SPACER: 0.0})
    sheet = with_numbers(p.sheet, {path: Quantity(column, {path: 0.0}) for path, column in columns.items()})
    with np.errstate(all="ignore"):
        return columns, check_draws(sheet, p, made)


def _ranks(item: Finding, draws: int) -> np.ndarray | None:
    """The rank of a check in each draw; None where a number is missing."""
    if isinstance(item, Check) and item.missing:
        return None
    ranks = np.broadcast_to(np.asarray(item.rank), draws)
    return None if (ranks == Verdict.UNCLEAR.rank).any() else ranks


def _shares(ranks: np.ndarray | None) -> dict[Verdict, float] | None:
    if ranks is None:
        return None
    return {verdict: float(np.mean(ranks == verdict.rank)) for verdict in _SHARES}


def _worst(checks: list[Check], ranks: dict[str, Any], draws: int) -> np.ndarray | None:
    """The rank of the whole pairing in each draw; None where a must has none, or is known by a bound only."""
    worst = np.zeros(draws, dtype=int)
    for item in checks:
        mine = ranks.get(item.key)
        if item.must:
            if mine is None or item.undecided:
                return None
            worst = np.maximum(worst, mine)
        elif mine is not None:
            worst = np.maximum(worst, np.where(mine == Verdict.WORK.rank, mine, 0))
    return worst


def _gains(worst: np.ndarray | None, columns: dict[str, np.ndarray]) -> dict[str, float]:
    """By how much knowing each number would make a wrong decision less likely.

    Who decides by the more likely side is wrong with the smaller of the two chances; knowing a number, he decides
    slice by slice.
    """
    if worst is None:
        return {}
    fails = worst == Verdict.NO.rank
    wrong = min(fails.mean(), 1 - fails.mean())
    if wrong < SLACK:
        return {}
    return {path: max(0.0, wrong - _wrong_when_known(fails, column)) for path, column in columns.items()}


def _wrong_when_known(fails: np.ndarray, column: np.ndarray) -> float:
    rows = fails[np.argsort(column, kind="stable")]
    shares = [piece.mean() for piece in np.array_split(rows, SLICES)]
    return float(np.mean([min(share, 1 - share) for share in shares]))
