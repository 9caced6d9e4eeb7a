"""How high each hand is set on its post, so that all gaps are as wide as wanted, or as even as can be.

Source: fit model section 5. Heights count from the dial rest towards the crystal. A lift is how far a hand's top is
left above its post's top; it lies between 0 and what still leaves the hub its grip.

For a wanted gap mu each least lift is the largest of a few straight lines in mu, and each condition an upper limit on
mu, so the widest gap that all conditions allow is found exactly, without search; it may be below zero. What lacks a
number sets no condition. The limits carry their intervals, for whoever sets the hands sees the real heights: how well
they can be set is what is uncertain.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import inf
from typing import TYPE_CHECKING, NamedTuple

from parts.fit.arithmetic.elementwise import Number, Truth, is_column, is_lost, known_or, lower, pick, upper
from parts.fit.arithmetic.quantities import SLACK, Quantity, missing_of, or_nothing, unknown
from parts.fit.pairing import Seat, Seating, part_of
from parts.fit.records import HANDS, Furniture, Hand, Post, SubPost, fitted
from parts.fit.seating.crystal import gap_at
from parts.fit.seating.sweep import Raised, as_furniture, passed_over, room_over, under_boss

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


class Line(NamedTuple):
    """A least height or lift that rises with the wanted gap mu: start + slope * mu."""

    start: Quantity
    slope: int


def seat_hands(p: Pairing) -> Seating:
    """The seating of all hands for this stack of levels (p carries sheet parts, rules and stack)."""
    over = (*p.dial.furniture, *_small_hands(p))
    flush = [
        flush_on(p, name, hand, getattr(p.movement.posts, name), room_over(p, hand), over)
        for name, hand in fitted(p.hands)
    ]
    return set_over(p, flush, dict(fitted(p.hands)), p.stack.face_at_hub, _bare_posts(p))


def set_over(
    p: Pairing,
    flush: list[Seat],
    hands: Mapping[str, Hand],
    face: Quantity,
    bare: dict[str, tuple[Quantity, Quantity]] | None = None,
) -> Seating:
    """Hands that stand over each other, each flush on its post, set over the face that lies under the first."""
    lines, limits, left_out = _conditions(p, flush, hands, face)
    gap, low, high = (_least(p.rules.gap_min, limits, end) for end in ("value", "low", "high"))
    seats = {seat.name: _lifted(seat, _highest(lines[seat.name], gap)) for seat in flush}
    return Seating(seats, gap, low, high, _binding(limits), bare or {}, left_out)


def _small_hands(p: Pairing) -> list[Furniture]:
    """The small hands as what the others sweep over, as high as they stand over the dial's edge."""
    return [furniture for small in p.small.values() if (furniture := as_furniture(p, small))]


def _least(most: Number, limits: list[Quantity], end: str) -> Number:
    """The least of the limits, read at their value or at one end of their interval; `most` where none is less."""
    ends = [getattr(limit, end) for limit in limits]
    if not any(is_column(number) for number in ends):
        return min((most, *ends))
    for number in ends:
        most = lower(most, known_or(number, inf))
    return most


def _binding(limits: list[Quantity]) -> Quantity:
    """The limit that is least at the nominal point, the one whose inputs decide; told of one pairing only."""
    if not limits or any(is_column(limit.value) for limit in limits):
        return Quantity(inf)
    return min(limits, key=lambda limit: limit.value)


def _highest(lines: list[Line], gap: Number) -> Number:
    highest: Number = 0.0
    for start, slope in lines:
        highest = upper(highest, known_or(start.value + slope * gap, -inf))
    return highest


def flush_on(p: Pairing, name: str, hand: Hand, post: Post | SubPost, room: Quantity, over: Raised) -> Seat:
    """The hand pressed home: a closed tube keeps it the thickness of its cap above the post's top."""
    top = post.height + or_nothing(hand.cap_thickness)
    if name in HANDS and not p.has(f"hands.{name}"):
        top = unknown(f"hands.{name}.length")
    rise = or_nothing(post.end_play)
    if name == "hour":
        rise = rise + p.stack.wheel_rise
    blade_bottom = top - or_nothing(hand.blade_step) - hand.thickness
    on_hub = under_boss(p.sheet, hand, over) if name == "hour" else ()
    return Seat(
        name,
        0.0,
        top,
        top + rise,
        top - hand.hub_height,
        blade_bottom,
        room,
        passed_over(p.sheet, hand, over),
        on_hub,
    )


def most_lift(p: Pairing, hand: Hand) -> Quantity:
    """How far a hand may be left above flush: what its hub has beyond its grip, never below zero."""
    spare = hand.hub_height - or_nothing(hand.cap_thickness) - p.rules.grip_min
    return spare if not spare.known else pick((spare.value > 0) | is_lost(spare.value), spare, Quantity(0.0))


def _lifted(seat: Seat, lift: Number) -> Seat:
    return Seat(
        seat.name,
        lift,
        seat.top + lift,
        seat.top_above + lift,
        seat.hub_bottom + lift,
        seat.blade_bottom + lift,
        seat.room,
        seat.under,
        seat.under_hub,
    )


def _conditions(
    p: Pairing, flush: list[Seat], hands: Mapping[str, Hand], face: Quantity
) -> tuple[dict[str, list[Line]], list[Quantity], tuple[str, ...]]:
    """Each hand's least lift as lines in mu, the upper limits on mu, and what is missing of either."""
    lines: dict[str, list[Line]] = {}
    limits: list[Quantity] = []
    lacking: list[Quantity] = []
    below = [Line(face, 0)]
    for seat in flush:
        lift = [Line(start - seat.hub_bottom, slope + 1) for start, slope in below]
        lift += [Line(gap * -1.0, 1) for _, gap in seat.over_furniture(p.stack.face)]
        most = most_lift(p, hands[seat.name])
        ceiling = p.stack.face + p.stack.sunk + seat.room
        lacking += [most, ceiling, *(line.start for line in lift)]
        lift = [line for line in lift if line.start.known]
        if most.known:
            limits += [(most - start) * (1.0 / slope) for start, slope in lift]
        under_glass = ceiling - seat.top_above
        if under_glass.known:
            limits.append(under_glass)
            limits += [(under_glass - start) * (1.0 / (slope + 1)) for start, slope in lift]
        lines[seat.name] = lift
        if seat.top_above.known:
            below = [Line(seat.top_above, 0), *(Line(seat.top_above + start, slope) for start, slope in lift)]
        else:
            below = []
    left_out = tuple(name for name in missing_of(*lacking) if p.has(part_of(name)))
    return lines, limits, left_out


def _bare_posts(p: Pairing) -> dict[str, tuple[Quantity, Quantity]]:
    """Room between the crystal and the top of each post that carries no hand, with the post's height."""
    posts: list[tuple[str, Post | SubPost, Quantity]] = [
        (name, getattr(p.movement.posts, name), p.case.crystal[0])
        for name in HANDS
        if getattr(p.hands, name) is None and getattr(p.movement.posts, name).height.known
    ]
    posts += [
        (name, small.post, gap_at(p.case, small.post.radius, p.rules.dome_beyond_max))
        for name, small in p.small.items()
        if small.hand is None and small.post.height.known
    ]
    bare = {}
    for name, post, room in posts:
        top = post.height + or_nothing(post.end_play)
        bare[name] = room + p.stack.sunk - (top - p.stack.face), post.height
    return bare


def stands_at(gap: Quantity, seating: Seating) -> Truth:
    """Whether a gap is one that the hands are set to, rather than one that is wider by itself."""
    return gap.value <= seating.gap + SLACK
