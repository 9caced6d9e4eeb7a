"""What a quick check asks for, in the order in which it is measured: what says "no" soonest for the least work first.

Source: measuring at the bench, section 1.2; common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from string import ascii_uppercase
from typing import TYPE_CHECKING

from parts.dimensions.cards import has_card
from parts.dimensions.typed import (
    FROM_THE_FRONT,
    IS,
    OUTLINES,
    ROUND,
    counts,
    diameter_of,
    has_small,
    measured_path,
    picked_at,
    shape_of,
)
from parts.fit.constructions import BACK_NUMBERS
from parts.fit.records import SMALL_HANDS, input_of

if TYPE_CHECKING:
    from parts.models import Pairing


@dataclass(frozen=True, slots=True)
class Asked:
    """One number: its path in the pairing sheet, the quickest way to take it, and what it is of within its station.

    It is called as everywhere; only what bounds another number has a name of its own.
    """

    path: str
    way: str = ""
    of: str = ""
    name: str = ""

    @property
    def label(self) -> str:
        words = self.name or input_of(measured_path(self.path)).label
        return f"{self.of}, {words}" if self.of else f"{words[:1].upper()}{words[1:]}"

    @property
    def has_card(self) -> bool:
        return has_card(self.path)


@dataclass(frozen=True, slots=True)
class Pick:
    """Something to look at and not to measure: (word of the choice, label) pairs, "" for not looked at."""

    path: str
    label: str
    options: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Station:
    """Numbers that are taken in one go. `part` is the part they are of.

    Folded: `ran`, what ran together in the watch as it came and bounds what is not measured; `more`, the seldom ones.
    """

    title: str
    part: str
    asked: tuple[Asked, ...] = ()
    picks: tuple[Pick, ...] = ()
    ran: tuple[Asked, ...] = ()
    more: tuple[Asked, ...] = ()


def _across(diameter: Asked, way: str, of: str = "") -> tuple[Asked, Asked, Asked, Asked]:
    """A diameter, and what is asked for in its place where the part is not round."""
    outline = OUTLINES[diameter.path]
    return (
        diameter,
        Asked(f"{outline}.width", f"{way}, 9 to 3 through the middle", of),
        Asked(f"{outline}.height", f"{way}, 12 to 6 through the middle", of),
        Asked(f"{outline}.corner", "radius gauge; 0 for sharp corners", of),
    )


SHAPES = (("rectangle", "rectangle, cushion"), ("oval", "oval"))
RINGS = (("rehaut", "rehaut"), ("tension", "tension ring"))
CASE = Station(
    "Case",
    "case",
    (
        *_across(
            Asked("case.bore_diameter", "inside jaws where the movement lies, clear of any thread"),
            "inside jaws",
            "Bore",
        ),
        *_across(Asked("case.dial_seat_diameter", "inside jaws, at the shoulder"), "inside jaws", "Dial seat"),
        *_across(
            Asked("case.dial_opening_diameter", "narrowest in front of the dial"),
            "in front of the dial",
            "Dial opening",
        ),
        Asked("case.stem_axis_depth", "seat to the stem hole: pin in the tube; or on the old movement, face to stem"),
        Asked("case.back_depth", "seat to the inside of the back, closed; least over the movement"),
        Asked("case.stem_angle", "where the crown is, from 12 o'clock; 90° is at 3"),
        *_across(
            Asked("case.front_opening_diameter", "narrowest from the front, crystal and ring out"),
            "crystal and ring out",
            "Front opening",
        ),
        Asked("case.floor_stem", "case floor to the stem hole's axis: pin in the tube, from the front rim"),
        Asked("case.floor_ring", "case floor to the ring's underside, case closed"),
    ),
    picks=(
        Pick("case.shape", "Shape inside", (("", "round"), *SHAPES)),
        Pick("case.construction", "Loaded from", (("", "the back"), ("front", "the front"))),
        Pick("dial.own_case", "The watch's own dial", (("", "not said"), ("yes", "yes"))),
        Pick("case.ring", "Over the dial, from the front", (("", "not looked at"), *RINGS)),
        Pick("dial.rests_on", "Dial rests on", (("", "the case's seat"), ("movement", "the movement"))),
    ),
    ran=(
        Asked("gauge.hands", "above the dial seat; they cleared the crystal", name="Top of the old hands"),
        Asked("gauge.back", "behind the dial seat; the back closed over it", name="Back of the old movement"),
        Asked("gauge.reach", "centre to tip; it passed the rim", name="The longest old hand"),
        Asked("gauge.stem", "it turned freely in the tube", name="The old stem, thickness"),
    ),
    more=(
        Asked("case.seat_wall", "how far the recess holds the dial's edge"),
        Asked("case.crown_seat_radius", "centre to the crown's seat, for the stem's length"),
        Asked("case.tube_bore_diameter", "pins"),
        Asked("case.tube_outer_diameter", "under the crown"),
    ),
)
DIAL = Station(
    "Dial",
    "dial",
    (
        *_across(Asked("dial.diameter", "flat jaws, three directions"), "flat jaws", "Dial"),
        Asked("dial.thickness", "at the edge"),
        Asked("dial.centre_hole_diameter", "pins from behind"),
        Asked("dial.window.angle", "from 12 o'clock; 90° is at 3", "Window"),
        Asked("dial.window.radius", "from the centre to its middle", "Window"),
        Asked("dial.window.radial", "the clear opening along the radius", "Window"),
        Asked("dial.window.tangential", "the clear opening across the radius", "Window"),
        Asked("dial.subdials[0].angle", "from 12 o'clock; 180° is at 6", "Subdial"),
        Asked("dial.subdials[0].radius", "from the centre to its hole's middle", "Subdial"),
        Asked("dial.subdials[0].hole_diameter", "pins from behind", "Subdial"),
        Asked("dial.subdials[0].depth", "how far it lies below the face; 0 for level", "Subdial"),
    ),
    (
        Pick("dial.shape", "Shape", (("", "as the case"), (ROUND, "round"), *SHAPES)),
        Pick("dial.fixing", "Held by", (("", "not decided"), ("feet", "feet"), ("pads", "pads"))),
        Pick("dial.window", "Date window", (("", "not looked at"), (IS, "yes"), ("none", "none"))),
        Pick("dial.subdials", "Small seconds", (("", "none"), (IS, "yes"))),
    ),
    more=(
        Asked("dial.pad_thickness", "pressed, between dial and movement"),
        Asked("dial.minute_track_radius", "outer end, from the centre"),
        Asked("dial.hour_marker_inner_radius", "from the centre"),
        Asked("dial.furniture[0].inner_radius", "where they begin, from the centre", "Raised markers"),
        Asked("dial.furniture[0].outer_radius", "where they end, from the centre", "Raised markers"),
        Asked("dial.furniture[0].height", "above the face", "Raised markers"),
        *(
            asked
            for i in (0, 1)
            for asked in (
                Asked(f"dial.feet[{i}].angle", "from 12 o'clock, seen from the front", f"Foot {i + 1}"),
                Asked(f"dial.feet[{i}].radius", "to its root", f"Foot {i + 1}"),
                Asked(f"dial.feet[{i}].diameter", "halfway up the shaft", f"Foot {i + 1}"),
            )
        ),
    ),
)
MOVEMENT = Station(
    "Movement",
    "movement",
    (
        *_across(Asked("movement.overall_diameter", "widest, a full turn"), "widest", "Overall"),
        *_across(Asked("movement.fit_diameter", "the cylinder a holder ring grips"), "where a ring grips", "Fit"),
        Asked("movement.stem_axis_depth", "dial rest to the stem's axis, stem latched"),
        Asked("movement.back_height", "dial rest to the highest point, largest cell fitted"),
        Asked("movement.posts.hour.diameter", "where the hub sits", "Hour post"),
        Asked("movement.posts.hour.height", "above the dial rest", "Hour post"),
        Asked("movement.posts.minute.diameter", "where the hub sits", "Minute post"),
        Asked("movement.posts.minute.height", "above the dial rest", "Minute post"),
        Asked("movement.posts.seconds.diameter", "never with jaws; by a hand that fits", "Seconds post"),
        Asked("movement.posts.seconds.height", "above the dial rest", "Seconds post"),
        Asked("movement.subsidiary[0].angle", "from the stem; 90° at 6 with the crown at 3", "Small seconds post"),
        Asked("movement.subsidiary[0].radius", "from the centre to its axis", "Small seconds post"),
        Asked("movement.subsidiary[0].diameter", "never with jaws; by a hand that fits", "Small seconds post"),
        Asked("movement.subsidiary[0].height", "above the dial rest", "Small seconds post"),
    ),
    (
        Pick("movement.shape", "Shape", (("", "round"), *SHAPES)),
        Pick("movement.date", "Date", (("", "not looked at"), (IS, "yes"), ("none", "none"))),
        Pick("movement.subsidiary", "Small seconds", (("", "none"), (IS, "yes"))),
    ),
    more=(
        Asked("movement.date.angle", "from the stem; 0° where it reads at the crown", "Date"),
        Asked("movement.date.numeral_radius", "from the centre to their middle", "Date"),
        Asked("movement.date.numeral_radial", "along the radius, as printed", "Date"),
        Asked("movement.date.numeral_tangential", "across the radius, the widest one", "Date"),
        Asked("movement.date.disc_inner_radius", "from the centre", "Date"),
        Asked("movement.date.disc_outer_radius", "from the centre", "Date"),
        Asked("movement.stem_thread", "over the crests"),
        Asked("movement.stem_reference_radius", "centre to where the stem comes out: half the width there"),
    ),
)
OWN_HANDS = "hands.own"
"""The choice that says whose the hour and minute hands are; it changes no number."""
_HAND_PICKS = {
    "hour": (Pick(OWN_HANDS, "Hour and minute hands", (("", "new, or not said"), (IS, "the watch's own"))),),
    "seconds": (
        Pick("hands.seconds", "Seconds hand", (("", "of the set"), (IS, "the watch's own"), ("none", "none"))),
    ),
}
_HAND = (
    ("hole_diameter", "pins; or the size it is sold as"),
    ("length", "from the hole's centre to the tip"),
    ("tail", "0 for none"),
    ("thickness", ""),
    ("hub_height", "underside to top"),
)
HANDS = {
    role: Station(
        f"{role.capitalize()} hand",
        f"hands.{role}",
        tuple(Asked(f"hands.{role}.{key}", way) for key, way in _HAND),
        _HAND_PICKS.get(role, ()),
        more=(
            Asked(f"hands.{role}.hub_diameter", "of the collet"),
            Asked(f"hands.{role}.made_for", "the size it is sold as"),
        ),
    )
    for role in ("hour", "minute", "seconds")
}
SMALL_HAND = Station(
    "Small seconds hand",
    f"hands.{SMALL_HANDS}",
    tuple(Asked(f"hands.{SMALL_HANDS}[0].{key}", way) for key, way in _HAND),
    (Pick(f"hands.{SMALL_HANDS}", "Small seconds hand", (("", "of the set"), (IS, "the watch's own"))),),
    more=(Asked(f"hands.{SMALL_HANDS}[0].hub_diameter", "of the collet"),),
)
CRYSTAL = Station(
    "Last, with the bezel closed",
    "case",
    (
        Asked("case.crystal_gap_centre", "seat to crystal: wax cone, or depth gauge"),
        Asked("case.crystal_gap_edge", "the same, near the rim"),
        Asked("case.floor_crystal_centre", "case floor to crystal: wax cone"),
        Asked("case.floor_crystal_edge", "the same, near the rim"),
        Asked("case.crystal_edge_radius", "where you took the one at the edge"),
    ),
    (Pick("case.crystal", "Crystal", (("", "flat"), (IS, "domed"))),),
)
STATIONS = (CASE, DIAL, MOVEMENT, *HANDS.values(), SMALL_HAND, CRYSTAL)
"""All that a quick check can ask for, in order."""
NUMBERS = {asked.path: asked for station in STATIONS for asked in (*station.asked, *station.ran, *station.more)}
PICKS = {pick.path: pick for station in STATIONS for pick in station.picks}


LOOKED_AT = {"dial.feet": "dial.fixing", "dial.window": "dial.window", "movement.date": "movement.date"}
"""The choice by which the page asks for what is there or not; its numbers follow once it is there."""


FROM_THE_BACK = frozenset(f"case.{name}" for name in BACK_NUMBERS)
"""What is not asked of a case loaded from the front."""
LAST = frozenset(asked.path for asked in CRYSTAL.asked)
"""What is measured last, with the bezel closed."""


def _letters(*, but: frozenset[str]) -> dict[str, str]:
    """The letter of each number that is asked for first, as on the drawing; past Z none.

    An outline's numbers have the letter of the diameter in whose place they stand.
    """
    asked = [asked.path for station in (CASE, DIAL, CRYSTAL) for asked in station.asked]
    first = [path for path in asked if diameter_of(path) not in but and "subdials" not in path]
    letter_of = dict(zip(dict.fromkeys(map(diameter_of, first)), ascii_uppercase, strict=False))
    return {path: letter_of[diameter_of(path)] for path in first if diameter_of(path) in letter_of}


LETTERS = {False: _letters(but=FROM_THE_FRONT), True: _letters(but=FROM_THE_BACK)}
"""The letters by path, of a case loaded from the back, and of one loaded from the front."""


_FROM_THE_LEDGE = {
    "case.stem_axis_depth": "ledge that the movement stands on, to the stem hole: pin in the tube",
    "case.back_depth": "ledge that the movement stands on, to the inside of the back, closed; least over the movement",
    "case.crystal_gap_centre": "ledge that the movement stands on, to the crystal: depth gauge",
    "gauge.hands": "above the ledge that the movement stands on; they cleared the crystal",
    "gauge.back": "behind the ledge that the movement stands on; the back closed over it",
}
"""The way of each number that counts from the ledge where the dial rests on the movement."""


def at_its_datum(asked: Asked, pairing: Pairing) -> Asked:
    """The number with its way from where it counts: the ledge, where the dial rests on the movement, or the seat."""
    return replace(asked, way=_FROM_THE_LEDGE.get(asked.path, asked.way)) if rests_on_movement(pairing) else asked


def rests_on_movement(pairing: Pairing) -> bool:
    """Whether the dial, chosen or typed, rests on the movement."""
    on = pairing.dial.rests_on if pairing.dial else picked_at(pairing.typed, "dial.rests_on")
    return on == "movement" and not is_from_the_front(pairing)


def letters_of(pairing: Pairing) -> dict[str, str]:
    """The letters by path, in order, of the side that the pairing's case is loaded from."""
    return LETTERS[is_from_the_front(pairing)]


