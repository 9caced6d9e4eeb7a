"""What the section is made of: case, crystal, holder and spacer, movement, dial, stem and hands, each as markup.

Each takes the Section's numbers and leaves out what is not measured. Cut parts of the case are hatched one way, what is
made here the other; what is not measured is broken, where something stood without the spacer is dotted.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians
from typing import TYPE_CHECKING

from parts.fit.arithmetic.dome import FLAT, sagitta, sphere_radius
from parts.fit.arithmetic.quantities import or_else
from parts.fit.drawings.svg import hatched, line, path, polygon, rect
from parts.fit.levels.stack import stem_diameter
from parts.fit.records import HANDS, SMALL_HANDS, fitted
from parts.fit.seating.crystal import is_flat

if TYPE_CHECKING:
    from parts.fit.drawings.section_numbers import Measured, Section

_GLASS_THICKNESS, _PLATE = 0.9, 0.8
"""How thick crystal and case back are drawn, mm: neither is measured."""
_PITCH = 0.7
"""Between two hatch lines, mm."""


def pieces_of(s: Section) -> Iterator[str]:
    """All pieces of a Section, those behind first."""
    yield from _case(s)
    yield from _ring(s)
    yield from _crystal(s)
    yield from _holder_and_spacer(s)
    yield from _movement(s)
    yield from _without_spacer(s)
    yield from _dial(s)
    yield from _stem(s)
    yield from _hands(s)


def centre_pieces_of(s: Section) -> Iterator[str]:
    """What is seen of them at the centre."""
    yield from _crystal(s)
    yield from _movement(s)
    yield from _dial(s)
    yield from _hands(s)


def known(*values: float | None) -> bool:
    return all(value is not None for value in values)


def _box(left: float, top: float, right: float, bottom: float) -> list[tuple[float, float]]:
    return [(left, top), (right, top), (right, bottom), (left, bottom)]


def _case(s: Section) -> Iterator[str]:
    inside = _inside(s)
    if inside and known(s.d_case_back):
        outer = max(s.r_edge, s.r_bore + 0.4)
        for side in (-1, 1):
            inner = [*inside, (s.r_bore, s.d_case_back)]
            outside = [inner[-1], (outer, s.d_case_back), (outer, s.d_high * 0.6), (inside[0][0] + 1.0, s.d_high)]
            turned = [[(side * x, y) for x, y in corners] for corners in (inner, [*outside, inner[0]])]
            yield hatched([*turned[0], *turned[1][1:-1]], _PITCH, 1, class_="case")
            yield _open(turned[0], "edge unknown" if s.indicated else "edge")
            yield _open(turned[1], "unknown")
    if s.d_case_back is not None:
        plate = _box(-s.r_edge, s.d_case_back, s.r_edge, s.d_case_back + _PLATE)
        yield hatched(plate, _PITCH, 1, class_="case")
        yield _open([*plate[1:], plate[0]], "unknown")
        yield line(-s.r_edge, s.d_case_back, s.r_edge, s.d_case_back, class_="case-back")


def _inside(s: Section) -> list[tuple[float, float]]:
    """The case's inner wall from the crystal down to the bore, told by how it is built; empty where it is not known."""
    if s.is_front:
        front = s.r_front if s.r_front is not None else s.r_bore
        return [(front, s.d_high), (front, 0.0), (s.r_bore, 0.0)] if known(front, s.r_bore) else []
    if not known(s.r_bore, s.r_opening):
        return []
    top = _rim(s)
    if s.is_ledge:
        if not known(s.front, s.r_dial):
            return []
        wall, above = min(s.r_dial + 0.3, s.r_bore - 0.2), s.front - 0.1
        return [(s.r_opening, s.d_high), (s.r_opening, above), (wall, above), (wall, 0.0), (s.r_bore, 0.0)]
    if s.r_seat is None:
        return []
    shoulder = s.d_dial_back if s.d_dial_back is not None else 0.5
    return [*top, (s.r_opening, 0.0), (s.r_seat, 0.0), (s.r_seat, shoulder), (s.r_bore, shoulder)]


def _rim(s: Section) -> list[tuple[float, float]]:
    """The inner rim from its top down to the opening."""
    points = [(point.radius, point.height) for point in reversed(s.p.case.rim)]
    profile = [(radius.value, -height.value) for radius, height in points if radius.known and height.known]
    return [(profile[0][0], min(s.d_high, profile[0][1])), *profile] if profile else [(s.r_opening, s.d_high)]


