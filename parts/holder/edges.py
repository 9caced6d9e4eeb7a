"""The edges of a piece as outlines: circles and what stands in their place, grown, measured and cut into facets.

An outline has y towards 12 o'clock, as the fit check has it (`parts/fit/arithmetic/outlines.py`); polygons and points
here have the bodies' frame, y towards 6 o'clock. Angles in degrees clockwise from 12 o'clock, lengths in mm.
"""

from math import acos, ceil, cos, pi, radians, sin
from typing import Any, TypeAlias

import numpy as np
from manifold3d import CrossSection, FillRule, JoinType
from numpy.typing import NDArray

from parts.fit.arithmetic import outlines, polyline
from parts.fit.arithmetic.outlines import Outline
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.levels.widths import Edge
from parts.fit.records.outline import SHAPES
from parts.fit.records.outline import Outline as Measured

Polygon: TypeAlias = NDArray[Any]
"""A polygon as rows of (x, y)."""
SAGITTA = 0.001
"""Most that a facet leaves its arc by, mm."""


def facets(radius: float) -> int:
    """Number of facets of a full circle that keeps SAGITTA, a multiple of four."""
    if radius <= SAGITTA:
        return 8
    return max(24, 4 * ceil(pi / acos(1 - SAGITTA / radius) / 4))


def plain(outline: Outline) -> Outline:
    """The outline; an oval or a rounded square that is a circle as that circle."""
    across = outline.width
    as_round = outline.shape == "oval" or (outline.shape == "rectangle" and across == 2 * outline.corner)
    return outlines.circle(across) if as_round and across == outline.height else outline


def grown(outline: Outline, by: float) -> Outline:
    """The outline with its edge farther out by so much all round, farther in below zero; no points where none is left.

    An oval stays one: its edge is off by less than 0.003 mm for a clearance of 0.10 mm.
    """
    if outline.shape == "polyline":
        area = CrossSection([np.asarray(outline.points)], FillRule.NonZero)
        grown_area = area.offset(by, JoinType.Round, 2.0, facets(abs(by)))
        rings = [np.asarray(ring) for ring in grown_area.to_polygons()]
        widest = max(rings, key=lambda ring: float(np.ptp(ring[:, 0]) * np.ptp(ring[:, 1])), default=np.empty((0, 2)))
        return outline._replace(points=tuple((round(float(x), 6), round(float(y), 6)) for x, y in widest))
    corner = outline.width / 2 + by if outline.shape == "round" else max(0.0, outline.corner + by)
    return outline._replace(width=outline.width + 2 * by, height=outline.height + 2 * by, corner=corner)


def exists(outline: Outline) -> bool:
    """Whether anything is left of it."""
    if outline.shape == "polyline":
        return len(outline.points) > 2 and not polyline.prepared(outline.points).fault
    return bool(outline.width > 0 and outline.height > 0)


def polygon(outline: Outline) -> Polygon:
    """The outline's corners, its arcs in facets, running from x towards y."""
    return rings(outline, [0.0])[0]


def rings(outline: Outline, moved: list[float]) -> list[Polygon]:
    """The outline with its edge farther out by each of these, all of as many corners; the same one for none at all."""
    if not any(moved):
        return [_ring(outline, 0.0, 0.0)] * len(moved)
    return [_ring(outline, by, max(moved)) for by in moved]


def _ring(outline: Outline, by: float, most: float) -> Polygon:
    """One of them; arcs are cut as finely as where the edge lies out by `most`."""
    if outline.shape == "polyline":
        corners = np.asarray(outline.points, dtype=float) * (1.0, -1.0)
        return _mitred(corners if _twice_area(corners) > 0 else corners[::-1], by)
    moved = grown(outline, by)
    half_x, half_y = moved.width / 2, moved.height / 2
    if outline.shape == "rectangle":
        count = facets(outline.corner + most) // 4 if outline.corner + most > 0 else 0
        x, y = half_x - moved.corner, half_y - moved.corner
        turns = [quarter * pi / 2 + np.linspace(0, pi / 2, count + 1) for quarter in range(4)]
        middles = [(x, y), (-x, y), (-x, -y), (x, -y)]
        arcs = [
            np.column_stack([mx + moved.corner * np.cos(turn), my + moved.corner * np.sin(turn)])
            for (mx, my), turn in zip(middles, turns, strict=True)
        ]
        return np.concatenate(arcs)
    turn = np.arange(count := facets(max(outline.width, outline.height) / 2 + most)) * (2 * pi / count)
    return np.column_stack([half_x * np.cos(turn), half_y * np.sin(turn)])


