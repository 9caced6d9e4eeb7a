"""What stands round a holder or a spacer in the watch, taken from a fit report; heights count from the dial rest."""

from dataclasses import dataclass

from parts.fit.answer.report import Report
from parts.fit.arithmetic.quantities import Quantity, or_else
from parts.fit.bands import Verdict
from parts.fit.levels import widths
from parts.fit.levels.widths import Edge
from parts.fit.rules import Rules
from parts.holder.edges import of_edge


@dataclass(frozen=True, slots=True)
class Surroundings:
    """Quantities and edges of the report, unknown where not measured.

    `feet` are (angle, radius, diameter) of dial feet in mm. `back_room` is the room from the dial rest to the case
    back, or to the floor of a case loaded from the front. `built` says what the ring stands against: the dial on its
    "seat", a "ledge" of the case, or the case's "floor"; `ledge` is how far the dial rest lies in front of the ledge.
    `ring_on_dial` is what presses on the dial's edge from the front ("rehaut", "tension", "" for nothing), and
    `ring_fits` what the fit check says of that.
    """

    bore: Edge
    seat: Edge
    opening: Edge
    front: Edge
    gripped: Edge
    overall: Edge
    dial: Edge
    back_height: Quantity
    back_room: Quantity
    stem_axis: Quantity
    stem_thread: Quantity
    stem_angle: Quantity
    stub: Quantity | None
    tube_bore: Quantity
    dial_thickness: Quantity
    disc_outer: Quantity | None
    feet: tuple[tuple[float, float, float], ...]
    spacer: float | None
    placement: str
    built: str
    ledge: Quantity
    ring_on_dial: str
    ring_fits: Verdict | None
    pads_on_holder: bool
    rules: Rules


def surroundings(report: Report) -> Surroundings:
    """The Surroundings of a report's pairing, its spacer laid as the report lays it."""
    p = report.pairing
    case, dial, movement, joint = p.case, p.dial, p.movement, p.stem.joint
    feet = [(foot.angle, foot.radius, foot.diameter) for foot in dial.feet or ()]
    on_floor, on_ledge = case.is_front_loaded, p.stack.placement == "ledge"
    verdicts = {check.key: check.verdict for check in report.checks}
    return Surroundings(
        bore=_edge(widths.bore(p.sheet)),
        seat=_edge(widths.seat(p.sheet)),
        opening=_edge(widths.opening(p.sheet)),
        front=_edge(widths.front(p.sheet)),
        gripped=_edge(widths.gripped(p.sheet)),
        overall=_edge(widths.movement(p.sheet)),
        dial=_edge(widths.dial(p.sheet)),
        back_height=movement.back_height,
        back_room=p.stack.dial_rest * -1.0 if on_floor else case.back_depth - p.stack.dial_rest,
        stem_axis=movement.stem_axis_depth,
        stem_thread=movement.stem_thread if movement.stem_thread.known else or_else(p.stem.thread, p.stem.diameter),
        stem_angle=case.stem_angle,
        stub=movement.stem_reference_radius + joint.inner_length if joint else None,
        tube_bore=case.tube_bore_diameter,
        dial_thickness=dial.thickness,
        disc_outer=movement.date.disc_outer_radius if movement.date else None,
        feet=tuple((a.value, r.value, d.value) for a, r, d in feet if a.known and r.known and d.known),
        spacer=p.stack.thickness,
        placement=p.stack.placement,
        built="floor" if on_floor else "ledge" if on_ledge else "seat",
        ledge=p.stack.dial_rest * -1.0,
        ring_on_dial=case.ring or "" if on_floor else "",
        ring_fits=verdicts.get("ring-gap"),
        pads_on_holder=verdicts.get("pad-room") is Verdict.WORK,
        rules=p.rules,
    )


def _edge(edge: Edge) -> Edge:
    """The edge, as a diameter where its outline is a circle."""
    if edge.outline is not None and (shape := of_edge(edge)) and shape.shape == "round":
        return Edge(edge.outline.width, None)
    return edge
