"""Cases with nearly the same dimensions: which of them could be the same case, as far as two measurements can tell."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf, isclose

from django.db.models import F, Q
from django.db.models.functions import Abs

from parts.dimensions.text import Reading, show_dimension
from parts.models import Case

NAMES = ("bore_diameter", "dial_seat_diameter", "stem_axis_depth", "back_depth")
"""The dimensions by which a movement's place in a case is settled."""
FAR = 3.0
"""Combined uncertainties up to which a case is listed as near."""
_LOOK = 0.10
"""mm up to which cases are listed whose dimensions have no uncertainty at all; common practice, no source."""
_MOST = 50


@dataclass(frozen=True, slots=True)
class Gap:
    """One dimension compared: both readings, mm; None where it is not measured."""

    name: str
    ours: Reading | None
    theirs: Reading | None

    @property
    def label(self):
        return Case.dimensions[self.name].label

    @property
    def compared(self):
        return self.ours is not None and self.theirs is not None

    @property
    def difference(self):
        """Theirs minus ours, mm; None where one is not measured."""
        return self.theirs.value - self.ours.value if self.compared else None

    @property
    def units(self):
        """The difference in units of the combined uncertainty; None where one is not measured. See `nearness`."""
        return nearness(self.ours, self.theirs) if self.compared else None

    @property
    def ours_shown(self):
        return show_dimension(self.ours.value, self.ours.plus_minus) if self.ours else ""

    @property
    def theirs_shown(self):
        return show_dimension(self.theirs.value, self.theirs.plus_minus) if self.theirs else ""

    @property
    def difference_shown(self):
        return f"{self.difference:+.2f} mm" if round(self.difference, 2) else "0.00 mm"


@dataclass(frozen=True, slots=True)
class Near:
    """A case beside the dimensions that were asked for."""

    case: Case
    gaps: tuple

    @property
    def compared(self):
        """How many of the four dimensions are measured on both."""
        return sum(gap.compared for gap in self.gaps)

    @property
    def units(self):
        """The farthest of the dimensions that are measured on both, in combined uncertainties."""
        return max(gap.units for gap in self.gaps if gap.compared)

    @property
    def within(self):
        """Whether every dimension measured on both agrees within its uncertainty."""
        return self.units <= 1

    @property
    def same(self):
        """Whether it is the same case as far as these measurements can tell: all four compared, all within."""
        return self.within and self.compared == len(NAMES)

    @property
    def unstated(self):
        """Whether it differs where neither measurement states an uncertainty, so that units cannot be said."""
        return self.units == inf

    @property
    def order(self):
        """Nearest first: agreeing ones before others, then by how many dimensions say so, then by distance."""
        total = sum(abs(gap.difference) for gap in self.gaps if gap.compared)
        return (not self.within, -self.compared, self.units, total, self.case.pk)


def nearness(ours, theirs):
    """How far two readings of one dimension lie apart: |a - b| / (ua + ub), without unit.

    A plus-minus is the half-width of an interval that holds the value for certain, not a standard deviation, so two
    readings of one and the same thing differ by at most the sum of both: up to 1 they can be the same, above they
    cannot. (A root of squares would call cases different that may well be one.) Where neither reading states an
    uncertainty, equal numbers are 0 apart, and of others nothing can be said in these units: infinity.
    """
    apart, room = abs(ours.value - theirs.value), ours.plus_minus + theirs.plus_minus
    if isclose(apart, room, rel_tol=0, abs_tol=1e-9):
        return 1.0 if room else 0.0
    return apart / room if room else inf


def readings_of(case):
    """The four dimensions of a case: name to Reading, None where it is not measured."""
    return {name: _reading(case, name) for name in NAMES}


def _reading(case, name):
    value, plus_minus, _ = Case.dimensions[name].of(case)
    return None if value is None else Reading(value, plus_minus)


def near(readings: Mapping[str, Reading | None], *, leave_out: int | None = None, most: int = _MOST) -> list[Near]:
    """The cases in the drawers near these readings (name to Reading or None), nearest first, in one query.

    Only dimensions measured on both are compared; a case that shares none is left out. `leave_out` is the primary key
    of the case that the readings come from.
    """
    known = {name: reading for name, reading in readings.items() if reading is not None}
    cases = Case.objects.in_drawers().select_related("family").exclude(pk=leave_out)
    shares = Q()
    for name, reading in known.items():
        reach = FAR * (F(f"{name}_pm") + reading.plus_minus) + 1e-9
        apart = {f"{name}_apart": Abs(F(name) - reading.value), f"{name}_reach": reach}
        close = Q(**{f"{name}_apart__lte": F(f"{name}_reach")})
        exact = Q(**{f"{name}_pm": 0, f"{name}_apart__lte": _LOOK}) if not reading.plus_minus else Q(pk=None)
        cases = cases.annotate(**apart).filter(Q(**{f"{name}__isnull": True}) | close | exact)
        shares |= Q(**{f"{name}__isnull": False})
    if not known:
        return []
    cases_near = [
        Near(case, tuple(Gap(name, readings.get(name), _reading(case, name)) for name in NAMES))
        for case in cases.filter(shares)
    ]
    return sorted(cases_near, key=lambda near: near.order)[:most]
