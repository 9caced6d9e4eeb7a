"""What the section is made of: case, crystal, holder and spacer, movement, dial, stem and hands, each as markup.

Each takes the Section's numbers and leaves out what is not measured.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from parts.fit.drawings.svg import BRASS, GLASS, HAIR, INK, PAPER, PRINT, SILVER, STEEL, line, path, rect
from parts.fit.records import HANDS, fitted
from parts.fit.seating.crystal import FLAT, is_flat, sagitta, sphere_radius

if TYPE_CHECKING:
    from parts.fit.drawings.section_numbers import Measured, Section

_BROKEN = "0.35 0.2"
_GLASS_THICKNESS = 0.9
_HAND_SIDE = {"hour": -1, "minute": 1, "seconds": 1}
_HAND_INK = {"hour": "#274b66", "minute": "#33617f", "seconds": "#8c3b2e"}


def pieces_of(s: Section) -> Iterator[str]:
    """All pieces of a Section, those behind first."""
    yield from _case(s)
    yield from _crystal(s)
    yield from _holder_and_spacer(s)
    yield from _movement(s)
    yield from _dial(s)
    yield from _stem(s)
    yield from _hands(s)


def known(*values: float | None) -> bool:
    return all(value is not None for value in values)


def _case(s: Section) -> Iterator[str]:
    look = {"fill": STEEL, "stroke": INK, "stroke_width": 0.05, "class_": "case"}
    if known(s.r_bore, s.r_seat, s.r_opening, s.d_case_back):
        shoulder = s.d_dial_back if s.d_dial_back is not None else 0.5
        outer = max(s.r_edge, s.r_bore + 0.4)
        for side in (-1, 1):
            inner = [(s.r_opening, s.d_high), (s.r_opening, 0), (s.r_seat, 0), (s.r_seat, shoulder)]
            inner += [(s.r_bore, shoulder), (s.r_bore, s.d_case_back)]
            corners = [*inner, (outer, s.d_case_back), (outer, s.d_high * 0.6), (s.r_opening + 1.0, s.d_high)]
            steps = [step for i, (x, y) in enumerate(corners) for step in ("L" if i else "M", side * x, y)]
            yield path(*steps, "Z", stroke_dasharray=_BROKEN if s.indicated else None, **look)
    if s.d_case_back is not None:
        yield rect(
            -s.r_edge,
            s.d_case_back,
            s.r_edge,
            s.d_case_back + 0.8,
            fill=STEEL,
            stroke=HAIR,
            stroke_width=0.05,
            stroke_dasharray=_BROKEN,
        )
        yield line(-s.r_edge, s.d_case_back, s.r_edge, s.d_case_back, stroke=INK, stroke_width=0.1, class_="case-back")


def _crystal(s: Section) -> Iterator[str]:
    case = s.p.case
    if not case.crystal_gap_centre.known or s.r_opening is None:
        return
    centre, r = case.crystal_gap_centre.value, s.r_opening
    rise = 0.0
    if case.crystal_gap_edge.known and case.crystal_edge_radius.known:
        rise = centre - case.crystal_gap_edge.value
    there: tuple[str | float, ...]
    back: tuple[str | float, ...]
    edge, there, back = -centre, ("L",), ("L",)
    if not is_flat(case) and abs(rise) > FLAT:
        sphere, bulge = sphere_radius(abs(rise), case.crystal_edge_radius.value), rise > 0
        edge += sagitta(sphere, r) if bulge else -sagitta(sphere, r)
        there, back = (("A", sphere, sphere, "0 0", flag) for flag in (("1", "0") if bulge else ("0", "1")))
    outer = edge - _GLASS_THICKNESS
    body = ("M", -r, edge, *there, r, edge, "L", r, outer, *back, -r, outer, "Z")
    yield path(*body, fill=GLASS, stroke=HAIR, stroke_width=0.04, stroke_dasharray=_BROKEN)
    yield path("M", -r, edge, *there, r, edge, fill="none", stroke="#3c7d8c", stroke_width=0.09, class_="crystal")


def _dial(s: Section) -> Iterator[str]:
    if not known(s.front, s.d_dial_back, s.r_dial):
        return
    look = {"fill": SILVER, "stroke": INK, "stroke_width": 0.04, "stroke_dasharray": _BROKEN if s.indicated else None}
    hole = s.r_hole or 0.0
    for side in (-1, 1):
        yield rect(side * hole, s.front, side * s.r_dial, s.d_dial_back, class_="dial", **look)
        for item in s.p.dial.furniture:
            if item.inner_radius.known and item.outer_radius.known and item.height.known:
                inner, outer, height = item.inner_radius.value, item.outer_radius.value, item.height.value
                yield rect(side * inner, s.front - height, side * outer, s.front, class_="furniture", **look)


def _holder_and_spacer(s: Section) -> Iterator[str]:
    thin = {"stroke": INK, "stroke_width": 0.04}
    ring = _ring(s)
    wall: Measured = s.r_bore - s.p.rules.holder_clearance if s.r_bore is not None else None
    for side in (-1, 1):
        if known(s.r_fit, wall, s.d_rest, s.d_case_back) and wall > s.r_fit:
            bottom = s.d_case_back - 0.1
            yield rect(side * s.r_fit, s.d_rest, side * wall, bottom, fill=PRINT, class_="holder", **thin)
        if ring and s.p.stack.thickness:
            inner, outer, above, below = ring
            yield rect(side * inner, above, side * outer, below, fill=BRASS, class_="spacer", **thin)


def _ring(s: Section) -> tuple[float, float, float, float] | None:
    """Inner and outer radius and both depths of the spacer; its width is only indicated."""
    if s.p.stack.placement == "front" and known(s.r_opening, s.r_seat, s.front):
        return s.r_opening, s.r_seat, 0.0, s.front
    if s.p.stack.placement == "rear" and known(s.r_fit, s.d_dial_back, s.d_rest):
        return s.r_fit - 1.5, s.r_fit, s.d_dial_back, s.d_rest
    return None


def _movement(s: Section) -> Iterator[str]:
    look = {"fill": "#dfe3d8", "stroke": INK, "stroke_width": 0.05}
    if known(s.r_overall, s.d_rest, s.d_back):
        flange = s.d_rest + 0.3 * (s.d_back - s.d_rest)
        yield rect(-s.r_overall, s.d_rest, s.r_overall, flange, class_="movement-flange", **look)
    if known(s.r_fit, s.d_rest, s.d_back):
        yield rect(-s.r_fit, s.d_rest, s.r_fit, s.d_back, class_="movement", **look)
    for name in HANDS:
        post = getattr(s.p.movement.posts, name)
        top = s.depth_above_rest(post.height)
        if known(top) and post.diameter.known:
            half = post.diameter.value / 2
            yield rect(
                -half, top, half, s.d_rest, fill=BRASS, stroke=INK, stroke_width=0.02, class_=f"post post-{name}"
            )


def _stem(s: Section) -> Iterator[str]:
    if s.d_hole is not None and known(s.r_bore):
        bore = s.p.case.tube_bore_diameter
        if bore.known:
            half = bore.value / 2
            yield rect(
                s.r_bore,
                s.d_hole - half,
                s.r_edge,
                s.d_hole + half,
                fill=PAPER,
                stroke=HAIR,
                stroke_width=0.04,
                class_="tube",
            )
    thread = s.p.movement.stem_thread
    if known(s.d_stem, s.r_stem) and thread.known:
        half, out = thread.value / 2, s.r_edge + 0.4
        yield rect(
            s.r_stem,
            s.d_stem - half,
            out,
            s.d_stem + half,
            fill="#b9c0c8",
            stroke=INK,
            stroke_width=0.04,
            class_="stem",
        )
        yield rect(
            s.r_edge + 0.1,
            s.d_stem - 1.3,
            s.r_edge + 2.6,
            s.d_stem + 1.3,
            fill=STEEL,
            fill_opacity=0.6,
            stroke=HAIR,
            stroke_width=0.05,
            stroke_dasharray=_BROKEN,
        )
    axis = {"stroke_width": 0.05, "stroke_dasharray": "0.9 0.2 0.2 0.2"}
    if s.d_hole is not None:
        yield line(s.r_edge - 4.5, s.d_hole, s.r_edge + 3.2, s.d_hole, stroke="#0b5566", class_="axis-case", **axis)
    if known(s.d_stem, s.r_stem):
        yield line(s.r_stem - 2.0, s.d_stem, s.r_edge + 3.2, s.d_stem, stroke="#a0221a", class_="axis-movement", **axis)


def _hands(s: Section) -> Iterator[str]:
    for name, hand in reversed(fitted(s.p.hands)):
        seat, side = s.p.seating.seats[name], _HAND_SIDE[name]
        top, hub = s.depth_above_rest(seat.top), s.depth_above_rest(seat.hub_bottom)
        blade = s.depth_above_rest(seat.blade_bottom)
        look = {"fill": _HAND_INK[name], "stroke": INK, "stroke_width": 0.02}
        if known(top, blade) and hand.length.known:
            tail = hand.tail.value if hand.tail.known else 0.0
            yield rect(-side * tail, top, side * hand.length.value, blade, class_=f"hand hand-{name}", **look)
        if known(top, hub) and hand.hub_diameter.known:
            half = hand.hub_diameter.value / 2
            yield rect(-half, top, half, hub, class_=f"hub hub-{name}", **look)
