"""Dimensions to steps of building: what is turned, added and cut, in order; and the closed form of the volume."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from math import pi, sqrt

from parts.holder.parameters import FootNotch, Piece, Ring, Spacer
from parts.holder.shapes import Bore, Pin, Point, Step, Strip, Turned

BEYOND = 1.0
"""How far a cut reaches past the face that it opens, mm."""
HAIR = 0.002
"""Nearer than this a round counts as touching a face, mm."""
ROOT = 0.2
"""How deep a nub is rooted in the ring, mm."""
OPEN_WEB = 0.5
"""A foot's notch nearer to an edge than this, mm, opens into it: what stood between would break. Common practice."""


def steps(parameters: Piece) -> list[Step]:
    """The steps that build the piece."""
    return [step for _, step in named_steps(parameters)]


def named_steps(parameters: Piece) -> list[tuple[str, Step]]:
    """The same, each with the name of the dimension that it belongs to first."""
    return list(_ring(parameters) if isinstance(parameters, Ring) else _spacer(parameters))


def profile(ring: Ring) -> tuple[Point, ...]:
    """The ring's section as (radius, z) corners, from the dial side outwards and back along the inside."""
    c, h = ring.chamfer, ring.height
    outer, inner = ring.outside_diameter / 2, ring.inside_diameter / 2
    front_outer, front_inner = (size / 2 for size in ring.dial_side)
    corners = [(front_inner + c, 0.0), (front_outer - c, 0.0), (front_outer, c)]
    if ring.nose_diameter:
        corners += [(front_outer, ring.nose_height), (outer, ring.nose_height)]
    corners += [(outer, h - c), (outer - c, h), (inner + c, h), (inner, h - c)]
    if ring.flange_diameter:
        corners += [(inner, ring.flange_depth), (front_inner, ring.flange_depth)]
    corners.append((front_inner, c))
    return tuple(dict.fromkeys(corners))


def channel(ring: Ring) -> Iterator[Bore | Strip]:
    """The solids that are cut away for the stem."""
    inner, outer = ring.inside_diameter / 4, ring.outside_diameter / 2 + BEYOND
    yield Bore(ring.channel_angle, _bore_width(ring), ring.channel_axis, inner, outer)
    if ring.channel_open == "dial" and ring.channel_axis > 0:
        yield Strip(ring.channel_angle, ring.channel_width, inner, outer, -BEYOND, ring.channel_axis)
    if ring.channel_open == "back" and ring.channel_axis < ring.height:
        yield Strip(ring.channel_angle, ring.channel_width, inner, outer, ring.channel_axis, ring.height + BEYOND)


def _bore_width(ring: Ring) -> float:
    """The channel's width; a hair more where its round would only just touch a face and leave an edge without body."""
    half = ring.channel_width / 2
    touches = min(abs(ring.channel_axis - half), abs(ring.height - ring.channel_axis - half)) < HAIR
    return ring.channel_width + 4 * HAIR if touches else ring.channel_width


def nubs(ring: Ring, root: float = ROOT) -> Iterator[Pin]:
    """The nubs on the ring's back, evenly spaced in the middle of its land; a hair narrower than a land they fill."""
    count = int(ring.nub_count)
    middle = (ring.outside_diameter + ring.inside_diameter) / 4
    land = (ring.outside_diameter - ring.inside_diameter) / 2
    touches = abs(ring.nub_diameter - land) < HAIR
    across = ring.nub_diameter - 4 * HAIR if touches else ring.nub_diameter
    low = ring.height - min(root, ring.height / 2)
    for i in range(count if ring.nub_height else 0):
        yield Pin(ring.nub_angle + 360 * i / count, middle, across, low, ring.top)


def _ring(ring: Ring) -> Iterator[tuple[str, Step]]:
    inner, outer, h = ring.inside_diameter / 2, ring.outside_diameter / 2, ring.height
    yield "outside_diameter", Step.adding(Turned(profile(ring)))
    root = (max(ring.dial_side[1] / 2, inner) + min(ring.dial_side[0] / 2, outer)) / 2
    for key in ring.keys:
        ends = (inner + key.depth, root) if key.depth < 0 else (root, outer + key.depth)
        yield "keys", Step.adding(Strip(key.angle, key.width, *ends, key.low, key.high))
    for cut in ring.cutouts:
        low = cut.low if cut.low > 0 else -BEYOND
        high = cut.high if cut.high < h else h + BEYOND
        yield "cutouts", Step.removing(Strip(cut.angle, cut.width, inner / 2, inner + cut.depth, low, high))
    yield from (("channel_width", Step.removing(solid)) for solid in channel(ring))
    if ring.notch_width:
        floor, low = outer - ring.notch_depth, h - ring.notch_height
        yield (
            "notch_depth",
            Step.removing(Strip(ring.notch_angle, ring.notch_width, floor, outer + BEYOND, low, h + BEYOND)),
        )
        if ring.lip:
            under = (low, h - ring.notch_height / 2)
            yield (
                "lip",
                Step.removing(Strip(ring.notch_angle, ring.notch_width, floor - ring.lip, outer + BEYOND, *under)),
            )
    yield from (("nub_count", Step.adding(pin)) for pin in nubs(ring))


