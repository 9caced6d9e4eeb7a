"""What a hand sweeps over and under: raised markers, the dial itself where the hand is bent, and the crystal.

Source: fit model sections 5 and 11.5. A bent hand is straight to half its length and from there falls to its tip.
"""

from __future__ import annotations

from math import nan
from typing import TYPE_CHECKING, TypeAlias

from parts.fit.arithmetic.elementwise import Truth, is_column, pick, upper
from parts.fit.arithmetic.quantities import (
    Quantity,
    greatest,
    in_hand,
    least,
    missing_of,
    or_nothing,
    through,
    unknown,
)
from parts.fit.levels.dome import boss_of, over_edge
from parts.fit.records import Furniture, Hand, Sheet
from parts.fit.seating.crystal import gap_at

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing, Small, Under


Raised: TypeAlias = tuple[Furniture, ...]
"""What stands up from the dial: its own markers, and the small hands."""


def reach_of(hand: Hand) -> Quantity:
    """How far a hand sweeps: the longer of its two ends."""
    return greatest(hand.length, hand.tail)


def room_over(p: Pairing, hand: Hand) -> Quantity:
    """The crystal's underside where it is nearest to the hand's top; a bent hand has more room at its tip."""
    beyond = p.rules.dome_beyond_max
    if not hand.tip_drop.known:
        return gap_at(p.case, reach_of(hand), beyond)
    straight = gap_at(p.case, greatest(0.5 * hand.length, hand.tail), beyond)
    return least(straight, gap_at(p.case, hand.length, beyond) + or_nothing(hand.tip_drop))


def bent_down(hand: Hand, radius: Quantity) -> Quantity:
    """How far below the blade at the hub the hand is at a radius within its length."""
    missing = missing_of(hand.tip_drop, hand.length, radius)
    if missing:
        return unknown(*missing)
    drop, length, r = hand.tip_drop.value, hand.length.value, radius.value
    whole = pick(length > 0, length, 1.0)
    share = upper(0.0, 2 * r / whole - 1)
    bends = share > 0
    bent = through(
        lambda drop, _length, _r: drop * share,
        (share, hand.tip_drop),
        (pick(bends, -2 * drop * r / whole**2, 0.0), hand.length),
        (pick(bends, 2 * drop / whole, 0.0), radius),
    )
    return pick(in_hand(hand.tip_drop), bent, Quantity(0.0))


def passed_over(sheet: Sheet, hand: Hand, over: Raised) -> Under:
    """What stands under the hand's blade, as `Seat.under`; unknown in height where that cannot be told.

    Heights count from the dial's face at its edge, and from a straight blade: a dome and a bent tip stand higher.
    """
    under: list[tuple[str, Quantity, Truth]] = []
    for item in over:
        passes: Truth = False
        for end in (hand.length, hand.tail):
            if end.known and item.inner_radius.known:
                passes = passes | (end.value > item.inner_radius.value)
        undecided = missing_of(item.inner_radius, hand.length, hand.tail)
        height = item.height
        if sheet.dial.rise.known:
            height = height + over_edge(sheet, item.inner_radius)
        if hand.tip_drop.known:
            height = height + _bent_over(hand, item.inner_radius, item.outer_radius)
        if passes is True or (undecided and passes is False):
            under.append((item.name, height if passes else unknown(*undecided), True))
        elif is_column(passes):
            decided = passes | in_hand(item.inner_radius, hand.length, hand.tail)
            under.append((item.name, pick(decided, height, Quantity(nan)), passes | ~decided))
    if hand.tip_drop.known:
        under.append(("the dial", over_edge(sheet, hand.length) + or_nothing(hand.tip_drop), in_hand(hand.tip_drop)))
    return tuple(under)


def _bent_over(hand: Hand, inner: Quantity, outer: Quantity) -> Quantity:
    """How far the hand has bent down over a marker; the tail, which alone may reach it, is straight."""
    bent = bent_down(hand, least(hand.length, outer))
    if not (hand.length.known and inner.known and bent.known):
        return bent
    return pick(hand.length.value > inner.value, bent, Quantity(0.0))


def under_boss(sheet: Sheet, hand: Hand, over: Raised) -> Under:
    """The furniture that the hour hand's hub stands over; none where the hub's width is not measured."""
    boss = boss_of(hand)
    if not boss.known:
        return ()
    under = []
    for item in over:
        stands: Truth = item.inner_radius.known and 0.5 * boss.value > item.inner_radius.value
        if stands is not False:
            height = item.height + over_edge(sheet, item.inner_radius) if sheet.dial.rise.known else item.height
            under.append((item.name, height, stands))
    return tuple(under)


def as_furniture(p: Pairing, small: Small) -> Furniture | None:
    """A small hand as what the others sweep over, with its height over the dial's face where it stands."""
    if small.seat is None or small.hand is None:
        return None
    seat = small.seat
    reach = reach_of(small.hand)
    inner = small.post.radius - reach
    inner = pick(in_hand(inner) & (inner.value < 0), Quantity(0.0), inner) if inner.known else inner
    height = seat.top_above - p.stack.face
    if p.sheet.dial.rise.known:
        height = height - over_edge(p.sheet, inner)
    return Furniture(f"{small.post.name} hand", inner, small.post.radius + reach, height)
