"""Dimensions to steps of building: what is turned, added and cut, in order."""

from collections.abc import Iterator
from dataclasses import replace
from math import degrees

from parts.fit.arithmetic import outlines
from parts.fit.arithmetic.outlines import Outline
from parts.holder.edges import grown, radius_at
from parts.holder.letters import engraving
from parts.holder.parameters import FootNotch, Piece, Ring, Spacer
from parts.holder.shapes import Bore, Pin, Point, Prism, Step, Strip, Turned

BEYOND = 1.0
"""How far a cut reaches past the face that it opens, mm."""
HAIR = 0.002
"""Nearer than this a round counts as touching a face, mm."""
ROOT = 0.2
"""How deep a nub is rooted in the ring, mm."""
SLIT = 0.2
"""Half a slit's width at a tongue's free end, and how far the nub stands from it, mm; common practice, no source."""
OPEN_WEB = 0.5
"""A foot's notch nearer to an edge than this, mm, opens into it: what stood between would break. Common practice."""
NO_WEB = 0.1
"""Where less than this, mm, is left on the other side as well, it opens into both. Common practice, no source."""


def steps(parameters: Piece) -> list[Step]:
    """The steps that build the piece."""
    return [step for _, step in named_steps(parameters)]


def named_steps(parameters: Piece) -> list[tuple[str, Step]]:
    """The same, each with the name of the dimension that it belongs to first."""
    return list(_ring(parameters) if isinstance(parameters, Ring) else _spacer(parameters))


def profile(ring: Ring) -> tuple[Point, ...]:
    """A round ring's section as (radius, z) corners, from the dial side outwards and back along the inside."""
    c, h = ring.chamfer, ring.height
    outer, inner, front_outer, front_inner = (
        edge.width / 2 for edge in (ring.outer, ring.inner, ring.front_outer, ring.front_inner)
    )
    corners = [(front_inner + c, 0.0), (front_outer - c, 0.0), (front_outer, c)]
    if ring.nose:
        corners += [(front_outer, ring.nose_height), (outer, ring.nose_height)]
    corners += [(outer, h - c), (outer - c, h)]
    if ring.has_full_lip:
        hole = inner - ring.lip_reach
        corners += [(hole, h), (hole, h - ring.lip_height), (inner, h - ring.lip_height)]
    else:
        corners += [(inner + c, h), (inner, h - c)]
    if ring.step:
        corners += [(inner, ring.flange_depth), (front_inner, ring.flange_depth)]
    corners.append((front_inner, c))
    return tuple(dict.fromkeys(corners))


def channel(ring: Ring) -> Iterator[Bore | Strip]:
    """The solids that are cut away for the stem."""
    inner, outer = radius_at(ring.inner, ring.channel_angle) / 2, ring.reach + BEYOND
    yield Bore(ring.channel_angle, _bore_width(ring), ring.channel_axis, inner, outer)
    if ring.channel_open in ("dial", "through") and ring.channel_axis > 0:
        yield Strip(ring.channel_angle, ring.channel_width, inner, outer, -BEYOND, ring.channel_axis)
    if ring.channel_open in ("back", "through") and ring.channel_axis < ring.height:
        yield Strip(ring.channel_angle, ring.channel_width, inner, outer, ring.channel_axis, ring.height + BEYOND)


def _bore_width(ring: Ring) -> float:
    """The channel's width; a hair more where its round would only just touch a face and leave an edge without body."""
    half = ring.channel_width / 2
    touches = min(abs(ring.channel_axis - half), abs(ring.height - ring.channel_axis - half)) < HAIR
    return ring.channel_width + 4 * HAIR if touches else ring.channel_width


def nubs(ring: Ring, root: float = ROOT) -> Iterator[Pin]:
    """The nubs on the ring's back, evenly spaced in the middle of its land; a hair narrower than a land they fill."""
    count = int(ring.nub_count)
    low = ring.height - min(root, ring.height / 2)
    for i in range(count if ring.nub_height else 0):
        angle = ring.nub_angle + 360 * i / count
        inner, outer = radius_at(ring.inner, angle), radius_at(ring.outer, angle)
        touches = abs(ring.nub_diameter - (outer - inner)) < HAIR
        across = ring.nub_diameter - 4 * HAIR if touches else ring.nub_diameter
        yield Pin(angle, (outer + inner) / 2, across, low, ring.top)


