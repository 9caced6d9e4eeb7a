"""The rate of a watch from its readings: a straight line through offset over time, with what it cannot tell.

Offsets are watch minus reference in seconds, positive for a watch ahead; times in seconds of the reference. A rate is
in s/day, positive for a gaining watch. Each reading counts by its own standard uncertainty u, with the weight 1/u².

Source of line and standard errors: weighted least squares as in any textbook. Whether the scatter agrees with what the
readings claim: the chi-squared test at 5 % of M. G. Cox, Metrologia 39 (2002) 589. Where it is wider: the ratio of
R. T. Birge, Physical Review 40 (1932) 207. Of the crystal's parabola: component datasheet 008-0353-0 rev C.
"""

from dataclasses import dataclass
from math import inf, sqrt

from jobs.chi_squared import probability_beyond
from parts.fit.units import MONTH_DAYS
from parts.tools.statistics.straight_line import least_squares
from parts.tools.statistics.student_t import t_factor

DAY_S = 86_400.0
PPM_S_PER_DAY = 0.0864
"""1 ppm in s/day."""
READING_S = 0.2
"""Standard uncertainty of one tap, s; common practice, no source."""
WRIST_C = 30.0
"""Temperature of a watch on the wrist, °C; common practice, no source."""
CONFIDENCE = 0.95
NORMAL_T = t_factor(CONFIDENCE, inf)
AGREES_FROM = 0.05
"""Scatter less probable than this does not agree with what the readings claim of themselves."""
CRYSTAL_PPM, TURNOVER_C = -0.034, 25.0
"""Parabola of a tuning-fork crystal where the movement's own is not known; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Fit:
    """The line: rate and its half-width at 95 % in s/day, and what they rest on.

    `mean_time` in s and `mean_offset` in s are weighted; `weight` is the sum of the weights in 1/s², `spread` that of
    weight times squared distance from the mean time. `slope_error` is the scatter's own standard error of the rate,
    None with two readings. `scale` is what the readings' uncertainties are multiplied by, never less than 1; `freedom`
    the degrees of freedom of the half-width, infinite where the readings' own uncertainties are believed.
    """

    count: int
    rate: float
    half_width: float
    error: float
    slope_error: float | None
    scale: float
    freedom: float
    rests: float
    mean_time: float
    mean_offset: float
    weight: float
    spread: float
    t: float

    @property
    def per_month(self):
        return self.rate * MONTH_DAYS

    @property
    def ppm(self):
        return self.rate / PPM_S_PER_DAY

    @property
    def agrees(self):
        """Whether the scatter is what the readings' own uncertainties lead to expect."""
        return self.freedom == inf

    def offset_at(self, time):
        """The line's offset at a time, s."""
        return self.mean_offset + self.rate * (time - self.mean_time) / DAY_S

    def error_at(self, time):
        """Standard uncertainty of the line's offset at a time, s."""
        return self.scale * sqrt(1 / self.weight + (time - self.mean_time) ** 2 / self.spread)

    def band_at(self, time):
        """Half-width of the line's own interval at a time at 95 %, s."""
        return self.t * self.error_at(time)


def fit_rate(readings, reading_s=READING_S):
    """The Fit of (time, offset) readings; None for fewer than two, or where all are of the same time.

    `reading_s` is the standard uncertainty of each reading in s, or one number for all.
    """
    errors = [reading_s] * len(readings) if isinstance(reading_s, float) else reading_s
    line = least_squares(readings, [1 / error**2 for error in errors])
    if line is None:
        return None
    scale, freedom = scale_and_freedom(line.rests, line.count - 2)
    t = t_factor(CONFIDENCE, freedom)
    error = scale / sqrt(line.squares) * DAY_S
    return Fit(
        count=line.count,
        rate=line.slope * DAY_S,
        half_width=t * error,
        error=error,
        slope_error=sqrt(line.rests / (line.count - 2) / line.squares) * DAY_S if line.count > 2 else None,
        scale=scale,
        freedom=freedom,
        rests=line.rests,
        mean_time=line.mean_x,
        mean_offset=line.mean_y,
        weight=line.weight,
        spread=line.squares,
        t=t,
    )


def scale_and_freedom(rests, freedom):
    """What the readings' uncertainties are multiplied by, and the degrees of freedom of the interval.

    Readings that scatter less than they claim are no surer for it; a little more, as chance has it, widens them by
    Birge's ratio. Scatter that their claims do not explain (AGREES_FROM) counts alone, with its own `freedom`.
    """
    if freedom < 1:
        return 1.0, inf
    scale = max(1.0, sqrt(rests / freedom))
    return scale, inf if probability_beyond(rests, freedom) >= AGREES_FROM else freedom


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
