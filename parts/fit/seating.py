"""How high each hand is set on its post, so that all gaps are as wide as wanted, or as even as can be.

Source: fit model section 5. Heights count from the dial rest towards the crystal. A lift is how far a hand's top is
left above its post's top; it lies between 0 and what still leaves the hub its grip.

For a wanted gap mu each least lift is the largest of a few straight lines in mu, and each condition an upper limit on
such a line, so the largest feasible mu is found exactly, without search.
"""

from dataclasses import dataclass
from math import inf

from .crystal import gap_at
from .quantities import SLACK, Quantity, greatest, missing_of, unknown
from .records import fitted


@dataclass(frozen=True, slots=True)
class Seat:
    """One hand on its post: its lift above flush, where its parts stand above the dial rest, what is over and under it.

    `room` is the space from the dial seat to the crystal where the hand sweeps; `under` the furniture it passes over.
    """

    name: str
    lift: float
    top: Quantity
    hub_bottom: Quantity
    blade_bottom: Quantity
    room: Quantity
    under: tuple


@dataclass(frozen=True, slots=True)
class Seating:
    """All hands of the watch set at `gap`; gap is None where no lift could be worked out, and `why` says it."""

    seats: dict
    gap: float | None
    why: str = ""


def reach_of(hand):
    """How far a hand sweeps: the longer of its two ends."""
    return greatest(hand.length, hand.tail)


def passed_over(hand, furniture):
    """The pieces of furniture that the hand sweeps over; where that cannot be told the piece's height is unknown."""
    heights = []
    for item in furniture:
        ends = [end for end in (hand.length, hand.tail) if end.known]
        if item.inner_radius.known and any(end.value > item.inner_radius.value for end in ends):
            heights.append((item.name, item.height))
        elif missing := missing_of(item.inner_radius, hand.length, hand.tail):
            heights.append((item.name, unknown(*missing)))
    return tuple(heights)


def seat_hands(p):
    """The seating of all hands for this stack of levels (p carries sheet parts, rules and stack)."""
    flush = [_flush(p, name, hand) for name, hand in fitted(p.hands)]
    gap, lifts, why = None, dict.fromkeys((seat.name for seat in flush), 0.0), ""
    if missing_of(p.stack.face, p.stack.front, *(q for seat in flush for q in _heights(seat))):
        why = "not worked out, because something is not measured"
    else:
        lines, limit = _lines(p, flush)
        if limit >= -SLACK:
            gap = p.rules.gap_min if limit >= p.rules.gap_min - SLACK else max(limit, 0.0)
            lifts = {name: max(start + slope * gap for start, slope in lines[name]) for name in lifts}
        else:
            why = "no height clears dial, hands and crystal"
    return Seating({seat.name: _lifted(seat, lifts[seat.name]) for seat in flush}, gap, why)


def _flush(p, name, hand):
    top = getattr(p.movement.posts, name).height
    room, under = gap_at(p.case, reach_of(hand)), passed_over(hand, p.dial.furniture)
    return Seat(name, 0.0, top, top - hand.hub_height, top - hand.thickness, room, under)


def _heights(seat):
    """What a hand's lift depends on; its blade only where it passes over furniture."""
    over = (seat.blade_bottom, *(height for _, height in seat.under)) if seat.under else ()
    return seat.hub_bottom, seat.room, *over


def _lifted(seat, lift):
    raised = (q + lift for q in (seat.top, seat.hub_bottom, seat.blade_bottom))
    return Seat(seat.name, lift, *raised, seat.room, seat.under)


def _lines(p, flush):
    """Each hand's least lift as (start, slope) lines in mu, and the largest mu that all conditions allow."""
    face, lines, limit = p.stack.face.value, {}, inf
    below = [(face, 0)]
    for seat in flush:
        top, hub_bottom = seat.top.value, seat.hub_bottom.value
        lift = [(0.0, 0)]
        lift += [(start - hub_bottom, slope + 1) for start, slope in below]
        lift += [(face + height.value - seat.blade_bottom.value, 1) for _, height in seat.under]
        highest = max(0.0, top - hub_bottom - p.rules.grip_min)
        ceiling = face + p.stack.front.value + seat.room.value
        for start, slope in lift:
            if slope:
                limit = min(limit, (highest - start) / slope)
            limit = min(limit, (ceiling - top - start) / (slope + 1))
        lines[seat.name] = lift
        below = [(top + start, slope) for start, slope in lift]
    return lines, limit
