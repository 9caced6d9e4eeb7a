"""A part's edge from the front: a circle, or the outline that stands in its place."""

from __future__ import annotations

from parts.fit.drawings.svg import circle, el, polygon, rect
from parts.fit.levels.widths import Edge


def edge_svg(edge: Edge, **look: object) -> list[str]:
    """The edge about the hands' axis, x to 3 o'clock and y down to 6; empty where it is not measured."""
    if not all(quantity.known for quantity in edge.numbers):
        return []
    outline = edge.shape(tuple(quantity.value for quantity in edge.numbers))
    half_x, half_y = outline.width / 2, outline.height / 2
    if outline.shape == "round":
        return [circle(0, 0, half_x, **look)]
    if outline.shape == "polyline":
        return [polygon(*((x, -y) for x, y in outline.points), **look)]
    if outline.shape == "oval":
        return [el("ellipse", cx=0.0, cy=0.0, rx=float(half_x), ry=float(half_y), **look)]
    return [rect(-half_x, -half_y, half_x, half_y, rx=float(outline.corner), **look)]
