"""From single uncertainties to a plus-minus, by the Guide to the Expression of Uncertainty in Measurement.

Source: JCGM 100:2008 (GUM): readings 4.2, limits of error 4.3.7, a digital step F.2.2.1, the sum of independent
components 5.1.2, their degrees of freedom and the factor for an interval G.4. Units are those of what is measured.
"""

from collections.abc import Iterable, Sequence
from math import floor, inf, sqrt
from statistics import fmean, stdev
from typing import NamedTuple

from parts.tools.statistics.student_t import t_factor

_MANY = 1000
"""Degrees of freedom from which Student's t is the normal distribution's factor to 0.2 %."""


class Component(NamedTuple):
    """A standard uncertainty with its degrees of freedom."""

    u: float
    freedom: float = inf


def of_readings(readings: Sequence[float]) -> Component:
    """Of the mean of at least two readings: s / sqrt(n), type A."""
    return Component(stdev(readings) / sqrt(len(readings)), len(readings) - 1)


def of_limit(limit: float) -> Component:
    """Of a limit of error within which any value is as likely: limit / sqrt(3)."""
    return Component(limit / sqrt(3))


def of_step(step: float) -> Component:
    """Of a display that shows whole steps: step / sqrt(12)."""
    return Component(step / sqrt(12))


def combined(components: Iterable[Component]) -> Component:
    """Independent components together: root of the sum of squares, degrees of freedom by Welch and Satterthwaite."""
    parts = [part for part in components if part.u > 0]
    if not parts:
        return Component(0.0)
    u = sqrt(sum(part.u**2 for part in parts))
    shares = sum((part.u / u) ** 4 / part.freedom for part in parts)
    return Component(u, 1 / shares if shares else inf)


def expanded(component: Component, confidence: float = 0.95) -> float:
    """The half-width of the interval that holds the value with this confidence: t u, whole degrees of freedom."""
    freedom = floor(component.freedom) if component.freedom < _MANY else inf
    return t_factor(confidence, max(freedom, 1)) * component.u


def of_mean(readings: Sequence[float], *, limit: float, step: float) -> tuple[float, float]:
    """Mean and plus-minus (95 %) of repeated readings by a tool with this limit of error and this step."""
    return fmean(readings), expanded(combined([of_readings(readings), of_limit(limit), of_step(step)]))
