"""A hand's tip inside a rim that is narrower at some heights than at others.

Source: fit model section 11.6. The rim's profile runs straight from point to point, upwards; below its first point the
dial opening holds, above its last point that point's radius. Heights count from the plane of the dial seat, or of the
ring that lies on the dial's edge, towards the crystal.
"""

from __future__ import annotations

from itertools import pairwise
from math import inf, nan
from typing import TYPE_CHECKING

from parts.fit.arithmetic.elementwise import Truth, pick
from parts.fit.arithmetic.quantities import SLACK, Quantity, in_hand, least, missing_of, or_nothing, through, unknown
from parts.fit.levels import widths
from parts.fit.records.case import RimPoint

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing, Seat
    from parts.fit.records import Hand

_FAR = Quantity(inf)
_HARDLY = 1e-9


def tip_at_rim(p: Pairing, seat: Seat, hand: Hand) -> tuple[Quantity, Quantity]:
    """The least room between the hand's two ends and the rim at their heights, and the length of the longer end."""
    lift = _over_rim_plane(p)
    drop = or_nothing(hand.tip_drop)
    ends = []
    for reach, bent in ((hand.length, drop), (hand.tail, Quantity(0.0))):
        low, high = seat.blade_bottom + lift - bent, seat.top + lift - bent
        ends.append(narrowest(p, low, high) - reach)
    return least(*ends), hand.length


def _over_rim_plane(p: Pairing) -> Quantity:
    """How far the dial rest lies in front of the plane that the rim's heights count from."""
    in_front = p.stack.dial_rest * -1.0
    return in_front - p.case.floor_ring if p.case.is_front_loaded else in_front


def narrowest(p: Pairing, low: Quantity, high: Quantity) -> Quantity:
    """The rim's least radius between two heights."""
    points = p.case.rim
    needs = (low, high, *(q for point in points for q in (point.radius, point.height)))
    missing = missing_of(*needs)
    if missing:
        return unknown(*missing)
    below = low.value < points[0].height.value - SLACK
    opening = widths.inner(widths.opening(p.sheet)).value
    if below is True and not opening.known:
        return opening
    radii = [pick(below, opening, _FAR)] if below is not False else []
    for point in points:
        between = (point.height.value >= low.value - SLACK) & (point.height.value <= high.value + SLACK)
        radii.append(pick(between, point.radius, _FAR))
    for at in (low, high):
        radii += [_on_line(at, a, b) for a, b in pairwise(points)]
        radii.append(pick(at.value > points[-1].height.value, points[-1].radius, _FAR))
    return pick(in_hand(*needs), least(*radii), Quantity(nan))


def _on_line(at: Quantity, a: RimPoint, b: RimPoint) -> Quantity:
    """The radius at a height between two points; without bound where it lies elsewhere."""
    run = b.height.value - a.height.value
    there: Truth = (at.value >= a.height.value) & (at.value <= b.height.value) & (run > _HARDLY)
    if there is False:
        return _FAR
    run = pick(there, run, 1.0)
    share = (at.value - a.height.value) / run
    slope = (b.radius.value - a.radius.value) / run
    radius = through(
        lambda *_values: a.radius.value + share * (b.radius.value - a.radius.value),
        (1.0 - share, a.radius),
        (share, b.radius),
        (slope, at),
        (-slope * (1.0 - share), a.height),
        (-slope * share, b.height),
    )
    return pick(there, radius, _FAR)
