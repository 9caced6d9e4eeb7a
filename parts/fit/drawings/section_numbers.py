"""The numbers that the section is drawn by: depths and radii, None where not measured."""

from collections.abc import Collection
from typing import Any, TypeAlias

from parts.fit.answer.report import Report
from parts.fit.arithmetic.quantities import Quantity

Measured: TypeAlias = float | Any
"""A number, or None where it is not measured: `known` asks that of several at once, which no type can follow."""


_SEAT_BEYOND = 0.6
"""How far a dial seat that was not measured is drawn beyond the opening, mm; common practice, no source."""


class Section:
    """The numbers of the section, None where not measured; `d_` are depths, `r_` radii.

    A dial in its own case needs no seat and no diameter: both are `indicated` then. `staying` names the hands that stay
    with the watch.
    """

    def __init__(self, report: Report, staying: Collection[str] = ()) -> None:
        p = self.p = report.pairing
        self.report, self.staying = report, staying
        case, dial, movement = p.case, p.dial, p.movement
        self.r_bore, self.r_seat = _half(case.bore_diameter), _half(case.dial_seat_diameter)
        self.r_opening, self.r_dial = _half(case.dial_opening_diameter), _half(dial.diameter)
        self.indicated = self.r_seat is None and dial.own_case and self.r_opening is not None
        if self.indicated:
            self.r_seat = self.r_opening + _SEAT_BEYOND
        if self.r_dial is None and dial.own_case:
            self.r_dial = self.r_seat
        self.r_hole = _half(dial.centre_hole_diameter)
        self.r_fit, self.r_overall = _half(movement.fit_diameter), _half(movement.overall_diameter)
        self.r_out: Measured = case.crown_seat_radius.value
        self.r_stem: Measured = movement.stem_reference_radius.value
        self.front: Measured = p.stack.front.value
        self.d_dial_back = _sum(p.stack.front, dial.thickness)
        self.d_rest: Measured = p.stack.dial_rest.value
        self.d_back = _sum(p.stack.dial_rest, movement.back_height)
        self.d_stem = _sum(p.stack.dial_rest, movement.stem_axis_depth)
        self.d_case_back: Measured = case.back_depth.value
        self.d_hole: Measured = case.stem_axis_depth.value
        self.r_edge = self.r_out or max(filter(None, (self.r_bore, self.r_dial, self.r_overall, 14.0))) + 1.2
        self.d_low = max(filter(None, (self.d_case_back, self.d_back, 4.0)))
        gaps = [gap.value for gap in (case.crystal_gap_centre, case.crystal_gap_edge) if gap.known]
        self.d_high = -max(gaps, default=2.0)

    def depth_above_rest(self, quantity: Quantity) -> Measured:
        """Depth of a height above the dial rest; None where either is not known."""
        return self.d_rest - quantity.value if self.d_rest is not None and quantity.known else None


def _half(diameter: Quantity) -> Measured:
    return diameter.value / 2 if diameter.known else None


def _sum(a: Quantity, b: Quantity) -> Measured:
    return a.value + b.value if a.known and b.known else None
