"""A proposed value with its note, and how one comes from a quantity or from an edge."""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import Any, TypeAlias

from parts.fit.arithmetic.outlines import Outline
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.levels.widths import Edge
from parts.fit.records import describe
from parts.holder.edges import grown, of_edge
from parts.holder.parameters import Made

AS_MADE = {
    "filament": {"plus_minus": 0.05, "heights_plus_minus": 0.10},
    "resin": {"plus_minus": 0.03, "heights_plus_minus": 0.05},
    "turned": {"plus_minus": 0.01, "heights_plus_minus": 0.02},
}
"""How true a width comes out, ± mm in diameter, and a height, where no test print says better; common practice."""


@dataclass(frozen=True, slots=True)
class Proposed:
    """A value, None where it cannot be told, and where it comes from."""

    value: Any
    note: str


Measured: TypeAlias = Mapping[str, Mapping[str, Proposed]]
"""What test prints say of each process: its ± by name."""


def true_to(process: str, measured: Measured) -> dict[str, Proposed]:
    """How true widths and heights come out, ± mm: as `measured` for this process, else as usual."""
    usual = {name: Proposed(off, "usual for this way of making") for name, off in AS_MADE[process].items()}
    return usual | dict(measured.get(process, {}))


def of_quantity(quantity: Quantity, note: str, change: float = 0.0) -> Proposed:
    if not quantity.known:
        return Proposed(None, _not_measured(quantity.missing))
    return Proposed(round(quantity.value + change, 3), note)


def of_edge_as(name: str, edge: Edge, note: str, by: float = 0.0) -> dict[str, Proposed]:
    """The diameter `name` and the outline in its place, from an edge and by how much it lies farther out all round."""
    shape = of_edge(edge)
    if shape is None:
        missing = [number for quantity in edge.numbers for number in quantity.missing]
        return {f"{name}_diameter": Proposed(None, _not_measured(missing))}
    return of_shape(name, grown(shape, by), note)


def of_shape(name: str, shape: Outline, note: str) -> dict[str, Proposed]:
    """The same from an outline as it is to be."""
    if shape.shape == "round":
        return {f"{name}_diameter": Proposed(round(float(shape.width), 3), note)}
    width, height, corner = (round(float(size), 3) for size in (shape.width, shape.height, shape.corner))
    rounded = shape._replace(width=width, height=height, corner=corner)
    instead = Proposed(0.0, "the outline stands in its place")
    return {f"{name}_diameter": instead, f"{name}_outline": Proposed(rounded, note)}


def shape_in(proposed: Mapping[str, Proposed], name: str) -> Outline | None:
    """The edge that was proposed under this name, None where none was."""
    if (instead := proposed.get(f"{name}_outline")) and instead.value:
        shape: Outline = instead.value
        return shape
    diameter = proposed.get(f"{name}_diameter")
    return Outline("round", diameter.value, diameter.value, diameter.value / 2) if diameter and diameter.value else None


def made_as(chosen: Mapping[str, Any], proposed: Mapping[str, Proposed]) -> Made:
    """How it is made: as chosen, else as proposed, else as usual."""
    names = [item.name for item in fields(Made)]
    suggested = {name: proposed[name].value for name in names if name in proposed}
    return replace(Made(), **suggested | {name: chosen[name] for name in names if chosen.get(name) is not None})


def _not_measured(missing: Any) -> str:
    return f"not measured yet: {', '.join(describe(name).phrase for name in missing)}"
