"""How high each hand is set on its post, so that all gaps are as wide as wanted, or as even as can be.

Source: fit model section 5. Heights count from the dial rest towards the crystal. A lift is how far a hand's top is
left above its post's top; it lies between 0 and what still leaves the hub its grip.

For a wanted gap mu each least lift is the largest of a few straight lines in mu, and each condition an upper limit on
such a line, so the largest feasible mu is found exactly, without search.
"""

from __future__ import annotations

from math import inf, nan
from typing import TYPE_CHECKING, TypeAlias

from parts.fit.arithmetic.elementwise import Number, Truth, is_column, lower, pick, upper
from parts.fit.arithmetic.quantities import SLACK, Quantity, greatest, in_hand, missing_of, unknown
from parts.fit.checks.crystal import gap_at
from parts.fit.pairing import Seat, Seating, Under
from parts.fit.records import Furniture, Hand, fitted

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing

Lines: TypeAlias = list[tuple[Number, int]]


def reach_of(hand: Hand) -> Quantity:
    """How far a hand sweeps: the longer of its two ends."""
    return greatest(hand.length, hand.tail)


def passed_over(hand: Hand, furniture: tuple[Furniture, ...]) -> Under:
    """The furniture that the hand sweeps over, as `Seat.under`; where that cannot be told its height is unknown."""
    found: list[tuple[str, Quantity, Truth]] = []
    for item in furniture:
        passes: Truth = False
        for end in (hand.length, hand.tail):
            if end.known and item.inner_radius.known:
                passes = passes | (end.value > item.inner_radius.value)
        undecided = missing_of(item.inner_radius, hand.length, hand.tail)
        if passes is True or (undecided and passes is False):
            found.append((item.name, item.height if passes else unknown(*undecided), True))
        elif is_column(passes):
            told = passes | in_hand(item.inner_radius, hand.length, hand.tail)
            found.append((item.name, pick(told, item.height, Quantity(nan)), passes | ~told))
    return tuple(found)


def seat_hands(p: Pairing) -> Seating:
    """The seating of all hands for this stack of levels (p carries sheet parts, rules and stack)."""
    flush = [_flush(p, name, hand) for name, hand in fitted(p.hands)]
    heights = [p.stack.face, p.stack.front, *(q for seat in flush for q in _heights(p, seat))]
    if missing_of(*heights):
        lifts = dict.fromkeys((seat.name for seat in flush), 0.0)
        return _seating(flush, lifts, None, "not worked out yet: some of it is not measured")
    lines, limit = _lines(p, flush)
    feasible = (limit >= -SLACK) & in_hand(*heights)
    gap = pick(limit >= p.rules.gap_min - SLACK, p.rules.gap_min, upper(limit, 0.0))
    lifts = {name: pick(feasible, _highest(lines[name], gap), 0.0) for name in lines}
    if feasible is False:
        return _seating(flush, lifts, None, "no height keeps the hands clear of each other, dial and crystal")
    return _seating(flush, lifts, gap, "")


def _seating(flush: list[Seat], lifts: dict[str, Number], gap: Number | None, why: str) -> Seating:
    return Seating({seat.name: _lifted(seat, lifts[seat.name]) for seat in flush}, gap, why)


def _highest(lines: Lines, gap: Number) -> Number:
    found: Number = 0.0
    for start, slope in lines:
        found = upper(found, start + slope * gap)
    return found


def _flush(p: Pairing, name: str, hand: Hand) -> Seat:
    top = getattr(p.movement.posts, name).height
    room, under = gap_at(p.case, reach_of(hand)), passed_over(hand, p.dial.furniture)
    return Seat(name, 0.0, top, top - hand.hub_height, top - hand.thickness, room, under)


def _heights(p: Pairing, seat: Seat) -> tuple[Quantity, ...]:
    """What a hand's lift depends on; its blade only where it passes over furniture."""
    return seat.hub_bottom, seat.room, *(gap for _, gap in seat.over_furniture(p.stack.face))


def _lifted(seat: Seat, lift: Number) -> Seat:
    top, hub_bottom, blade_bottom = seat.top + lift, seat.hub_bottom + lift, seat.blade_bottom + lift
    return Seat(seat.name, lift, top, hub_bottom, blade_bottom, seat.room, seat.under)


def _lines(p: Pairing, flush: list[Seat]) -> tuple[dict[str, Lines], Number]:
    """Each hand's least lift as (start, slope) lines in mu, and the largest mu that all conditions allow."""
    face = p.stack.face.value
    lines: dict[str, Lines] = {}
    limit: Number = inf
    below: Lines = [(face, 0)]
    for seat in flush:
        top, hub_bottom = seat.top.value, seat.hub_bottom.value
        lift: Lines = [(0.0, 0)]
        lift += [(start - hub_bottom, slope + 1) for start, slope in below]
        lift += [(-gap.value, 1) for _, gap in seat.over_furniture(p.stack.face)]
        highest = upper(0.0, top - hub_bottom - p.rules.grip_min)
        ceiling = face + p.stack.front.value + seat.room.value
        for start, slope in lift:
            if slope:
                limit = lower(limit, (highest - start) / slope)
            limit = lower(limit, (ceiling - top - start) / (slope + 1))
        lines[seat.name] = lift
        below = [(top + start, slope) for start, slope in lift]
    return lines, limit