def is_from_the_front(pairing: Pairing) -> bool:
    """Whether the case, chosen or typed, is loaded from the front."""
    return pairing.case.loading == "front" if pairing.case else picked_at(pairing.typed, "case.construction") == "front"


def is_asked(path: str, pairing: Pairing) -> bool:
    """Whether a number is still to be asked: not of a part that is chosen, nor what is proven or not there.

    What the watch's own dial proves stays where it was typed, for there it counts.
    """
    typed, across = pairing.typed, diameter_of(path)
    if not counts(path, typed, pairing.beside_typed):
        return False
    own = picked_at(typed, "dial.own_case") == "yes"
    if own and across in ("case.dial_seat_diameter", "dial.diameter") and path not in typed:
        return False
    if across in FROM_THE_BACK and is_from_the_front(pairing):
        return False
    if path in ("case.crystal_gap_edge", "case.floor_crystal_edge", "case.crystal_edge_radius"):
        return picked_at(typed, "case.crystal") == IS
    for feature in ("dial.window", "movement.date"):
        if path.startswith(f"{feature}."):
            return picked_at(typed, feature) == IS
    if path.startswith("dial.feet"):
        return picked_at(typed, "dial.fixing") == "feet"
    if path == "dial.pad_thickness":
        return picked_at(typed, "dial.fixing") == "pads"
    return True


_ONLY_FROM = {"case.ring": "front", "dial.rests_on": ""}
"""The side that a case is loaded from where these choices mean something, "" for the back."""


def is_offered(pick: Pick, pairing: Pairing) -> bool:
    """Whether a choice is to be shown: one that a construction does without is not, unless it was picked before.

    A dial has its case's shape, which is asked for only where that is not round.
    """
    if pick.path in _ONLY_FROM and not picked_at(pairing.typed, pick.path):
        return picked_at(pairing.typed, "case.construction") == _ONLY_FROM[pick.path]
    if pick.path == SMALL_HAND.part:
        return has_small(pairing.typed, pairing.beside_typed)
    if pick.path == "dial.shape":
        return bool(picked_at(pairing.typed, pick.path) or shape_of("dial", pairing.typed, pairing.beside_typed))
    return True
