"""For which values of a dimension that is not measured parts would go together.

The dimension is tried at many values at once and each change of the answer closed in on. A stretch narrower than the
distance between two trials, 0.02 mm below 15 mm and 0.1 mm above (angles: 0.25°), can escape.
"""

from math import ceil, floor, inf

import numpy as np

from parts.fit.arithmetic.elementwise import is_column, is_lost
from parts.fit.arithmetic.quantities import Quantity, measured
from parts.fit.bands import Verdict
from parts.fit.check import check_columns
from parts.fit.records import describe
from parts.fit.units import unit_word
from parts.trials.numbers import changed, with_numbers

_CLOSER = 33
"""Trials between two neighbouring trials with different answers, each time anew."""
_ROUNDS = 5
_HAIR = 1e-5
"""Hundredths of a unit by which the search may miss an end."""


def stretches(sheet, rules, parts, path, rows=1, besides=()):
    """For each row of the sheet the stretches [(low, high), ...] of the dimension `path` in which all goes together.

    The dimension is taken as read without plus-minus. Checks that wait for another unmeasured dimension do not count,
    nor those whose keys are in `besides`.
    An end that no check sets, only the dimension's own limits, is -inf or inf.
    """
    spec = describe(path).input
    grid = _trials(spec)
    which = np.repeat(np.arange(rows), len(grid))
    goes = _goes(sheet, rules, parts, besides, path, np.tile(grid, rows), which).reshape(rows, -1)
    row, at = np.nonzero(goes[:, 1:] != goes[:, :-1])
    low, high, opens = grid[at], grid[at + 1], goes[row, at + 1]
    for _ in range(_ROUNDS if len(row) else 0):
        between = np.linspace(low, high, _CLOSER + 2, axis=1)
        between_goes = _goes(sheet, rules, parts, besides, path, between.ravel(), np.repeat(row, _CLOSER + 2)).reshape(
            between.shape
        )
        first = np.argmax(between_goes == opens[:, None], axis=1)
        each = np.arange(len(row))
        low, high = between[each, first - 1], between[each, first]
    answers = []
    for i in range(rows):
        mine = row == i
        edges = np.where(opens[mine], high[mine], low[mine])
        ends = ([-inf] if goes[i, 0] else []) + list(edges) + ([inf] if goes[i, -1] else [])
        answers.append([(float(a), float(b)) for a, b in zip(ends[::2], ends[1::2], strict=True)])
    return answers


def in_words(path, values):
    """The stretches as words, such as "between 2.10 mm and 2.40 mm", rounded inwards; "" where none is left."""
    unit = unit_word(describe(path).input.unit)
    unit = unit if unit == "°" else f" {unit}"
    return " or ".join(filter(None, (_stretch_in_words(low, high, unit) for low, high in values)))


def _stretch_in_words(low, high, unit):
    least = low if low == -inf else ceil(low * 100 - _HAIR) / 100
    most = high if high == inf else floor(high * 100 + _HAIR) / 100
    if low == -inf and high == inf:
        return "any"
    if low == -inf:
        return f"at most {most:.2f}{unit}"
    if high == inf:
        return f"at least {least:.2f}{unit}"
    if least < most:
        return f"between {least:.2f}{unit} and {most:.2f}{unit}"
    return f"{least:.2f}{unit}" if least == most else ""


def _trials(spec):
    if spec.unit == "deg":
        return np.linspace(0.0, 360.0, 1441)
    if spec.most > 100.0:
        return np.concatenate([np.linspace(0.0, 10.0, 501), np.geomspace(10.1, spec.most, 500)])
    fine = np.linspace(0.0, 15.0, 751)
    return np.concatenate([fine, np.linspace(15.1, spec.most, 450)]) if spec.most > 15.0 else fine[fine <= spec.most]


def _goes(sheet, rules, parts, besides, path, values, which):
    """Whether the row `which` of the sheet goes together at each of the values."""
    trial = with_numbers(changed(sheet, lambda _, own: _rows(own, which)), {path: measured(path, values)})
    goes = np.ones(len(values), dtype=bool)
    with np.errstate(all="ignore"):
        for item in check_columns(trial, rules, parts):
            if not item.missing and item.key not in besides:
                counts = np.logical_and(item.must, np.logical_not(is_lost(item.value.value)))
                goes &= ~counts | (item.rank <= Verdict.WORK.rank)
    return goes


def _rows(quantity, which):
    """The quantity with row `which` of its columns."""
    if not is_column(quantity.value):
        return quantity
    parts = {name: part[which] if is_column(part) else part for name, part in quantity.spread.items()}
    return Quantity(quantity.value[which], parts)
