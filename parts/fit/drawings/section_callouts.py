"""What the section's labels say and where they point: each of the report's checks that can be seen in a section."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, TypeAlias

from parts.fit.drawings.callouts import Callout
from parts.fit.drawings.section_pieces import ring_of
from parts.fit.records import Case
from parts.fit.units import with_unit

if TYPE_CHECKING:
    from parts.fit.drawings.section_numbers import Measured, Section

Span: TypeAlias = tuple[()] | tuple[float, float]
_OF_THE_SEAT = ("dial-seat", "dial-opening")
"""What has no number where the seat is only indicated: the dial came out of this case."""
Spot: TypeAlias = tuple[float, float, Span] | None
"""Where a label points, with the ends of its gap where it has one; None where that is not measured."""


def across(s: Section) -> tuple[list[Callout], list[Callout]]:
    """The labels of the whole section, as (above, below) the watch."""
    above = [*_crystal(s), *_one(s, "gap-furniture", _furniture_spot), *_one(s, "tip-clearance", _tip_spot)]
    above += [*_one(s, "ring-gap", _ring_spot, "Ring over the dial")]
    above += [*_one(s, "front-opening", lambda s: _at(s.r_front, s.d_high * 0.8, -1))]
    below = _one(s, "joint-clear", lambda s: _at(s.r_bore, s.d_stem))
    above += [*_one(s, "dial-seat", lambda s: _at(s.r_seat, s.front, -1)), *_one(s, "dial-opening", _opening_spot)]
    below += [*_one(s, "back-gap", _back_spot), *_one(s, "holder-wall", _wall_spot), *_one(s, "case-bore", _bore_spot)]
    surplus = s.report["stem-length"].value
    length = "Stem: short by" if surplus.known and surplus.value < 0 else "Stem: cut off"
    spacer = _spacer(s)
    if spacer and s.p.stack.placement == "front":
        above += spacer
    else:
        below += spacer or _one(s, "stem-height", _stem_spot, "Stem off its axis")
    below += _one(s, "stem-length", _stem_end_spot, length)
    return above, below


_SPACER_WORDS = {
    "front": "Spacer in front, edge in sight",
    "rear": "Spacer behind, out of sight",
    "floor": "Spacer under the movement",
    "ledge": "Spacer on the ledge",
}


def _spacer(s: Section) -> list[Callout]:
    """The spacer as it is made, where there is one, and whether it will be seen."""
    place, thickness, ring = _stem_spot(s), s.p.stack.thickness, ring_of(s)
    if not place or not thickness:
        return []
    x, y = ((ring[0] + ring[1]) / 2, (ring[2] + ring[3]) / 2) if ring else place[:2]
    words = _SPACER_WORDS[s.p.stack.placement]
    number, verdict = with_unit(thickness, "mm"), str(s.report["stem-height"].verdict)
    return [Callout(x, y, words, number, verdict, key="stem-height")]


def centre(s: Section) -> list[Callout]:
    """The labels of the close-up at the centre."""
    seats = s.p.seating.seats
    spots = {"gap-hour-dial": ("hour", s.front, "hour to dial")}
    for lower, upper in (("hour", "minute"), ("minute", "seconds")):
        if upper in seats:
            spots[f"gap-{lower}-{upper}"] = (upper, s.depth_above_rest(seats[lower].top), f"{upper} to {lower}")
    labels = []
    for key, (name, floor, words) in spots.items():
        hub = getattr(s.p.hands, name).hub_diameter
        under = s.depth_above_rest(seats[name].hub_bottom)
        if floor is not None and under is not None and hub.known:
            labels += _callout(s, key, hub.value * 0.4, (floor + under) / 2, (floor, under), words)
    if s.r_hole is not None and s.front is not None:
        labels += _callout(s, "centre-hole", s.r_hole, s.front, words="post in dial")
    return labels


def _callout(
    s: Section, key: str, x: float, y: float, span: Span = (), words: str = "", *, signed: bool = True
) -> list[Callout]:
    check = s.report[key]
    if not check.value.known or (s.indicated and key in _OF_THE_SEAT):
        return []
    value = check.value.value if signed else abs(check.value.value)
    return [Callout(x, y, words or check.title, with_unit(value, check.unit), str(check.verdict), span, key)]


def _one(s: Section, key: str, spot: Callable[[Section], Spot], words: str = "") -> list[Callout]:
    """The label of one check, by its title or by `words` that say which way the number counts, without its sign."""
    if not any(check.key == key for check in s.report.checks):
        return []
    if not (place := spot(s)):
        return []
    x, y, span = place
    return _callout(s, key, x, y, span, words, signed=not words)


def _at(x: Measured, y: Measured, side: int = 1) -> Spot:
    return (side * x, y, ()) if x is not None and y is not None else None


def _crystal(s: Section) -> list[Callout]:
    """The gap to the crystal at the hand that has the least of it."""
    tops = {name: s.depth_above_rest(seat.top) for name, seat in s.p.seating.seats.items()}
    check = s.report["gap-crystal"]
    name = str(check.words.get("hand", ""))
    if not check.value.known or tops.get(name) is None:
        return []
    hand = getattr(s.p.hands, name)
    ends = [end.value for end in (hand.length, hand.tail) if end.known]
    reach = max(ends, default=0.0) if not _bowed_in(s.p.case) else 0.0
    glass = tops[name] - check.value.value
    return _callout(s, "gap-crystal", reach, (tops[name] + glass) / 2, (tops[name], glass))


def _ring_spot(s: Section) -> Spot:
    if s.r_dial is None or s.r_opening is None or s.front is None:
        return None
    return -(s.r_dial + s.r_opening) / 2, s.front / 2, (0.0, s.front)


def _bowed_in(case: Case) -> bool:
    """Whether the crystal is nearest to the hands at the centre."""
    centre, edge = case.crystal
    return centre.known and edge.known and edge.value > centre.value


def _furniture_spot(s: Section) -> Spot:
    pieces = [item for item in s.p.dial.furniture if item.inner_radius.known and item.height.known]
    if not pieces or s.front is None:
        return None
    highest = max(pieces, key=lambda item: item.height.value)
    return -highest.inner_radius.value, s.front - highest.height.value, ()


def _tip_spot(s: Section) -> Spot:
    ends = [seat for seat in s.p.seating.seats.values() if s.depth_above_rest(seat.top) is not None]
    if not ends or s.r_opening is None:
        return None
    return s.r_opening, s.depth_above_rest(ends[-1].top), ()


def _opening_spot(s: Section) -> Spot:
    return _at(s.r_opening, 0.0, -1)


def _back_spot(s: Section) -> Spot:
    if s.d_back is None or s.d_case_back is None:
        return None
    return -0.35 * (s.r_fit or 10.0), (s.d_back + s.d_case_back) / 2, (s.d_back, s.d_case_back)


def _wall_spot(s: Section) -> Spot:
    wall = s.report["holder-wall"].value
    if s.d_rest is None or not wall.known or wall.value < 0:
        return None
    return -(s.r_bore + s.r_fit) / 2, s.d_low - 0.4, ()


def _bore_spot(s: Section) -> Spot:
    return _at(s.r_bore, s.d_rest + 0.2, -1) if s.d_rest is not None else None


def _stem_spot(s: Section) -> Spot:
    return _at(s.r_bore, s.d_hole)


def _stem_end_spot(s: Section) -> Spot:
    return _at(s.r_edge + 0.4, s.d_stem)