def tongues(ring: Ring) -> Iterator[Strip]:
    """What is cut away for each nub to stand on the end of a tongue: the gap below it, and the slit at its end."""
    if not ring.tongue_length:
        return
    high = ring.height - ring.tongue_thickness
    low = high - ring.tongue_gap
    for pin in nubs(ring):
        end = degrees((pin.diameter / 2 + SLIT) / pin.radius)
        back = degrees((ring.tongue_length / 2 - pin.diameter / 2) / pin.radius)
        inner, outer = pin.radius / 2, ring.reach + BEYOND
        yield Strip(pin.angle - back, ring.tongue_length, inner, outer, low, high)
        yield Strip(pin.angle + end, 2 * SLIT, inner, outer, low, ring.height + BEYOND)


def _blank(ring: Ring) -> Iterator[tuple[str, Step]]:
    """The ring before anything is cut into it: turned where it is round, else what is between its edges."""
    outside, inside = ring.name_of("outside"), ring.name_of("inside")
    if ring.is_round:
        yield outside, Step.adding(Turned(profile(ring)))
        return
    c, h = ring.chamfer, ring.height
    low = ring.nose_height if ring.nose else 0.0
    yield outside, Step.adding(_bevelled(ring.outer, low, h, 0.0 if ring.nose else -c, -c))
    if ring.nose:
        yield ring.name_of("nose"), Step.adding(_bevelled(ring.nose, 0.0, low, -c, 0.0))
    below = 0.0 if ring.step else c
    if ring.has_full_lip:
        yield inside, Step.removing(_opened(ring.inner, below, (h - ring.lip_height, 0.0)))
        hole = grown(ring.inner, -ring.lip_reach)
        yield "lip_reach", Step.removing(Prism(hole, ((-BEYOND, 0.0), (h + BEYOND, 0.0))))
    else:
        back = ((h - c, 0.0), (h + BEYOND, c + BEYOND)) if c else ((h + BEYOND, 0.0),)
        yield inside, Step.removing(_opened(ring.inner, below, *back))
    if ring.step:
        yield ring.name_of("flange"), Step.removing(_opened(ring.step, c, (ring.flange_depth, 0.0)))


def _bevelled(edge: Outline, low: float, high: float, below: float, above: float) -> Prism:
    """What an edge encloses between two heights, set in at its ends as chamfers of those sizes do."""
    levels = [(low, below), (low - below, 0.0), (high + above, 0.0), (high, above)]
    return Prism(edge, tuple(dict.fromkeys(levels)))


def _opened(edge: Outline, below: float, *levels: Point) -> Prism:
    """What an edge cuts away up to these levels, opening towards the dial side as a chamfer of size `below` does."""
    front = ((-BEYOND, below + BEYOND), (below, 0.0)) if below else ((-BEYOND, 0.0),)
    return Prism(edge, (*front, *levels))


