"""What stands round a piece in the watch, each between two depths below the dial rest, mm."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from parts.fit.arithmetic.outlines import Outline
from parts.holder.edges import of_edge, polygon
from parts.holder.parameters import Piece, Ring
from parts.holder.surroundings import Surroundings

_MOST = 96
"""Corners of an outline that is only indicated."""


@dataclass(frozen=True, slots=True)
class Standing:
    """One of them: "movement", "dial" or "bore"."""

    name: str
    edge: Outline
    near: float
    far: float


def base_of(p: Piece, around: Surroundings | None) -> float:
    """Depth of the piece's dial side below the dial rest, or of a front spacer below the dial's back."""
    if isinstance(p, Ring):
        return p.start
    if around is not None and around.placement in ("floor", "ledge") and around.back_room.known:
        return around.back_room.value - p.height
    if around is None or around.placement != "front" or not around.dial_thickness.known:
        return -p.height
    return -p.height - around.dial_thickness.value


def stands_round(p: Piece, around: Surroundings) -> Iterator[Standing]:
    """Movement, dial and bore, as far as they were measured."""
    rear = not isinstance(p, Ring) and around.placement == "rear"
    lift = p.height if rear else 0.0
    movement, dial, bore = (of_edge(edge) for edge in (around.gripped, around.dial, around.bore))
    if movement and around.back_height.known:
        yield Standing("movement", movement, 0.0, around.back_height.value)
    if dial and around.dial_thickness.known:
        yield Standing("dial", dial, -lift - around.dial_thickness.value, -lift)
    if bore and around.back_room.known:
        from_depth = around.ledge.value if around.built == "ledge" and around.ledge.known else 0.0
        yield Standing("bore", bore, from_depth, around.back_room.value)


def ghosts(p: Piece, around: Surroundings) -> list[dict[str, Any]]:
    """The same for the 3D view, in the body's frame: name, corners (x, y), and the heights that they stand at."""
    base = base_of(p, around)
    indicated = []
    for standing in stands_round(p, around):
        corners = polygon(standing.edge)
        few = corners[:: max(1, len(corners) // _MOST)]
        points = [[round(float(x), 2), round(float(y), 2)] for x, y in few]
        heights = [round(depth - base, 3) for depth in (standing.near, standing.far)]
        indicated.append({"name": standing.name, "points": points, "heights": heights})
    return indicated
