"""Plan and section as DXF in mm, closed outlines with arcs as arcs; plan from the dial side, section below it."""

import io
from math import radians, tan
from typing import Any

from parts.holder.body import nubs
from parts.holder.drawings.plan import plan_levels
from parts.holder.drawings.section import halves
from parts.holder.edges import direction, span_of
from parts.holder.findings.design import Design
from parts.holder.outline import Arc, Line, circles_of, trace
from parts.holder.parameters import Piece, Ring
from parts.holder.shapes import Point

_LAYERS = {"dial-side": (7, "CONTINUOUS"), "back": (8, "DASHED"), "stem-axis": (8, "DASHED"), "nubs": (4, "DASHED")}
_LAYERS |= {"section": (7, "CONTINUOUS"), "axis": (1, "CENTER"), "dimensions": (5, "CONTINUOUS")}
_MOST_SPAN = 180.0
"""Degrees of one bulge: readers agree on arcs up to a half circle."""


def dxf(design: Design, title: str) -> str:
    """The drawing's text. y points up, as drafting programs have it: 12 o'clock is at the top."""
    from ezdxf import units
    from ezdxf.filemanagement import new

    p = design.parameters
    doc = new("R2010", setup=True)
    doc.units = units.MM
    doc.header["$MEASUREMENT"] = 1
    for name, (colour, linetype) in _LAYERS.items():
        doc.layers.add(name, color=colour, linetype=linetype)
    space = doc.modelspace()
    circles = circles_of(p)
    for name, outlines in plan_levels(design):
        for ring in outlines:
            _draw(space, trace(ring, circles), name)
    for pin in nubs(p) if isinstance(p, Ring) else ():
        x, y = direction(pin.angle)
        middle = (x * pin.radius, -y * pin.radius)
        space.add_circle(middle, pin.diameter / 2, dxfattribs={"layer": "nubs"})
    outer = p.reach
    below = -2 * outer - p.top
    for side, rings in halves(design):
        for ring in rings:
            corners = [(side * x, below - y) for x, y in ring]
            space.add_lwpolyline(corners, close=True, dxfattribs={"layer": "section"})
    _dimensions(space, p, outer, below)
    space.add_text(title, height=1.0, dxfattribs={"layer": "dimensions"}).set_placement((-outer, outer + 2.0))
    out = io.StringIO()
    doc.write(out)
    return out.getvalue()


def _draw(space: Any, pieces: list[Line | Arc], layer: str) -> None:
    """A full circle, or one closed polyline whose arcs are bulges: no gap where a piece meets the next."""
    look = {"layer": layer}
    first = pieces[0]
    if isinstance(first, Arc) and first.is_full:
        space.add_circle(_up(first.centre), first.radius, dxfattribs=look)
        return
    corners = []
    for piece in pieces:
        for part in piece.in_parts(_MOST_SPAN) if isinstance(piece, Arc) else (piece,):
            bulge = -tan(radians(part.span) / 4) if isinstance(part, Arc) else 0.0
            corners.append((*_up(part.start), bulge))
    space.add_lwpolyline(corners, format="xyb", close=True, dxfattribs=look)


def _up(point: Point) -> Point:
    return point[0], -point[1]


def _dimensions(space: Any, p: Piece, outer: float, below: float) -> None:
    look = {"layer": "dimensions"}
    for i, size in enumerate((span_of(p.inner), span_of(p.outer))):
        base = (0, -outer - 2.0 - 2.5 * i)
        space.add_linear_dim(base, (-size / 2, 0), (size / 2, 0), override=_STYLE, dxfattribs=look).render()
    sides = {"p1": (-outer, below), "p2": (-outer, below - p.height)}
    space.add_linear_dim((-outer - 3.0, below), angle=90, override=_STYLE, dxfattribs=look, **sides).render()
    for ends in (((-outer * 1.05, 0), (outer * 1.05, 0)), ((0, -outer * 1.05), (0, outer * 1.05))):
        space.add_line(*ends, dxfattribs={"layer": "axis"})


_STYLE = {"dimtxt": 0.8, "dimasz": 0.6, "dimexe": 0.3, "dimexo": 0.2, "dimdec": 2, "dimlfac": 1, "dimscale": 1}
