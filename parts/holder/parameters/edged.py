"""What pieces between two edges have in common: each edge a circle by its diameter, or an outline in its place."""

from typing import TYPE_CHECKING

from parts.fit.arithmetic import outlines
from parts.fit.arithmetic.outlines import Outline
from parts.holder.edges import plain
from parts.holder.parameters.kinds import refuse
from parts.holder.parameters.made import Made

INSTEAD = "in the place of its diameter"


class Edged(Made):
    """A piece between an outer and an inner edge."""

    __slots__ = ()
    if TYPE_CHECKING:
        outside_diameter: float
        inside_diameter: float
        outside_outline: Outline | None
        inside_outline: Outline | None

    @property
    def outer(self) -> Outline:
        """The edge towards the case."""
        return edge_of(self.outside_outline, self.outside_diameter)

    @property
    def inner(self) -> Outline:
        """The edge of its opening, round the movement."""
        return edge_of(self.inside_outline, self.inside_diameter)

    @property
    def wall(self) -> float:
        """Thickness of the wall at its narrowest."""
        return float(outlines.clear(self.inner, self.outer))

    @property
    def reach(self) -> float:
        """Farthest point of its outer edge from the axis."""
        return float(outlines.outer(self.outer))

    def check_wall(self) -> None:
        """Refuse edges that are not there, and an inner one that stands out of the outer one."""
        for name in ("outside", "inside"):
            there = getattr(self, f"{name}_outline") or getattr(self, f"{name}_diameter") > 0
            refuse(self, f"{name}_diameter", there, "above 0, or an outline in its place")
        self.check_one_of("outside", "inside")
        refuse(self, self.name_of("inside"), self.wall > 0, self.below("inside", "outside"))

    def check_one_of(self, *edges: str) -> None:
        """Refuse a diameter beside the outline that stands in its place."""
        for edge in edges:
            both = getattr(self, f"{edge}_outline") and getattr(self, f"{edge}_diameter")
            refuse(self, f"{edge}_diameter", not both, "0 while an outline stands in its place")

    def name_of(self, edge: str) -> str:
        """The field that gives this edge: its outline, or its diameter."""
        return f"{edge}_outline" if getattr(self, f"{edge}_outline") else f"{edge}_diameter"

    def below(self, edge: str, other: str) -> str:
        """In words that one edge has to lie inside the other."""
        both_round = self.name_of(edge).endswith("diameter") and self.name_of(other).endswith("diameter")
        return f"below the {other} diameter" if both_round else f"inside the {other} outline, all round"


def edge_of(instead: Outline | None, diameter: float) -> Outline:
    """The outline, else the circle of that diameter."""
    return plain(instead) if instead else outlines.circle(diameter)
