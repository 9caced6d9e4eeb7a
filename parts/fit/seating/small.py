"""The small hands, of posts beside the middle: each stands over its own subdial, under the others and the crystal.

Source: fit model section 11.7.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts.fit.arithmetic.quantities import Quantity, or_nothing
from parts.fit.levels.dome import over_edge
from parts.fit.pairing import Seating, Small
from parts.fit.records import SMALL_HANDS, Subdial, SubHand, SubPost
from parts.fit.seating.crystal import gap_at
from parts.fit.seating.lifts import flush_on, set_over
from parts.fit.seating.sweep import reach_of

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


def seat_small_hands(p: Pairing) -> dict[str, Small]:
    """Each post beside the middle with what has its name; none where movement and dial are not both chosen."""
    if not p.movement.subsidiary:
        return {}
    subdials = {item.name: item for item in p.dial.subdials}
    hands = {item.name: item for item in p.hands.subsidiary}
    return {post.name: _small(p, post, subdials.get(post.name), hands.get(post.name)) for post in p.movement.subsidiary}


def _small(p: Pairing, post: SubPost, subdial: Subdial | None, hand: SubHand | None) -> Small:
    face = p.stack.face
    if subdial:
        face = face + over_edge(p.sheet, subdial.radius) if p.sheet.dial.rise.known else face
        face = face - or_nothing(subdial.depth)
    seating = _seating(p, post, hand, face) if subdial and hand else None
    return Small(post, subdial, hand, face, seating)


def _seating(p: Pairing, post: SubPost, hand: SubHand, face: Quantity) -> Seating:
    """The hand set over its subdial; the crystal is lowest where the hand reaches farthest from the middle."""
    room = gap_at(p.case, post.radius + reach_of(hand), p.rules.dome_beyond_max)
    seat = flush_on(p, SMALL_HANDS, hand, post, room, ())
    return set_over(p, [seat], {SMALL_HANDS: hand}, face)
