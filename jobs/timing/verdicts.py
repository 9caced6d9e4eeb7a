"""The rate against the movement's limits, and how long to wait where it is not decided.

Hours are reckoned with one more reading at their end, tapped as well as the shop taps, and with the scatter staying as
the readings had it: the interval is that of all readings that are there by then. A reading more in between only makes
it sooner.
"""

from dataclasses import dataclass
from math import inf, sqrt

from jobs.rate import CONFIDENCE, DAY_S, NORMAL_T, READING_S, Fit, scale_and_freedom
from parts.tools.statistics.student_t import t_factor

TOO_WIDE = 10.0
"""A half-width above this many times the limit tells no rate; common practice, no source."""
USUAL_LIMIT = 1.0
"""Limit in s/day that decides when a rate is told where the movement's are not known; common practice, no source."""
LONGEST_WAIT_H = 24 * 60
"""A verdict that would take longer than this is not worth waiting for."""


@dataclass(frozen=True, slots=True)
class RateVerdict:
    """`word` is "early", "within", "outside", "wait" or "no limits".

    `hours` after the last reading tell a rate (early) or the verdict (wait), None for too long. `decides` are the hours
    that tell the verdict of a rate in the middle of the limits, where it is early. `told_below` is the half-width in
    s/day from which on a rate is told.
    """

    word: str
    hours: float | None = None
    decides: float | None = None
    told_below: float = TOO_WIDE * USUAL_LIMIT


def limit_of(low, high):
    """The size of the limits in s/day: half the span of two, the one of one, USUAL_LIMIT without any or of zero."""
    if low is not None and high is not None:
        return (high - low) / 2 or USUAL_LIMIT
    return abs(high if low is None else low or 0.0) if (low or high) else USUAL_LIMIT


def judge_rate(
    fit: Fit,
    low: float | None,
    high: float | None,
    last_time: float,
    *,
    shift: float = 0.0,
    tap_s: float = READING_S,
) -> RateVerdict:
    """Hold the rate against the movement's limits in s/day (None for an open side).

    `shift` in s/day carries the rate to the temperature that the limits are held at; `tap_s` is the standard
    uncertainty of the reading that is waited for, s. Where the interval straddles a limit, the wait is worked out for
    it to clear the limit if the rate stays as it is.
    """
    bound = TOO_WIDE * limit_of(low, high)

    def wait(half_width):
        return _hours(_Standing.of(fit), half_width, last_time, tap_s)

    if fit.half_width > bound:
        return _early(wait, low, high)
    if low is None and high is None:
        return RateVerdict("no limits")
    slowest, fastest = (-inf if low is None else low), (inf if high is None else high)
    rate = fit.rate + shift
    if slowest <= rate - fit.half_width and rate + fit.half_width <= fastest:
        return RateVerdict("within")
    if rate + fit.half_width < slowest or rate - fit.half_width > fastest:
        return RateVerdict("outside")
    return RateVerdict("wait", wait(min(abs(rate - slowest), abs(rate - fastest))))


def first_wait(error: float, low: float | None, high: float | None, *, tap_s: float = READING_S) -> RateVerdict:
    """The early RateVerdict after one reading with the standard uncertainty `error`, s."""
    return _early(
        lambda half_width: _hours(_Standing(error**-2, 0.0, 0.0, NORMAL_T), half_width, 0.0, tap_s), low, high
    )


def _early(wait, low, high):
    limit = limit_of(low, high)
    decides = None if low is None or high is None else wait(limit)
    return RateVerdict("early", wait(TOO_WIDE * limit), decides, TOO_WIDE * limit)


@dataclass(frozen=True, slots=True)
class _Standing:
    """The readings so far, and the factor of the half-width that is expected with one reading more."""

    weight: float
    spread: float
    mean_time: float
    factor: float

    @classmethod
    def of(cls, fit):
        rests = fit.rests + (1.0 if fit.agrees else fit.scale**2)
        scale, freedom = scale_and_freedom(rests, fit.count - 1)
        return cls(fit.weight, fit.spread, fit.mean_time, scale * t_factor(CONFIDENCE, freedom))


def _hours(standing, half_width, last_time, tap_s):
    """Hours after `last_time` at which one more reading brings the half-width down to `half_width` s/day."""
    if half_width <= 0:
        return None
    lacking = max((standing.factor * DAY_S / half_width) ** 2 - standing.spread, 0.0)
    distance = sqrt(lacking * (1 / standing.weight + tap_s**2))
    hours = max(standing.mean_time + distance - last_time, 0.0) / 3600
    return hours if hours <= LONGEST_WAIT_H else None
