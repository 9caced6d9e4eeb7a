"""Findings about a holder ring; the bands are common practice, no source."""

from collections.abc import Iterator
from math import hypot, inf, radians, sin

from manifold3d import Manifold

from parts.fit.arithmetic import outlines
from parts.fit.arithmetic.outlines import Outline
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import bands, by_part, by_work, fits, no, work
from parts.fit.levels import widths
from parts.fit.verdicts import Finding, judge
from parts.holder import limits
from parts.holder.edges import as_edge, as_made, depth_in, direction, height_as_made, of_edge, radius_at
from parts.holder.findings import back, holding, marks, ring_assembly, standing
from parts.holder.findings.heights import ring_heights
from parts.holder.findings.ring_assembly import is_wide
from parts.holder.findings.walls import wall
from parts.holder.mesh import solid_in
from parts.holder.parameters import Ring
from parts.holder.shapes import Pin
from parts.holder.surroundings import Surroundings

FOOT_LENGTH = 1.5
"""How far a dial foot is taken to reach behind the dial where nothing is cut off, mm; common practice, no source."""
_TOUCH = 0.001
"""Less than this is no collision, mm³."""


def findings(ring: Ring, around: Surroundings, solid: Manifold) -> Iterator[Finding]:
    """All findings about this ring, in order."""
    groups = (
        ("Walls", _walls(ring, around)),
        ("As it prints", ring_heights(ring)),
        ("Round the movement", _round(ring, around)),
        ("Round the movement", _inside(ring, around, solid)),
        ("Assembly", ring_assembly.findings(ring, around)),
        ("Case back", back.findings(ring, around, solid)),
        ("In the case", standing.findings(ring, around)),
        ("Hold", holding.findings(ring, around)),
        ("Marks", marks.findings(ring)),
    )
    for subject, checks in groups:
        for check in checks:
            check.subject = subject
            yield check


def _walls(ring: Ring, around: Surroundings) -> Iterator[Finding]:
    yield wall(ring, "ring-wall", "Wall of the ring", min(ring.wall, ring.front_wall), _most_wall(ring, around))
    if ring.notch_width:
        floor = radius_at(ring.outer, ring.notch_angle) - ring.notch_depth - ring.lip
        yield wall(ring, "notch-web", "Web behind the finger notch", -_room(ring.inner, ring.notch_angle, floor))
    if ring.cutouts:
        ends = ((cut, radius_at(ring.inner, cut.angle) + cut.depth) for cut in ring.cutouts)
        yield wall(ring, "cutout-web", "Web behind the cut-outs", min(_room(ring.outer, c.angle, r) for c, r in ends))
    half = ring.channel_width / 2
    roof, floor = ring.height - ring.channel_axis - half, ring.channel_axis - half
    webs = {"dial": (roof,), "back": (floor,), "closed": (roof, floor)}.get(ring.channel_open)
    if webs:
        yield wall(ring, "channel-web", "Web over the stem channel", min(webs))


def _most_wall(ring: Ring, around: Surroundings) -> float:
    """Thickest wall that goes between bore and movement with the clearances that are proposed; infinite if unknown."""
    bore, inside = of_edge(around.bore), around.overall if ring.step else around.gripped
    held = of_edge(inside)
    if not (bore and held):
        return inf
    play = ring.plus_minus + max((size.half_width for size in inside.numbers if size.known), default=0.0)
    return float(outlines.clear(held, bore)) - around.rules.holder_clearance - play / 2


def _room(edge: Outline, angle: float, radius: float) -> float:
    """Distance of a point from an edge, positive inside."""
    x, y = direction(angle)
    return depth_in(edge, x * radius, y * radius)


