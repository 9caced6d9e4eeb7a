"""Polygons of a cut through the piece turned back into lines and arcs, for drawings that others measure and mill by."""

from dataclasses import dataclass
from math import atan2, degrees, hypot

from parts.holder.body import steps
from parts.holder.mesh import SAGITTA
from parts.holder.shapes import Pin, Strip, Turned, direction

_OFF = 1.5 * SAGITTA
"""A corner as near as this to a circle of the design lies on it, mm."""


@dataclass(frozen=True, slots=True)
class Line:
    start: tuple
    end: tuple


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc about `centre`; `span` in degrees, above zero where it runs from x towards y, ±360 for a full circle."""

    centre: tuple
    radius: float
    start: tuple
    end: tuple
    span: float


def circles_of(parameters):
    """The upright cylinders of a design as (x, y, radius)."""
    found = {}
    for step in steps(parameters):
        match step.solid:
            case Turned(corners):
                found |= {(0.0, 0.0, radius): None for radius, _ in corners}
            case Strip(_, _, inner, outer):
                found |= {(0.0, 0.0, inner): None, (0.0, 0.0, outer): None}
            case Pin(angle, radius, diameter):
                x, y = direction(angle)
                found[(x * radius, y * radius, diameter / 2)] = None
    return list(found)


def trace(polygon, circles):
    """A closed polygon as Lines and Arcs, in its order."""
    points = [tuple(map(float, point)) for point in polygon]
    edges = list(zip(points, points[1:] + points[:1], strict=True))
    on = [_circle_of(edge, circles) for edge in edges]
    cut = next((i for i in range(len(on)) if on[i] != on[i - 1] or on[i] is None), None)
    if cut is None:
        return [_arc(circles[on[0]], edges)]
    edges, on = edges[cut:] + edges[:cut], on[cut:] + on[:cut]
    found, i = [], 0
    while i < len(edges):
        j = i + 1
        while on[i] is not None and j < len(edges) and on[j] == on[i]:
            j += 1
        found.append(Line(*edges[i]) if on[i] is None else _arc(circles[on[i]], edges[i:j]))
        i = j
    return found


def _circle_of(edge, circles):
    (x1, y1), (x2, y2) = edge
    for i, (x, y, radius) in enumerate(circles):
        near = abs(hypot(x1 - x, y1 - y) - radius) < _OFF and abs(hypot(x2 - x, y2 - y) - radius) < _OFF
        if near and abs(hypot((x1 + x2) / 2 - x, (y1 + y2) / 2 - y) - radius) < 2 * _OFF:
            return i
    return None


def _arc(circle, edges):
    x, y, radius = circle
    span = 0.0
    for (x1, y1), (x2, y2) in edges:
        a, b = (x1 - x, y1 - y), (x2 - x, y2 - y)
        span += degrees(atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]))
    return Arc((x, y), radius, edges[0][0], edges[-1][1], span)
