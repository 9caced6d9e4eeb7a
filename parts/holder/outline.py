"""Polygons of a cut through the piece turned back into lines and arcs, for drawings that others measure and mill by."""

from dataclasses import dataclass
from math import atan2, degrees, hypot
from typing import TypeAlias

from parts.holder.body import steps
from parts.holder.mesh import SAGITTA, Outline
from parts.holder.parameters import Piece
from parts.holder.shapes import Pin, Point, Strip, Turned, direction

Circle: TypeAlias = tuple[float, float, float]
Edge: TypeAlias = tuple[Point, Point]
_OFF = 1.5 * SAGITTA
"""A corner as near as this to a circle of the design lies on it, mm."""


@dataclass(frozen=True, slots=True)
class Line:
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc about `centre`; `span` in degrees, above zero where it runs from x towards y, ±360 for a full circle."""

    centre: Point
    radius: float
    start: Point
    end: Point
    span: float


def circles_of(parameters: Piece) -> list[Circle]:
    """The upright cylinders of a design as (x, y, radius)."""
    circles: dict[Circle, None] = {}
    for step in steps(parameters):
        match step.solid:
            case Turned(corners):
                circles |= {(0.0, 0.0, radius): None for radius, _ in corners}
            case Strip(_, _, inner, outer):
                circles |= {(0.0, 0.0, inner): None, (0.0, 0.0, outer): None}
            case Pin(angle, radius, diameter):
                x, y = direction(angle)
                circles[(x * radius, y * radius, diameter / 2)] = None
    return list(circles)


def trace(polygon: Outline, circles: list[Circle]) -> list[Line | Arc]:
    """A closed polygon as Lines and Arcs, in its order."""
    points = [(float(x), float(y)) for x, y in polygon]
    edges = list(zip(points, points[1:] + points[:1], strict=True))
    on = [_circle_of(edge, circles) for edge in edges]
    whole = on[0]
    if whole is not None and all(circle == whole for circle in on):
        return [_arc(whole, edges)]
    cut = next(i for i in range(len(on)) if on[i] != on[i - 1] or on[i] is None)
    edges, on = edges[cut:] + edges[:cut], on[cut:] + on[:cut]
    pieces: list[Line | Arc] = []
    i = 0
    while i < len(edges):
        circle, j = on[i], i + 1
        while circle is not None and j < len(edges) and on[j] == circle:
            j += 1
        pieces.append(Line(*edges[i]) if circle is None else _arc(circle, edges[i:j]))
        i = j
    return pieces


def _circle_of(edge: Edge, circles: list[Circle]) -> Circle | None:
    (x1, y1), (x2, y2) = edge
    for x, y, radius in circles:
        near = abs(hypot(x1 - x, y1 - y) - radius) < _OFF and abs(hypot(x2 - x, y2 - y) - radius) < _OFF
        if near and abs(hypot((x1 + x2) / 2 - x, (y1 + y2) / 2 - y) - radius) < 2 * _OFF:
            return x, y, radius
    return None


def _arc(circle: Circle, edges: list[Edge]) -> Arc:
    x, y, radius = circle
    span = 0.0
    for (x1, y1), (x2, y2) in edges:
        a, b = (x1 - x, y1 - y), (x2 - x, y2 - y)
        span += degrees(atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]))
    return Arc((x, y), radius, edges[0][0], edges[-1][1], span)