def _ring(s: Section) -> Iterator[str]:
    """The rehaut or tension ring over the dial's edge in a case loaded from the front."""
    outer = s.r_front if s.r_front is not None else s.r_bore
    if s.is_front and known(s.r_opening, outer) and outer > s.r_opening:
        for side in (-1, 1):
            yield hatched(_box(side * s.r_opening, s.d_high * 0.6, side * outer, 0.0), _PITCH, -1, class_="case rehaut")


def _open(corners: list[tuple[float, float]], look: str) -> str:
    return path("M", *corners[0], *(step for x, y in corners[1:] for step in ("L", x, y)), class_=look)


def _crystal(s: Section) -> Iterator[str]:
    case = s.p.case
    middle, at_edge = s.crystal
    if not middle.known or s.r_opening is None:
        return
    centre, r = middle.value, s.r_opening
    rise = 0.0
    if at_edge.known and case.crystal_edge_radius.known:
        rise = centre - at_edge.value
    there: tuple[str | float, ...]
    back: tuple[str | float, ...]
    edge, there, back = -centre, ("L",), ("L",)
    if not is_flat(case) and abs(rise) > FLAT:
        sphere, bulge = sphere_radius(abs(rise), case.crystal_edge_radius.value), rise > 0
        edge += sagitta(sphere, r) if bulge else -sagitta(sphere, r)
        there, back = (("A", sphere, sphere, "0 0", flag) for flag in (("1", "0") if bulge else ("0", "1")))
    outer = edge - _GLASS_THICKNESS
    yield path("M", -r, edge, *there, r, edge, "L", r, outer, *back, -r, outer, "Z", class_="glass")
    yield path("M", -r, edge, *there, r, edge, class_="crystal")


def _dial(s: Section) -> Iterator[str]:
    if not known(s.front, s.d_dial_back, s.r_dial):
        return
    unknown = " unknown" if s.is_dial_indicated else ""
    hole = s.r_hole or 0.0
    for side in (-1, 1):
        yield _plate(s, side, hole, class_=f"dial{unknown}")
        for item in s.p.dial.furniture:
            if item.inner_radius.known and item.outer_radius.known and item.height.known:
                inner, outer, height = item.inner_radius.value, item.outer_radius.value, item.height.value
                face = s.front - _over_edge(s, inner)
                yield rect(side * inner, face - height, side * outer, face, class_="furniture")


_STEPS = 12
"""Into how many straight pieces half of a domed dial is drawn."""


def _over_edge(s: Section, radius: float) -> float:
    """How much higher than at its edge the dial lies at a radius."""
    rise = s.p.dial.rise
    if not rise.known or rise.value <= FLAT or not s.r_dial:
        return 0.0
    fallen: float = sagitta(sphere_radius(rise.value, s.r_dial), radius)
    return float(rise.value - fallen)


def _plate(s: Section, side: int, hole: float, **look: object) -> str:
    if _over_edge(s, 0.0) == 0.0:
        return rect(side * hole, s.front, side * s.r_dial, s.d_dial_back, **look)
    radii = [hole + (s.r_dial - hole) * i / _STEPS for i in range(_STEPS + 1)]
    face = [(side * r, s.front - _over_edge(s, r)) for r in radii]
    thick = s.d_dial_back - s.front
    return polygon(*face, *((x, y + thick) for x, y in reversed(face)), **look)


def _holder_and_spacer(s: Section) -> Iterator[str]:
    ring = ring_of(s)
    wall: Measured = s.r_bore - s.p.rules.holder_clearance if s.r_bore is not None else None
    for side in (-1, 1):
        if known(s.r_fit, wall, s.d_rest, s.d_case_back) and wall > s.r_fit:
            bottom, top = s.d_case_back - 0.1, s.d_rest
            if s.is_ledge:
                top = s.p.stack.thickness or 0.0
            yield hatched(_box(side * s.r_fit, top, side * wall, bottom), _PITCH, -1, class_="holder")
        if ring and s.p.stack.thickness:
            inner, outer, above, below = ring
            yield rect(side * inner, above, side * outer, below, class_="spacer")


def ring_of(s: Section) -> tuple[float, float, float, float] | None:
    """Inner and outer radius and both depths of the spacer; its width is only indicated."""
    if s.p.stack.placement == "front" and known(s.r_opening, s.r_seat, s.front):
        return s.r_opening, s.r_seat, 0.0, s.front
    if s.p.stack.placement == "rear" and known(s.r_fit, s.d_dial_back, s.d_rest):
        return s.r_fit - 1.5, s.r_fit, s.d_dial_back, s.d_rest
    if s.p.stack.placement == "floor" and known(s.r_fit, s.d_back, s.d_case_back):
        return s.r_fit - 2.5, s.r_fit, s.d_back, s.d_case_back
    if s.p.stack.placement == "ledge" and known(s.r_fit, s.r_bore) and s.p.stack.thickness:
        return min(s.r_fit, s.r_bore - 0.5), s.r_bore, 0.0, s.p.stack.thickness
    return None