def _round(ring: Ring, around: Surroundings) -> Iterator[Finding]:
    outer, inner, off = as_edge(ring.outer), as_edge(ring.inner), as_made(ring.plus_minus)
    room = widths.across(outer, around.bore).less(off)
    closer = "Make the outside larger."
    if room.value.known and standing.is_held_small(ring, around, room.value.value - limits.BORE_LOOSE):
        closer = "No larger ring goes in through the front: split it to spring open inside, or lay a shim round it."
    closer = _where_loose(room.value, limits.BORE_LOOSE, closer)
    yield judge(
        "bore-room",
        "Ring in the bore",
        room.value,
        bands(
            no("The ring is {size} too wide for the bore."),
            0.0,
            work("Only {value} of play in the bore.", by_work("Expect to ease the outside.")),
            limits.BORE_SNUG,
            fits("The ring drops into the bore with {value} of play."),
            limits.BORE_LOOSE,
            work("The ring has {value} of play in the bore.", by_work(closer)),
        ),
        span=room.span,
    )
    room = widths.across(around.gripped, inner).less(off)
    closer = _where_loose(room.value, limits.MOVEMENT_LOOSE, "Make the inside smaller.")
    yield judge(
        "movement-room",
        "Movement in the ring",
        room.value,
        bands(
            no("The movement is {size} too wide for the ring."),
            limits.MOVEMENT_PRESS,
            work("The movement is {size} too wide for the ring.", by_work("Ream the inside to a light press.")),
            0.0,
            fits("The movement sits in the ring with {value} of play."),
            limits.MOVEMENT_LOOSE,
            work("The movement has {value} of play in the ring.", by_work(closer)),
        ),
        span=room.span,
    )
    if is_wide(ring, around) and (ring.step or ring.start <= 0):
        room = widths.across(around.overall, as_edge(ring.front_inner)).less(off)
        across = around.overall.outline is None
        yield judge(
            "flange-room",
            "Clearance of the movement's rim",
            room.value,
            bands(
                no(f"The ring fouls the movement's rim{', {overall} across,' if across else ''} by {{size}}."),
                0.0,
                fits("The movement's rim clears its step by {value}."),
            ),
            span=room.span,
            overall=around.overall.diameter,
        )


def _where_loose(room: Quantity, most: float, drawn_wrong: str) -> str:
    """What to do where a fit may come out loose: to draw it closer only where it is too loose as it is drawn."""
    as_drawn = not room.known or room.value <= most
    return "Try it in once it is made: lay foil round it where it shakes." if as_drawn else drawn_wrong


def _inside(ring: Ring, around: Surroundings, solid: Manifold) -> Iterator[Finding]:
    if around.disc_outer is not None and ring.start <= 0:
        yield judge(
            "disc-room",
            "Date disc clear of the ring",
            Quantity(float(outlines.inner(ring.front_inner))) - around.disc_outer,
            bands(no("The ring reaches {size} over the date disc."), 0.0, fits("The date disc clears by {value}.")),
        )
    off_axis = Quantity(0.0)
    if around.stem_axis.known and around.stem_angle.known:
        aside = radius_at(ring.outer, ring.channel_angle) * sin(radians(ring.channel_angle - around.stem_angle.value))
        low = ring.start + ring.channel_axis - around.stem_axis.value
        off_axis = Quantity(hypot(low, aside)) + (around.stem_axis - around.stem_axis.value)
    yield judge(
        "stem-room",
        "Stem in its channel",
        0.5 * (as_made(ring.plus_minus) + ring.channel_width - around.stem_thread)
        + height_as_made(ring.heights_plus_minus)
        - off_axis,
        bands(
            no("The ring fouls the stem by {size}."),
            0.0,
            work(
                "Only {value} clearance round the stem.", by_work("Widen the channel, or correct its axis and angle.")
            ),
            limits.STEM_SNUG,
            fits("The stem has {value} of clearance all round."),
        ),
        needs=(around.stem_axis, around.stem_angle),
    )
    if around.feet and ring.start < FOOT_LENGTH:
        stuck = sum(
            (solid ^ solid_in(Pin(angle, radius, diameter, 0.0, FOOT_LENGTH - ring.start))).volume() > _TOUCH
            for angle, radius, diameter in around.feet
        )
        yield judge(
            "feet-room",
            "Dial feet clear of the ring",
            Quantity(float(stuck)),
            bands(
                fits("The dial feet clear the ring."),
                0,
                work(
                    "{value} dial feet hit the ring.",
                    by_work("Add a cut-out for each on the dial side, or cut the foot off."),
                ),
            ),
            unit="count",
        )
    if around.pads_on_holder and ring.start == 0:
        yield judge(
            "pad-land",
            "Face for dial pads",
            Quantity(ring.front_wall - 2 * ring.chamfer),
            bands(
                work("Only {value} of flat face for dial pads.", by_part("Fix the dial with new feet instead.")),
                around.rules.pad_width_min,
                fits("{value} of flat face for dial pads."),
            ),
        )