def _mitred(corners: Polygon, by: float) -> Polygon:
    """Each side moved outwards by so much, and met with the next again; for small ways, or outwards."""
    if not by:
        return corners
    along = np.roll(corners, -1, axis=0) - corners
    outwards = np.column_stack([along[:, 1], -along[:, 0]]) / np.hypot(*along.T)[:, None]
    before = np.roll(outwards, 1, axis=0)
    together = before + outwards
    mitred: Polygon = corners + together * (2 * by / (together**2).sum(axis=1))[:, None]
    return mitred


def _twice_area(corners: Polygon) -> float:
    x, y = corners.T
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())


def is_convex(outline: Outline) -> bool:
    """Whether no corner of it stands inwards."""
    return outline.shape != "polyline" or not polyline.prepared(outline.points).inward


def radius_at(outline: Outline, angle: float) -> float:
    """Distance from the axis to the edge in a direction."""
    return float(outline.width / 2 if outline.shape == "round" else outlines.along_ray(outline, angle))


def depth_in(outline: Outline, x: float, y: float) -> float:
    """Distance of a point of the body's frame from the edge, positive inside."""
    return float(outlines.signed(outline, x, -y))


def direction(angle: float) -> tuple[float, float]:
    """The unit vector (x, y) of an angle, in the bodies' frame."""
    return sin(radians(angle)), -cos(radians(angle))


def land_at(inside: Outline, outside: Outline, angle: float) -> float:
    """Width of the wall at an angle: twice the distance of its middle from the nearer edge."""
    middle = (radius_at(inside, angle) + radius_at(outside, angle)) / 2
    x, y = direction(angle)
    place = x * middle, y * middle
    return 2 * min(depth_in(outside, *place), -depth_in(inside, *place))


def narrowest_land(inside: Outline, outside: Outline, middle: float, half: float) -> float:
    """Least width of the wall on a stretch of so many degrees to both sides of its middle."""
    return min(land_at(inside, outside, middle - half + half * i / 4) for i in range(9))


def apart(a: float, b: float) -> float:
    """How far two directions lie from each other, 0 to 180 degrees."""
    return abs((a - b + 180) % 360 - 180)


def as_edge(outline: Outline) -> Edge:
    """The outline as the fit check's widths take it."""
    if outline.shape == "round":
        return Edge(Quantity(float(outline.width)), None)
    names = [name for name in SHAPES[outline.shape] if name != "points"]
    sizes = {name: Quantity(float(getattr(outline, name))) for name in names}
    points = outline.points if outline.shape == "polyline" else None
    return Edge(Quantity(None, None, ("outline",)), Measured(outline.shape, **sizes, points=points))


def as_made(plus_minus: float) -> Quantity:
    """What a width may be off once it is made: nothing, with its ±."""
    return Quantity(0.0, {"width as made": plus_minus})


def height_as_made(plus_minus: float) -> Quantity:
    """The same of a height."""
    return Quantity(0.0, {"height as made": plus_minus})


def of_edge(edge: Edge) -> Outline | None:
    """A part's edge as it was measured; None where it is not. A circle that was given as an outline is one."""
    if not all(number.known for number in edge.numbers):
        return None
    return plain(edge.shape(tuple(number.value for number in edge.numbers)))


def in_words(outline: Outline) -> str:
    """Its size as a drawing states it, in mm."""
    if outline.shape == "round":
        return f"⌀{outline.width:.2f}"
    if outline.shape == "polyline":
        (left, low), (right, high) = np.min(outline.points, axis=0), np.max(outline.points, axis=0)
        return f"{right - left:.2f} × {high - low:.2f}"
    corner = f", corner {outline.corner:.2f}" if outline.corner else ""
    return f"{outline.width:.2f} × {outline.height:.2f}{corner}"


def span_of(outline: Outline) -> float:
    """Its whole width along 9 to 3 o'clock, mm; of points that of the farther side, twice."""
    if outline.shape == "polyline":
        return 2 * max(abs(x) for x, _ in outline.points)
    return float(outline.width)
