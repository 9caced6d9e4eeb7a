"""Polygons of a cut through the piece turned back into lines and arcs, for drawings that others measure and mill by."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, ceil, copysign, cos, degrees, hypot, radians, sin
from typing import TypeAlias

from parts.fit.arithmetic import outlines
from parts.holder.body import steps
from parts.holder.edges import SAGITTA, direction, grown
from parts.holder.mesh import GRID, Outline
from parts.holder.parameters import Piece
from parts.holder.shapes import Pin, Point, Prism, Strip, Turned

Circle: TypeAlias = tuple[float, float, float]
Edge: TypeAlias = tuple[Point, Point]
_FULL = 360.0
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

    @property
    def is_full(self) -> bool:
        """Whether it is the whole circle; a circle that a narrow gap breaks is none."""
        return abs(self.span) == _FULL

    def in_parts(self, most: float) -> Iterator[Arc]:
        """Arcs of equal span, none of more than `most` degrees; ends alone tell a short arc's centre well."""
        count = ceil(abs(self.span) / most)
        x, y = self.start[0] - self.centre[0], self.start[1] - self.centre[1]
        start = self.start
        for i in range(1, count + 1):
            turn = radians(self.span * i / count)
            turned = (x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn))
            end = self.end if i == count else (self.centre[0] + turned[0], self.centre[1] + turned[1])
            yield Arc(self.centre, self.radius, start, end, self.span / count)
            start = end


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
            case Prism(edge, levels):
                circles |= {circle: None for _, by in levels for circle in _corners(edge, by)}
    return list(circles)


def _corners(edge: outlines.Outline, by: float) -> Iterator[Circle]:
    """The circles that the edge's corners are parts of, or the whole of it where it is round."""
    moved = grown(edge, by) if edge.shape in ("round", "rectangle") else edge
    if moved.corner > 0:
        x, y = moved.width / 2 - moved.corner, moved.height / 2 - moved.corner
        yield from ((i * x, j * y, moved.corner) for i in (1, -1) for j in (1, -1))


def trace(polygon: Outline, circles: list[Circle]) -> list[Line | Arc]:
    """A closed polygon as Lines and Arcs, in its order: each begins where the last one ends, arcs on their circles."""
    points = [(float(x), float(y)) for x, y in polygon]
    edges = list(pairwise([*points, points[0]]))
    runs: list[tuple[Circle | None, list[Edge]]] = []
    for edge in edges:
        circle = _circle_of(edge, circles)
        if runs and runs[-1][0] == circle and (circle is not None or _goes_on(runs[-1][1], edge)):
            runs[-1][1].append(edge)
        else:
            runs.append((circle, [edge]))
    if len(runs) == 1 and runs[0][0] is not None:
        return [_full(runs[0][0], edges)]
    if len(runs) > 1 and runs[0][0] == runs[-1][0] and (runs[0][0] is not None or _goes_on(runs[-1][1], edges[0])):
        runs[0] = (runs[0][0], runs.pop()[1] + runs[0][1])
    corners = [_corner(run[0][0], runs[i - 1][0], circle) for i, (circle, run) in enumerate(runs)]
    ends = [*corners[1:], corners[0]]
    return [
        Line(start, end) if circle is None else Arc(circle[:2], circle[2], start, end, _span(circle, start, run, end))
        for (circle, run), start, end in zip(runs, corners, ends, strict=True)
    ]


def _circle_of(edge: Edge, circles: list[Circle]) -> Circle | None:
    (x1, y1), (x2, y2) = edge
    for x, y, radius in circles:
        near = abs(hypot(x1 - x, y1 - y) - radius) < _OFF and abs(hypot(x2 - x, y2 - y) - radius) < _OFF
        if near and abs(hypot((x1 + x2) / 2 - x, (y1 + y2) / 2 - y) - radius) < 2 * _OFF:
            return x, y, radius
    return None


def _goes_on(run: list[Edge], edge: Edge) -> bool:
    """Whether an edge only carries on the straight line of a run; the mesh puts corners where its triangles meet."""
    (x1, y1), (x2, y2), (x3, y3) = run[0][0], run[-1][1], edge[1]
    long = hypot(x3 - x1, y3 - y1)
    ahead = (x2 - x1) * (x3 - x2) + (y2 - y1) * (y3 - y2) > 0
    return ahead and abs((x2 - x1) * (y3 - y1) - (y2 - y1) * (x3 - x1)) <= GRID * long


def _corner(point: Point, before: Circle | None, after: Circle | None) -> Point:
    """The corner moved onto the circles that meet there: onto one in a step, onto two by turns, which soon settles."""
    on = [circle for circle in (before, after) if circle is not None]
    for x, y, radius in on if len(on) == 1 else on * 16:
        far = hypot(point[0] - x, point[1] - y)
        point = (x + (point[0] - x) * radius / far, y + (point[1] - y) * radius / far)
    return point


def _full(circle: Circle, edges: list[Edge]) -> Arc:
    start = _corner(edges[0][0], None, circle)
    return Arc(circle[:2], circle[2], start, start, copysign(_FULL, _span(circle, start, edges, start)))


def _span(circle: Circle, start: Point, run: list[Edge], end: Point) -> float:
    """The angle, degrees, that a run of edges turns through about the circle's centre, between its moved ends."""
    x, y, _ = circle
    points = [start, *(edge[1] for edge in run[:-1]), end]
    span = 0.0
    for (x1, y1), (x2, y2) in pairwise(points):
        a, b = (x1 - x, y1 - y), (x2 - x, y2 - y)
        span += degrees(atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]))
    return span
