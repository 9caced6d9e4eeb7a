"""What stands round a holder or a spacer in the watch, taken from a fit report; heights count from the dial rest."""

from dataclasses import dataclass

from parts.fit.answer.report import Report
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import Verdict
from parts.fit.rules import Rules


@dataclass(frozen=True, slots=True)
class Surroundings:
    """Quantities of the report, unknown where not measured; `feet` are (angle, radius, diameter) of dial feet in mm."""

    bore: Quantity
    seat: Quantity
    opening: Quantity
    fit_diameter: Quantity
    overall_diameter: Quantity
    back_height: Quantity
    back_room: Quantity
    stem_axis: Quantity
    stem_thread: Quantity
    stem_angle: Quantity
    tube_bore: Quantity
    dial_diameter: Quantity
    dial_thickness: Quantity
    disc_outer: Quantity | None
    feet: tuple[tuple[float, float, float], ...]
    spacer: float | None
    placement: str
    pads_on_holder: bool
    rules: Rules


def surroundings(report: Report) -> Surroundings:
    """The Surroundings of a report's pairing, its spacer laid as the report lays it."""
    p = report.pairing
    case, dial, movement = p.case, p.dial, p.movement
    feet = [(foot.angle, foot.radius, foot.diameter) for foot in dial.feet or ()]
    return Surroundings(
        bore=case.bore_diameter,
        seat=case.dial_seat_diameter,
        opening=case.dial_opening_diameter,
        fit_diameter=movement.fit_diameter,
        overall_diameter=movement.overall_diameter,
        back_height=movement.back_height,
        back_room=case.back_depth - p.stack.dial_rest,
        stem_axis=movement.stem_axis_depth,
        stem_thread=movement.stem_thread,
        stem_angle=case.stem_angle,
        tube_bore=case.tube_bore_diameter,
        dial_diameter=dial.diameter,
        dial_thickness=dial.thickness,
        disc_outer=movement.date.disc_outer_radius if movement.date else None,
        feet=tuple((a.value, r.value, d.value) for a, r, d in feet if a.known and r.known and d.known),
        spacer=p.stack.thickness,
        placement=p.stack.placement,
        pads_on_holder=any(c.key == "pad-room" and c.verdict is Verdict.WORK for c in report.checks),
        rules=p.rules,
    )