def _ring(ring: Ring) -> Iterator[tuple[str, Step]]:
    h = ring.height
    yield from _blank(ring)
    for key in ring.keys:
        yield "keys", Step.adding(_block(ring, key.angle, key.width, key.depth, key.low, key.high))
    for i in range(int(ring.tab_count) if ring.lip_reach else 0):
        angle = ring.nub_angle + 360 * (i + 0.5) / ring.tab_count
        yield "tab_count", Step.adding(_block(ring, angle, ring.tab_width, -ring.lip_reach, h - ring.lip_height, h))
    for cut in ring.cutouts:
        low = cut.low if cut.low > 0 else -BEYOND
        high = cut.high if cut.high < h else h + BEYOND
        inner = radius_at(ring.inner, cut.angle)
        yield "cutouts", Step.removing(Strip(cut.angle, cut.width, inner / 2, inner + cut.depth, low, high))
    yield from (("channel_width", Step.removing(solid)) for solid in channel(ring))
    if ring.notch_width:
        outer = radius_at(ring.outer, ring.notch_angle)
        floor, low, far = outer - ring.notch_depth, h - ring.notch_height, ring.reach + BEYOND
        cut_away = Strip(ring.notch_angle, ring.notch_width, floor, far, low, h + BEYOND)
        yield "notch_depth", Step.removing(cut_away)
        if ring.lip:
            under = replace(cut_away, inner=floor - ring.lip, high=h - ring.notch_height / 2)
            yield "lip", Step.removing(under)
    yield from (("tongue_length", Step.removing(solid)) for solid in tongues(ring))
    yield from (("nub_count", Step.adding(pin)) for pin in nubs(ring))
    if ring.split_width:
        ends = float(outlines.inner(ring.inner)) / 2, ring.reach + BEYOND
        yield "split_width", Step.removing(Strip(ring.split_angle, ring.split_width, *ends, -BEYOND, ring.top + BEYOND))
    if ring.mark_width:
        groove = Strip(
            0.0, ring.mark_width, float(outlines.inner(ring.inner)) / 2, ring.reach + BEYOND, -BEYOND, ring.mark_depth
        )
        yield "mark_width", Step.removing(groove)
    if ring.mark_words:
        middle = (radius_at(ring.inner, ring.mark_angle) + radius_at(ring.outer, ring.mark_angle)) / 2
        levels = h - ring.mark_depth, h + BEYOND
        letters = engraving(ring.mark_words, ring.mark_angle, middle, ring.mark_size, *levels)
        yield from (("mark_words", Step.removing(letter)) for letter in letters)


def _block(ring: Ring, angle: float, width: float, depth: float, low: float, high: float) -> Strip:
    """A block rooted in the wall that stands outwards by its depth, inwards where that is below zero."""
    inner, outer = radius_at(ring.inner, angle), radius_at(ring.outer, angle)
    front_inner, front_outer = radius_at(ring.front_inner, angle), radius_at(ring.front_outer, angle)
    root = (max(front_inner, inner) + min(front_outer, outer)) / 2
    ends = (inner + depth, root) if depth < 0 else (root, outer + depth)
    return Strip(angle, width, *ends, low, high)


def _spacer(spacer: Spacer) -> Iterator[tuple[str, Step]]:
    inner, outer, h = float(outlines.inner(spacer.inner)), spacer.reach, spacer.thickness
    if spacer.outer.shape == spacer.inner.shape == "round":
        yield "outside_diameter", Step.adding(Turned(((inner, 0.0), (outer, 0.0), (outer, h), (inner, h))))
    else:
        yield spacer.name_of("outside"), Step.adding(Prism(spacer.outer, ((0.0, 0.0), (h, 0.0))))
        yield spacer.name_of("inside"), Step.removing(Prism(spacer.inner, ((-BEYOND, 0.0), (h + BEYOND, 0.0))))
    for notch in spacer.notches:
        yield "notches", Step.removing(Pin(notch.angle, notch.radius, notch.diameter, -BEYOND, h + BEYOND))
        if opening := notch_opening(spacer, notch):
            yield "notches", Step.removing(Strip(notch.angle, notch.diameter, *opening, -BEYOND, h + BEYOND))
    if spacer.split_width:
        ends = (inner / 2, outer + BEYOND)
        yield "split_width", Step.removing(Strip(spacer.split_angle, spacer.split_width, *ends, -BEYOND, h + BEYOND))


def notch_opening(spacer: Spacer, notch: FootNotch) -> Point | None:
    """The radii between which a notch opens into the nearer edge; None where it stays a hole or misses the washer."""
    inner, outer = radius_at(spacer.inner, notch.angle), radius_at(spacer.outer, notch.angle)
    half = notch.diameter / 2
    webs = notch.radius - half - inner, outer - notch.radius - half
    if notch.radius + half <= inner or notch.radius - half >= outer or min(webs) >= OPEN_WEB:
        return None
    inwards = webs[0] < webs[1] or webs[0] < NO_WEB
    outwards = webs[0] >= webs[1] or webs[1] < NO_WEB
    return max(0.0, inner - half) if inwards else notch.radius, outer + half if outwards else notch.radius
