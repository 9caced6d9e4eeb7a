"""The numbers that the section is drawn by: depths and radii, None where not measured."""

from collections.abc import Collection
from typing import Any, TypeAlias

from parts.fit.answer.report import Report
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.levels import widths

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
        sheet, self.is_front = p.sheet, case.is_front_loaded
        self.is_ledge = sheet.is_movement_standing and not self.is_front
        self.r_bore, self.r_seat = self._reach(widths.bore(sheet)), self._reach(widths.seat(sheet))
        self.r_opening, self.r_dial = self._reach(widths.opening(sheet)), self._reach(widths.dial(sheet))
        self.r_front = self._reach(widths.front(sheet)) if self.is_front else None
        self.indicated = self.r_seat is None and dial.own_case and self.r_opening is not None
        if self.indicated:
            self.r_seat = self.r_opening + _SEAT_BEYOND
        self.is_dial_indicated = self.r_dial is None and self.indicated
        if self.r_dial is None and dial.own_case:
            self.r_dial = self.r_seat
        self.r_hole = _half(dial.centre_hole_diameter)
        self.r_fit, self.r_overall = self._reach(widths.gripped(sheet)), self._reach(widths.movement(sheet))
        self.r_out: Measured = case.crown_seat_radius.value
        self.r_stem: Measured = movement.stem_reference_radius.value
        zero = self.zero = self._zero()
        sunk, rest = p.stack.sunk + zero, p.stack.dial_rest + zero
        self.front: Measured = sunk.value
        self.d_dial_back = _sum(sunk, dial.thickness)
        self.d_rest: Measured = rest.value
        self.d_back = _sum(rest, movement.back_height)
        self.d_stem = _sum(rest, movement.stem_axis_depth)
        self.d_case_back: Measured = zero if self.is_front else case.back_depth.value
        hole = case.floor_stem * -1.0 + zero if self.is_front else case.stem_axis_depth
        self.d_hole: Measured = hole.value
        self.r_edge = self.r_out or max(filter(None, (self.r_bore, self.r_dial, self.r_overall, 14.0))) + 1.2
        self.d_low = max(filter(None, (self.d_case_back, self.d_back, 4.0)))
        self.crystal = tuple(gap - zero for gap in case.crystal)
        gaps = [gap.value for gap in self.crystal if gap.known]
        self.d_high = -max(gaps, default=2.0)

    def _zero(self) -> float:
        """Where depth 0 lies over the floor of a case loaded from the front: at its ring, else at the dial's face."""
        if not self.is_front:
            return 0.0
        ring, sunk = self.p.case.floor_ring, self.p.stack.sunk
        return ring.value if ring.known else -sunk.value if sunk.known else 4.0

    def _reach(self, edge: widths.Edge) -> Measured:
        """How far an edge reaches where the section is cut: along the stem."""
        if edge.outline is None:
            return _half(edge.diameter)
        angle = self.p.case.stem_angle
        reach = widths.in_direction(edge, angle if angle.known else Quantity(90.0)).value
        return reach.value if reach.known else None

    def depth_above_rest(self, quantity: Quantity) -> Measured:
        """Depth of a height above the dial rest; None where either is not known."""
        return self.d_rest - quantity.value if self.d_rest is not None and quantity.known else None


def _half(diameter: Quantity) -> Measured:
    return diameter.value / 2 if diameter.known else None


def _sum(a: Quantity, b: Quantity) -> Measured:
    return a.value + b.value if a.known and b.known else None
