"""The rate of a watch from its readings: a straight line through offset over time, with what it cannot tell.

Offsets are watch minus reference in seconds, positive for a watch ahead; times in seconds of the reference. A rate is
in s/day, positive for a gaining watch. Source of the standard errors: ordinary least squares as in any textbook; of the
crystal's parabola: component datasheet 008-0353-0 rev C.
"""

from dataclasses import dataclass
from math import inf, sqrt

from parts.fit.units import MONTH_DAYS
from parts.tools.straight_line import least_squares
from parts.tools.student_t import t_factor

DAY_S = 86_400.0
PPM_S_PER_DAY = 0.0864
"""1 ppm in s/day."""
READING_S = 0.2
"""Standard uncertainty of one tap, s; common practice, no source."""
WRIST_C = 30.0
"""Temperature of a watch on the wrist, °C; common practice, no source."""
CONFIDENCE = 0.95
CRYSTAL_PPM, TURNOVER_C = -0.034, 25.0
"""Parabola of a tuning-fork crystal where the movement's own is not known; common practice, no source."""
LONGEST_WAIT_H = 24 * 60
"""A verdict that would take longer than this is not worth waiting for."""


@dataclass(frozen=True, slots=True)
class Fit:
    """The line: rate and its half-width in s/day, offset at the mean time in s, standard errors, and what they rest on.

    `sigma` is the standard deviation taken for one reading: the scatter about the line, but never less than what a
    reading claims. `slope_error` is the scatter's own standard error of the rate, None with two readings.
    """

    count: int
    rate: float
    half_width: float
    error: float
    slope_error: float | None
    sigma: float
    mean_time: float
    mean_offset: float
    spread: float
    t: float

    @property
    def per_month(self):
        return self.rate * MONTH_DAYS

    @property
    def ppm(self):
        return self.rate / PPM_S_PER_DAY

    def offset_at(self, time):
        """The line's offset at a time, s."""
        return self.mean_offset + self.rate * (time - self.mean_time) / DAY_S

    def band_at(self, time):
        """Half-width of the line's own interval at a time, s."""
        return self.t * self.sigma * sqrt(1 / self.count + (time - self.mean_time) ** 2 / self.spread)


def fit_rate(readings, reading_s=READING_S):
    """The Fit of (time, offset) readings; None for fewer than two, or where all are of the same time."""
    line = least_squares(readings)
    if line is None:
        return None
    scatter = sqrt(line.rests / (line.count - 2)) if line.count > 2 else None
    sigma = max(scatter or 0.0, reading_s)
    freedom = line.count - 2 if scatter is not None and scatter > reading_s else inf
    t = t_factor(CONFIDENCE, freedom)
    error = sigma / sqrt(line.squares) * DAY_S
    return Fit(
        count=line.count,
        rate=line.slope * DAY_S,
        half_width=t * error,
        error=error,
        slope_error=scatter / sqrt(line.squares) * DAY_S if scatter is not None else None,
        sigma=sigma,
        mean_time=line.mean_x,
        mean_offset=line.mean_y,
        spread=line.squares,
        t=t,
    )


@dataclass(frozen=True, slots=True)
class RateVerdict:
    """`word` is "within", "outside", "wait" or "no limits"; `hours` is how much longer to wait, None for too long."""

    word: str
    hours: float | None = None


def judge_rate(fit, low, high, last_time):
    """Hold the rate against the movement's limits in s/day (None for an open side).

    Where the interval straddles a limit, the wait is worked out from the standard error: how much later than
    `last_time` one more reading must be for the interval to clear the limit, if the rate stays as it is.
    """
    if low is None and high is None:
        return RateVerdict("no limits")
    low, high = (-inf if low is None else low), (inf if high is None else high)
    if low <= fit.rate - fit.half_width and fit.rate + fit.half_width <= high:
        return RateVerdict("within")
    if fit.rate + fit.half_width < low or fit.rate - fit.half_width > high:
        return RateVerdict("outside")
    room = min(abs(fit.rate - low), abs(fit.rate - high))
    return RateVerdict("wait", _wait_hours(fit, room, last_time))


def _wait_hours(fit, room, last_time):
    """Hours after `last_time` at which one more reading brings the half-width down to `room` s/day."""
    if room <= 0:
        return None
    wanted = (fit.t * fit.sigma * DAY_S / room) ** 2
    distance = sqrt(max(wanted - fit.spread, 0.0) * (fit.count + 1) / fit.count)
    hours = max(fit.mean_time + distance - last_time, 0.0) / 3600
    return hours if hours <= LONGEST_WAIT_H else None


def crystal_ppm(temperature, coefficient=CRYSTAL_PPM, turnover=TURNOVER_C):
    """What a tuning-fork crystal's frequency is off at a temperature in °C, ppm; below zero on both sides."""
    return coefficient * (temperature - turnover) ** 2


def at_wrist(rate, bench, wrist, coefficient=CRYSTAL_PPM, turnover=TURNOVER_C):
    """The rate in s/day carried from the bench's temperature to the wrist's, both in °C."""
    shift = crystal_ppm(wrist, coefficient, turnover) - crystal_ppm(bench, coefficient, turnover)
    return rate + PPM_S_PER_DAY * shift


def tap_offset(reference_s, expected=0.0):
    """Offset of a watch whose seconds hand crosses 12 at `reference_s` (s since a full minute of the reference).

    A tap tells the offset up to whole minutes; the one nearest to `expected` (s) is taken.
    """
    bare = -(reference_s % 60.0)
    return bare + 60.0 * round((expected - bare) / 60.0)
