"""What would make a pairing go that does not: the least change of one number that turns it, or of a few together.

Only numbers are tried that somebody can change: another crystal, other hands, another movement of the family, another
stem or crown, a trimmed dial. All are tried at once, each at many values round its own, and the nearest change of the
answer closed in on.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil, floor

import numpy as np

from parts.fit.answer.report import Report
from parts.fit.answer.ways import Change, Way
from parts.fit.arithmetic.elementwise import Truth, is_lost
from parts.fit.arithmetic.quantities import Quantity, Spread
from parts.fit.bands import Verdict
from parts.fit.check import check_columns
from parts.fit.inputs import Input
from parts.fit.records import input_of
from parts.trials.numbers import numbers_of, with_numbers

_PARTS = ("movement.", "hands.", "stem.", "crown.")
_CRYSTAL = ("crystal_gap_centre", "crystal_gap_edge", "floor_crystal_centre", "floor_crystal_edge")
_OTHERS = (*(f"case.{name}" for name in _CRYSTAL), "case.floor_ring", "dial.diameter")
_STEPS = np.concatenate([np.linspace(0.005, 1.0, 200), np.linspace(1.05, 8.0, 140)])
"""How far from its own value a number is tried, in its unit; scaled for numbers that are no lengths."""
_CLOSER, _ROUNDS = 24, 4
_DECIMALS = 4


def with_ways(report: Report) -> Report:
    """The report with what would make its pairing go, empty where it goes, or where nothing that is tried would do."""
    return report if report.verdict is not Verdict.NO else replace(report, would_go=_ways(report))


def _ways(report: Report) -> list[Way]:
    against = [item.key for item in report.checks if item.must and item.verdict is Verdict.NO]
    alone = _changes(report, against)
    ways = [Way(key, (change,)) for key, change in _by_check(report, against, alone)]
    return ways or _together(report, against)


def _by_check(report: Report, against: list[str], changes: list[Change]) -> list[tuple[str, Change]]:
    """Each change under the first check against it whose value hangs on that number, the first of all otherwise."""
    pairs = []
    for change in changes:
        hangs = [key for key in against if change.input in report[key].value.spread]
        pairs.append(((hangs or against)[0], change))
    return sorted(pairs, key=lambda pair: against.index(pair[0]))


def _together(report: Report, against: list[str]) -> list[Way]:
    """One change for each check that says no, where all of them together turn the pairing."""
    single = {key: _changes(report, [key], only=key) for key in against}
    if not all(single.values()):
        return []
    changes: dict[str, Change] = {}
    for options in single.values():
        change = min(options, key=lambda option: _effort(report, option))
        changes.setdefault(change.input, change)
    tried = {change.input: Quantity(change.value, {change.input: 0.0}) for change in changes.values()}
    columns = {path: Quantity(np.array([own.value]), own.spread) for path, own in tried.items()}
    if len(changes) < 2 or not _goes(report, columns, 1, None)[0]:
        return []
    return [Way(against[0], tuple(changes.values()))]


def _effort(report: Report, change: Change) -> float:
    own = dict(numbers_of(report.pairing.sheet))[change.input].value
    return abs(change.value - own) / _scale(input_of(change.input))


def _candidates(report: Report, against: list[str]) -> dict[str, Quantity]:
    """The numbers that somebody can change, of what the checks against it hang on."""
    hangs_on_hands = any(key.startswith("gap-") for key in against)
    named = {name for key in against for name in report[key].value.spread}
    heights = ("movement.posts.", "hands.")
    return {
        path: quantity
        for path, quantity in numbers_of(report.pairing.sheet)
        if (path.startswith(_PARTS) or path in _OTHERS)
        and (path in named or (hangs_on_hands and (path.startswith(heights) or path in _OTHERS)))
    }


def _changes(report: Report, against: list[str], only: str | None = None) -> list[Change]:
    """The nearest value of each number alone at which the pairing no longer says no, or the check `only` does not."""
    candidates = _candidates(report, against)
    tried = {path: _values(path, own) for path, own in candidates.items()}
    ends = {}
    for path, goes in _try(report, candidates, tried, only).items():
        if goes.any():
            at = int(np.argmax(goes))
            ends[path] = _bracket(candidates[path].value, tried[path], at)
    for _ in range(_ROUNDS if ends else 0):
        tried = {path: np.linspace(*pair, _CLOSER) for path, pair in ends.items()}
        for path, goes in _try(report, candidates, tried, only).items():
            at = max(1, int(np.argmax(goes)))
            ends[path] = (float(tried[path][at - 1]), float(tried[path][at]))
    return [_change(path, candidates[path].value, pair[1]) for path, pair in ends.items()]


def _values(path: str, own: Quantity) -> np.ndarray:
    """The values that a number is tried at, nearest first."""
    spec = input_of(path)
    steps = _STEPS * _scale(spec)
    values = own.value + np.stack([steps, -steps], axis=1).ravel()
    if path == "dial.diameter":
        values = values[values < own.value]
    least = spec.least + (1e-3 if spec.above else 0.0)
    return values[(values >= least) & (values <= spec.most)]


def _scale(spec: Input) -> float:
    """How much of its unit is a step like a millimetre."""
    return 1.0 if spec.unit == "mm" else 10.0


def _bracket(own: float, values: np.ndarray, at: int) -> tuple[float, float]:
    """The value tried before the one at this place on the same side of the number's own, and that one."""
    before = values[:at][(values[:at] > own) == (values[at] > own)]
    return (float(before[-1]) if len(before) else own), float(values[at])


def _change(path: str, own: float, value: float) -> Change:
    """Rounded away from the number's own value, so that the rounded one still goes."""
    rises, scale = value > own, 10**_DECIMALS
    rounded = (ceil(value * scale - 1e-3) if rises else floor(value * scale + 1e-3)) / scale
    return Change(path, rises, rounded)


def _try(
    report: Report, candidates: dict[str, Quantity], tried: dict[str, np.ndarray], only: str | None
) -> dict[str, np.ndarray]:
    """For each number whether the pairing goes at each of its values, the others as they are: one row a trial."""
    if not tried:
        return {}
    which = np.repeat(np.arange(len(tried)), [len(values) for values in tried.values()])
    columns, stacked = {}, np.concatenate(list(tried.values()))
    for i, path in enumerate(tried):
        own, mine = candidates[path], which == i
        spread: Spread = {name: np.where(mine, 0.0, part) for name, part in own.spread.items()}
        columns[path] = Quantity(np.where(mine, stacked, own.value), spread)
    goes = _goes(report, columns, len(stacked), only)
    return {path: goes[which == i] for i, path in enumerate(tried)}


def _is_lost(value: Quantity) -> Truth:
    """Where a value cannot be told although its numbers are there, as beyond a dome's edge gap: that is no way."""
    return value.known and is_lost(value.value)


def _goes(report: Report, columns: dict[str, Quantity], rows: int, only: str | None) -> np.ndarray:
    p = report.pairing
    fails = np.zeros(rows, dtype=np.bool_)
    with np.errstate(all="ignore"):
        for item in check_columns(with_numbers(p.sheet, columns), p.rules, report.parts):
            if only is None or item.key == only:
                against = (np.asarray(item.rank) == Verdict.NO.rank) | _is_lost(item.value)
                fails = fails | (np.asarray(item.must) & against)
    return ~fails