def _movement(s: Section) -> Iterator[str]:
    if known(s.r_overall, s.d_rest, s.d_back):
        flange = s.d_rest + 0.3 * (s.d_back - s.d_rest)
        yield rect(-s.r_overall, s.d_rest, s.r_overall, flange, class_="movement-flange")
    if known(s.r_fit, s.d_rest, s.d_back):
        yield rect(-s.r_fit, s.d_rest, s.r_fit, s.d_back, class_="movement")
    for name in HANDS:
        post = getattr(s.p.movement.posts, name)
        top = s.depth_above_rest(post.height)
        if known(top) and post.diameter.known:
            half = post.diameter.value / 2
            yield rect(-half, top, half, s.d_rest, class_=f"post post-{name}")
    for small in s.p.movement.subsidiary:
        top = s.depth_above_rest(small.height)
        if known(top) and small.diameter.known and small.radius.known and small.angle.known:
            middle, half = small.radius.value * cos(radians(small.angle.value)), small.diameter.value / 2
            yield rect(middle - half, top, middle + half, s.d_rest, class_="post post-small")


def _small_hands(s: Section) -> Iterator[str]:
    """Each over its own post, to the right as well."""
    stays = " kept" if SMALL_HANDS in s.staying else ""
    for small in s.p.small.values():
        post, hand = small.post, small.hand
        if not (small.seat and hand and post.radius.known and post.angle.known and hand.length.known):
            continue
        seat = small.seat
        top, blade = s.depth_above_rest(seat.top), s.depth_above_rest(seat.blade_bottom)
        if known(top, blade):
            middle = post.radius.value * cos(radians(post.angle.value))
            tail = hand.tail.value if hand.tail.known else 0.0
            yield rect(middle - tail, top, middle + hand.length.value, blade, class_=f"hand hand-small{stays}")


def _without_spacer(s: Section) -> Iterator[str]:
    """Where the movement would lie."""
    if known(s.r_fit, s.d_rest, s.d_back) and s.p.stack.thickness:
        less = s.p.stack.thickness * (-1.0 if s.is_front else 1.0)
        yield rect(-s.r_fit, s.d_rest - less, s.r_fit, s.d_back - less, class_="before")


def _stem(s: Section) -> Iterator[str]:
    bore = s.p.case.tube_bore_diameter
    if s.d_hole is not None and known(s.r_bore) and bore.known:
        half = bore.value / 2
        yield rect(s.r_bore, s.d_hole - half, s.r_edge, s.d_hole + half, class_="tube")
    thick = or_else(s.p.movement.stem_thread, stem_diameter(s.p.sheet))
    if known(s.d_stem, s.r_stem):
        if thick.known:
            half, out = thick.value / 2, s.r_edge + 0.4
            yield rect(s.r_stem, s.d_stem - half, out, s.d_stem + half, class_="stem")
        yield rect(s.r_edge + 0.1, s.d_stem - 1.3, s.r_edge + 2.6, s.d_stem + 1.3, class_="crown unknown")
    if s.d_hole is not None:
        yield line(s.r_edge - 4.5, s.d_hole, s.r_edge + 3.2, s.d_hole, class_="axis-case")
    if known(s.d_stem, s.r_stem):
        yield line(s.r_stem - 2.0, s.d_stem, s.r_edge + 3.2, s.d_stem, class_="axis-movement")


def _hands(s: Section) -> Iterator[str]:
    """All hands lie to the right, over the date and under the crystal's edge, where it is tightest."""
    yield from _small_hands(s)
    for name, hand in reversed(fitted(s.p.hands)):
        seat = s.p.seating.seats[name]
        top, hub = s.depth_above_rest(seat.top), s.depth_above_rest(seat.hub_bottom)
        blade = s.depth_above_rest(seat.blade_bottom)
        staying = " kept" if name in s.staying else ""
        if known(top, blade) and hand.length.known:
            tail = hand.tail.value if hand.tail.known else 0.0
            look = f"hand hand-{name}{staying}"
            drop = hand.tip_drop.value if hand.tip_drop.known else 0.0
            if drop:
                long = hand.length.value
                upper = [(-tail, top), (long / 2, top), (long, top + drop)]
                yield polygon(*upper, *((x, y + blade - top) for x, y in reversed(upper)), class_=look)
            else:
                yield rect(-tail, top, hand.length.value, blade, class_=look)
        if known(top, hub) and hand.hub_diameter.known:
            half = hand.hub_diameter.value / 2
            yield rect(-half, top, half, hub, class_=f"hand hub-{name}{staying}")
