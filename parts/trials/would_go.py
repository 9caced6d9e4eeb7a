"""What would make a pairing go that does not: the least change of one number that turns its "no", or of a few together.

Only numbers are tried that somebody can change: another crystal, other hands, another movement of the family, another stem
or crown, a trimmed dial. All of them are tried at once, each at many values round its own, and the nearest change of the
answer closed in on.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil, floor

import numpy as np

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import Verdict
from parts.fit.check import check_columns
from parts.fit.inputs import Input
from parts.fit.records import describe
from parts.fit.answer.report import Report
from parts.fit.answer.ways import Change, Way
from parts.trials.numbers import numbers_of, with_numbers

_PARTS = ("movement.", "hands.", "stem.", "crown.")
_OTHERS = ("case.crystal_gap_centre", "case.crystal_gap_edge", "dial.diameter")
_STEPS = np.concatenate([np.linspace(0.005, 1.0, 200), np.linspace(1.05, 8.0, 140)])
"""How far from its own value a number is tried, in its unit; scaled for numbers that are no lengths."""
_CLOSER, _ROUNDS = 24, 4
_DECIMALS = 4
_HAIR = 1e-7


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
    if len(changes) < 2 or not _goes(report, columns, None)[0]:
        return []
    return [Way(against[0], tuple(changes.values()))]


def _effort(report: Report, change: Change) -> float:
    own = dict(numbers_of(report.pairing.sheet))[change.input].value
    return abs(change.value - own) / _scale(describe(change.input).input)


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
    if not candidates:
        return []
    rows = [(path, value) for path, own in candidates.items() for value in _values(path, own)]
    goes = _try(report, candidates, rows, only)
    brackets: dict[str, tuple[float, float]] = {}
    for path, own in candidates.items():
        right = sorted(abs(value - own.value) for (name, value), good in zip(rows, goes, strict=True) if name == path and good)
        if right:
            value = next(v for (name, v), good in zip(rows, goes, strict=True) if name == path and good and abs(v - own.value) == right[0])
            brackets[path] = (_before(path, own, value), value)
    for _ in range(_ROUNDS if brackets else 0):
        rows = [(path, v) for path, ends in brackets.items() for v in np.linspace(*ends, _CLOSER)]
        goes = np.asarray(_try(report, candidates, rows, only)).reshape(-1, _CLOSER)
        for (path, ends), good in zip(list(brackets.items()), goes, strict=True):
            at, line = max(1, int(np.argmax(good))), np.linspace(*ends, _CLOSER)
            brackets[path] = (float(line[at - 1]), float(line[at]))
    return [_change(path, candidates[path].value, ends[1]) for path, ends in brackets.items()]


def _values(path: str, own: Quantity) -> np.ndarray:
    spec = describe(path).input
    steps = _STEPS * _scale(spec)
    values = own.value + np.concatenate([-steps[::-1], steps])
    if path == "dial.diameter":
        values = values[values < own.value]
    least = spec.least + (1e-3 if spec.above else 0.0)
    return values[(values >= least) & (values <= spec.most)]


def _scale(spec: Input | None) -> float:
    """How much of its unit is a step like a millimetre."""
    return 1.0 if spec is None or spec.unit == "mm" else 10.0


def _before(path: str, own: Quantity, value: float) -> float:
    """The value tried before this one, seen from the number's own."""
    values = np.concatenate([[own.value], _values(path, own)])
    nearer = values[np.abs(values - own.value) < abs(value - own.value) - _HAIR]
    same_side = nearer[(nearer - own.value) * (value - own.value) >= 0]
    return float(same_side[np.argmax(np.abs(same_side - own.value))])


def _change(path: str, own: float, value: float) -> Change:
    """Rounded away from the number's own value, so that the rounded one still goes."""
    rises, scale = value > own, 10**_DECIMALS
    rounded = (ceil(value * scale - 1e-3) if rises else floor(value * scale + 1e-3)) / scale
    return Change(path, rises, rounded)


def _try(
    report: Report, candidates: dict[str, Quantity], rows: list[tuple[str, float]], only: str | None
) -> np.ndarray:
    """Whether the pairing goes, row by row, with one number changed in each."""
    names = np.array([name for name, _ in rows])
    values = np.array([value for _, value in rows])
    columns = {}
    for path, own in candidates.items():
        mine = names == path
        spread = {name: np.where(mine, 0.0, part) for name, part in own.spread.items()}
        columns[path] = Quantity(np.where(mine, values, own.value), spread)
    return _goes(report, columns, only)


def _goes(report: Report, columns: dict[str, Quantity], only: str | None) -> np.ndarray:
    p = report.pairing
    sheet = with_numbers(p.sheet, columns)
    goes = np.ones(len(next(iter(columns.values())).value), dtype=bool)
    with np.errstate(all="ignore"):
        for item in check_columns(sheet, p.rules, report.parts):
            if only is None or item.key == only:
                goes &= ~(np.asarray(item.must) & (np.asarray(item.rank) == Verdict.NO.rank))
    return goes
