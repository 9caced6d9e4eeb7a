"""Where a limit lies, from values that turned out well and values that did not.

The chance that a value turns out well rises with it as a logistic curve, steep or flat: limit and steepness are weighed
over a grid, the limit evenly over all that was seen and half as much again, the steepness evenly in its logarithm. The
limit told is the middle of what remains, with the range that holds it nine times in ten.
Source: logistic regression by its posterior on a grid, as in any text on Bayesian data analysis.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

_LIMITS, _WIDTHS = 241, 25
_LEAST = 0.01
"""The narrowest span that is looked over, in the check's unit: what a calliper tells apart, common practice."""


class Limit(NamedTuple):
    """A limit with the range that holds it in nine cases of ten, in the check's unit."""

    value: float
    low: float
    high: float


def limit_of(values: Sequence[float], went_well: Sequence[bool], *, fits_above: bool) -> Limit | None:
    """The limit; None where all turned out alike, so that it may lie anywhere beyond."""
    if len(set(went_well)) < 2:
        return None
    x, well = np.asarray(values, dtype=float), np.asarray(went_well, dtype=bool)
    span = max(float(np.ptp(x)), _LEAST)
    limits = np.linspace(x.min() - span / 2, x.max() + span / 2, _LIMITS)
    widths = np.geomspace(span / 100, span, _WIDTHS)
    steps = (x[None, None, :] - limits[:, None, None]) / widths[None, :, None]
    towards_well = np.where(well == fits_above, steps, -steps)
    likely = -np.logaddexp(0.0, -towards_well).sum(axis=2)
    weights = np.exp(likely - likely.max()).sum(axis=1)
    low, middle, high = np.interp([0.05, 0.5, 0.95], np.cumsum(weights) / weights.sum(), limits)
    return Limit(float(middle), float(low), float(high))