def _spacer(spacer: Spacer) -> Iterator[tuple[str, Step]]:
    inner, outer, h = spacer.inside_diameter / 2, spacer.outside_diameter / 2, spacer.thickness
    yield "outside_diameter", Step.adding(Turned(((inner, 0.0), (outer, 0.0), (outer, h), (inner, h))))
    for notch in spacer.notches:
        yield "notches", Step.removing(Pin(notch.angle, notch.radius, notch.diameter, -BEYOND, h + BEYOND))
        if opening := notch_opening(spacer, notch):
            yield "notches", Step.removing(Strip(notch.angle, notch.diameter, *opening, -BEYOND, h + BEYOND))
    if spacer.split_width:
        ends = (inner / 2, outer + BEYOND)
        yield "split_width", Step.removing(Strip(spacer.split_angle, spacer.split_width, *ends, -BEYOND, h + BEYOND))


def notch_opening(spacer: Spacer, notch: FootNotch) -> Point | None:
    """The radii between which a notch opens into the nearer edge; None where it stays a hole or misses the washer."""
    inner, outer, half = spacer.inside_diameter / 2, spacer.outside_diameter / 2, notch.diameter / 2
    webs = notch.radius - half - inner, outer - notch.radius - half
    if notch.radius + half <= inner or notch.radius - half >= outer or min(webs) >= OPEN_WEB:
        return None
    return (max(0.0, inner - half), notch.radius) if webs[0] < webs[1] else (notch.radius, outer + half)


def exact_volume(parameters: Piece) -> float | None:
    """The volume, mm³, from closed forms of the area of every layer; None where features cut into each other.

    A layer of a turned piece is a ring, less the strip between two arcs that the channel or the split takes out of it.
    """
    turned, *others = (step.solid for step in steps(parameters))
    if not isinstance(turned, Turned):
        return None
    if not isinstance(parameters, Ring):
        strips = [solid for solid in others if isinstance(solid, Strip)]
        if len(strips) < len(others):
            return None
        return turned.volume - sum(_within(parameters, strip) for strip in strips)
    pins = list(nubs(parameters))
    if parameters.notch_width or parameters.cutouts or parameters.keys:
        return None
    if parameters.channel_open == "back" and pins:
        return None
    studs = sum(pi * pin.diameter**2 / 4 * parameters.nub_height for pin in pins)
    return turned.volume + studs - _channel_volume(parameters)


def _within(spacer: Spacer, strip: Strip) -> float:
    inner, outer = spacer.inside_diameter / 2, spacer.outside_diameter / 2
    return replace(strip, inner=inner, outer=outer).area * spacer.thickness


def _channel_volume(ring: Ring, panels: int = 64) -> float:
    """What the stem channel takes out of the turned ring: Simpson between the levels where it bends."""
    half, axis, h = ring.channel_width / 2, ring.channel_axis, ring.height
    corners = profile(ring)
    bends = {0.0, h, axis, axis - half, axis + half, *(z for _, z in corners)}
    levels = sorted(z for z in bends if 0 <= z <= h)
    total = 0.0
    for low, high in pairwise(levels):
        step = (high - low) / panels
        if step < 1e-9:
            continue
        for i in range(panels + 1):
            weight = 1 if i in (0, panels) else 4 if i % 2 else 2
            inside = min(max(low + i * step, low + 1e-9), high - 1e-9)
            total += weight * step / 3 * _channel_area(ring, corners, inside)
    return total


def _channel_area(ring: Ring, corners: tuple[Point, ...], z: float) -> float:
    beside = ring.channel_axis - z
    half = ring.channel_width / 2
    width = 2 * sqrt(max(0.0, half**2 - beside**2))
    if (ring.channel_open == "dial" and beside > 0) or (ring.channel_open == "back" and beside < 0):
        width = ring.channel_width
    inner, outer = _radii(corners, z)
    return Strip(0.0, width, inner, outer, 0.0, 0.0).area


def _radii(corners: tuple[Point, ...], z: float) -> Point:
    """Inner and outer radius of a profile at the height z, which is no corner's."""
    radii = []
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        if (a[1] - z) * (b[1] - z) < 0:
            radii.append(a[0] + (b[0] - a[0]) * (z - a[1]) / (b[1] - a[1]))
    return min(radii), max(radii)
