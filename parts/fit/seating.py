"""How high each hand is set on its post, so that all gaps are as wide as wanted, or as even as can be.

Source: fit model section 5. Heights count from the dial rest towards the crystal. A lift is how far a hand's top is
left above its post's top; it lies between 0 and what still leaves the hub its grip.

For a wanted gap mu each least lift is the largest of a few straight lines in mu, and each condition an upper limit on
such a line, so the largest feasible mu is found exactly, without search.
"""

from dataclasses import dataclass

from .crystal import gap_at
from .quantities import SLACK, Quantity, greatest, missing_of, unknown
from .records import fitted


@dataclass(frozen=True, slots=True)
class Seat:
    """One hand on its post: its lift above flush, and where its parts stand above the dial rest."""

    name: str
    lift: float
    top: Quantity
    hub_bottom: Quantity
    blade_bottom: Quantity
    reach: Quantity
    under: tuple


@dataclass(frozen=True, slots=True)
class Seating:
    """All hands of the watch set at `gap`; gap is None where no lift could be worked out, and `why` says it."""

    seats: dict
    gap: float | None
    why: str = ""


def reach_of(hand):
    """How far a hand sweeps: the longer of its two ends."""
    return greatest([("length", hand.length), ("tail", hand.tail)])[1]


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
    hands = fitted(p.hands)
    posts = {name: getattr(p.movement.posts, name) for name, _ in hands}
    under = {name: passed_over(hand, p.dial.furniture) for name, hand in hands}
    reach = {name: reach_of(hand) for name, hand in hands}
    gap, lifts, why = None, dict.fromkeys(posts, 0.0), ""
    if lacking := _lacking(p, hands, posts, under, reach):
        why = "not worked out, because something is not measured"
        gap = None
    else:
        lines, limit = _lines(p, hands, posts, under, reach)
        gap = min(limit, p.rules.gap_min) if limit < p.rules.gap_min - SLACK else p.rules.gap_min
        if gap < -SLACK:
            gap, why = None, "no height clears dial, hands and crystal"
        else:
            gap = max(gap, 0.0)
            lifts = {name: max(start + slope * gap for start, slope in lines[name]) for name in posts}
    seats = {}
    for name, hand in hands:
        top = posts[name].height + lifts[name]
        seats[name] = Seat(
            name, lifts[name], top, top - hand.hub_height, top - hand.thickness, reach[name], under[name]
        )
    return Seating(seats, gap, why)


def _lacking(p, hands, posts, under, reach):
    needed = [p.stack.face, p.stack.front]
    for name, hand in hands:
        needed += [posts[name].height, hand.hub_height, hand.thickness, reach[name], gap_at(p.case, reach[name])]
        needed += [height for _, height in under[name]]
    return missing_of(*needed)


def _lines(p, hands, posts, under, reach):
    """Each hand's least lift as (start, slope) lines in mu, and the largest mu that all conditions allow."""
    face, lines, limit = p.stack.face.value, {}, float("inf")
    below = [(face, 0)]
    for name, hand in hands:
        post, hub, blade = posts[name].height.value, hand.hub_height.value, hand.thickness.value
        lift = [(0.0, 0)]
        lift += [(start - post + hub, slope + 1) for start, slope in below]
        lift += [(face + height.value - post + blade, 1) for _, height in under[name]]
        highest = max(0.0, hub - p.rules.grip_min)
        ceiling = face + p.stack.front.value + gap_at(p.case, reach[name]).value
        for start, slope in lift:
            if slope:
                limit = min(limit, (highest - start) / slope)
            limit = min(limit, (ceiling - post - start) / (slope + 1))
        lines[name] = lift
        below = [(post + start, slope) for start, slope in lift]
    return lines, limit
