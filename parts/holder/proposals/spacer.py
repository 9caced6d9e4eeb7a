"""A spacer as it is proposed: in the dial seat, behind the dial, or under a movement that stands in the case."""

from collections.abc import Mapping
from typing import Any

from parts.fit.arithmetic import outlines
from parts.fit.levels.widths import Edge
from parts.holder.edges import of_edge
from parts.holder.layers import even_layers
from parts.holder.parameters import FootNotch, Made
from parts.holder.process import THINNEST, line_width
from parts.holder.proposals.proposed import Measured, Proposed, made_as, of_edge_as, shape_in, true_to
from parts.holder.surroundings import Surroundings

FOOT_ROOM = 0.30
"""What a notch is wider than the dial foot in it, mm; common practice, no source."""


def propose(around: Surroundings, chosen: Mapping[str, Any], measured: Measured) -> dict[str, Proposed]:
    """Name to Proposed."""
    thickness = Proposed(None, "not known yet: the fit check cannot place the stem")
    if around.spacer is not None:
        thickness = Proposed(round(around.spacer, 3) or None, "the fit check's spacer")
        if not around.spacer:
            thickness = Proposed(None, "the fit check needs no spacer")
    if around.placement == "front":
        edges = of_edge_as("outside", around.seat, "the dial seat minus 0.05 mm all round", -0.05)
        edges |= of_edge_as("inside", around.opening, "the dial opening plus 0.05 mm all round", 0.05)
        notches = Proposed((), "no dial foot passes in front of the dial")
    else:
        edges = of_edge_as("outside", around.gripped, "the movement's fit diameter") | _behind(around)
        feet = tuple(
            FootNotch(angle, radius, round(diameter + FOOT_ROOM, 2), "dial foot")
            for angle, radius, diameter in (around.feet if around.placement == "rear" else ())
        )
        notches = Proposed(feet, f"each dial foot plus {FOOT_ROOM:.2f} mm" if feet else "no dial foot reaches it")
    made = _making(thickness.value, edges, chosen, measured) if thickness.value else {}
    return edges | {"thickness": thickness, "notches": notches} | made


def _making(
    thickness: float, edges: dict[str, Proposed], chosen: Mapping[str, Any], measured: Measured
) -> dict[str, Proposed]:
    """Layers that make a spacer's thickness exactly; another way where none do, or where its wall is too narrow."""
    outer, inner = shape_in(edges, "outside"), shape_in(edges, "inside")
    wall = float(outlines.clear(inner, outer)) if outer and inner else None
    even = even_layers(thickness, made_as(chosen, {}))
    process = Proposed("filament", "it has layers and a wall enough")
    if even is None:
        process = Proposed("turned", f"{thickness:.2f} mm is thinner than a printer's thinnest layer")
    elif wall is not None and wall < line_width(Made().nozzle):
        finer = "resin" if wall >= THINNEST["resin"][0] else "turned"
        process = Proposed(
            finer, f"a width of {wall:.2f} mm is narrower than one line of a {Made().nozzle:.1f} mm nozzle"
        )
    true = true_to(chosen.get("process") or process.value, measured)
    if even is None or process.value == "turned":
        return {"process": process} | true
    count, layer = even
    note = f"{count} even layer{'s' if count > 1 else ''} make {thickness:.2f} mm"
    layers = {name: Proposed(round(layer, 6), note) for name in ("layer", "first_layer")}
    return {"process": process} | true | layers


def _behind(around: Surroundings) -> dict[str, Proposed]:
    gap = around.rules.pad_disc_gap
    if around.disc_outer is not None and around.placement == "rear":
        disc = Edge(around.disc_outer * 2, None)
        return of_edge_as("inside", disc, f"the date disc plus {gap:.2f} mm all round", gap)
    shape = of_edge(around.gripped)
    rim = min(1.5, float(outlines.inner(shape)) / 3) if shape else 1.5
    return of_edge_as("inside", around.gripped, f"the fit diameter minus {2 * rim:.2f} mm", -rim)
