"""Readings that lie off the line of the others."""

from dataclasses import dataclass
from math import hypot, inf
from statistics import NormalDist

from jobs.rate import fit_rate
from parts.tools.statistics.student_t import central_probability

IMPROBABLE = 0.01
"""A run whose readings are all sound shows an outlier about this often; common practice, no source."""
FEWEST = 4
"""Of three readings on no line, nothing tells which of them is wrong."""


@dataclass(frozen=True, slots=True)
class Outlier:
    """The place of a reading in its run, and by how much it is off the line of all the others, s."""

    place: int
    off: float


def outliers(points, errors):
    """The Outliers of (time, offset) readings with standard uncertainties `errors`, s.

    Each is held against the line through all others, under its own uncertainty and that line's where it was read
    (leave-one-out, deleted residuals as in any textbook). The chance is divided among the readings (Bonferroni).
    """
    if len(points) < FEWEST:
        return []
    marked = []
    for place, (time, offset) in enumerate(points):
        others = fit_rate(_without(points, place), _without(errors, place))
        if others is None:
            continue
        off = offset - others.offset_at(time)
        surprise = abs(off) / hypot(others.scale * errors[place], others.error_at(time))
        if _chance_beyond(surprise, others.freedom) * len(points) < IMPROBABLE:
            marked.append(Outlier(place, off))
    return marked


def _without(items, place):
    return [*items[:place], *items[place + 1 :]]


def _chance_beyond(t, freedom):
    return 2 * NormalDist().cdf(-t) if freedom == inf else 1 - central_probability(t, freedom)
