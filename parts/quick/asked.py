"""What a quick check asks for, in the order in which it is measured: what says "no" soonest for the least work first.

Source: measuring at the bench, section 1.2; common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from string import ascii_uppercase
from typing import TYPE_CHECKING

from parts.dimensions.typed import IS, picked_at

if TYPE_CHECKING:
    from parts.models import Pairing


@dataclass(frozen=True, slots=True)
class Asked:
    """One number: its path in the pairing sheet, what it is called here and the quickest way to take it."""

    path: str
    label: str
    way: str = ""


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


CASE = Station(
    "Case",
    "case",
    (
        Asked("case.bore_diameter", "Bore, from the back", "inside jaws below the back's thread"),
        Asked("case.dial_seat_diameter", "Dial seat", "inside jaws, at the shoulder"),
        Asked("case.dial_opening_diameter", "Dial opening", "narrowest in front of the dial"),
        Asked(
            "case.stem_axis_depth",
            "Seat to the stem hole's axis",
            "pin in the tube; or on the old movement, face to stem",
        ),
        Asked("case.back_depth", "Seat to the inside of the back", "back closed, least over the movement"),
        Asked("case.stem_angle", "Where the crown is", "from 12 o'clock; 90° is at 3"),
    ),
    picks=(Pick("dial.own_case", "The watch's own dial", (("", "not said"), ("yes", "yes"))),),
    ran=(
        Asked("gauge.hands", "Top of the old hands", "above the dial seat; they cleared the crystal"),
        Asked("gauge.back", "Back of the old movement", "behind the dial seat; the back closed over it"),
        Asked("gauge.reach", "The longest old hand", "centre to tip; it passed the rim"),
        Asked("gauge.stem", "The old stem, thickness", "it turned freely in the tube"),
    ),
    more=(
        Asked("case.seat_wall", "Height of the seat's wall", "how far the recess holds the dial's edge"),
        Asked("case.crown_seat_radius", "Centre to the crown's seat", "for the stem's length"),
        Asked("case.tube_bore_diameter", "Bore of the case tube", "pins"),
        Asked("case.tube_outer_diameter", "Outside of the case tube", "under the crown"),
    ),
)
DIAL = Station(
    "Dial",
    "dial",
    (
        Asked("dial.diameter", "Diameter", "flat jaws, three directions"),
        Asked("dial.thickness", "Thickness", "at the edge"),
        Asked("dial.centre_hole_diameter", "Centre hole", "pins from behind"),
        Asked("dial.window.angle", "Window, direction", "from 12 o'clock; 90° is at 3"),
        Asked("dial.window.radius", "Window, from the centre", "to its middle"),
        Asked("dial.window.radial", "Window, along the radius", "the clear opening"),
        Asked("dial.window.tangential", "Window, across the radius", "the clear opening"),
    ),
    (
        Pick("dial.fixing", "Held by", (("", "not decided"), ("feet", "feet"), ("pads", "pads"))),
        Pick("dial.window", "Date window", (("", "not looked at"), (IS, "yes"), ("none", "none"))),
    ),
    more=(
        Asked("dial.pad_thickness", "Dial pads, thickness", "pressed, between dial and movement"),
        Asked("dial.minute_track_radius", "Minute track, outer end", "from the centre"),
        Asked("dial.hour_marker_inner_radius", "Hour markers, inner end", "from the centre"),
        Asked("dial.furniture[0].inner_radius", "Raised markers begin", "from the centre"),
        Asked("dial.furniture[0].outer_radius", "Raised markers end", "from the centre"),
        Asked("dial.furniture[0].height", "Raised markers, height", "above the face"),
        *(
            asked
            for i in (0, 1)
            for asked in (
                Asked(f"dial.feet[{i}].angle", f"Foot {i + 1}, direction", "from 12 o'clock, seen from the front"),
                Asked(f"dial.feet[{i}].radius", f"Foot {i + 1}, from the centre", "to its root"),
                Asked(f"dial.feet[{i}].diameter", f"Foot {i + 1}, diameter", "halfway up the shaft"),
            )
        ),
    ),
)
MOVEMENT = Station(
    "Movement",
    "movement",
    (
        Asked("movement.overall_diameter", "Overall diameter", "widest, a full turn"),
        Asked("movement.fit_diameter", "Fit diameter", "the cylinder a holder ring grips"),
        Asked("movement.stem_axis_depth", "Dial rest to the stem's axis", "stem latched"),
        Asked("movement.back_height", "Dial rest to the back", "highest point, largest cell fitted"),
        Asked("movement.posts.hour.diameter", "Hour post, diameter", "where the hub sits"),
        Asked("movement.posts.hour.height", "Hour post, height", "above the dial rest"),
        Asked("movement.posts.minute.diameter", "Minute post, diameter", "where the hub sits"),
        Asked("movement.posts.minute.height", "Minute post, height", "above the dial rest"),
        Asked("movement.posts.seconds.diameter", "Seconds post, diameter", "never with jaws; by a hand that fits"),
        Asked("movement.posts.seconds.height", "Seconds post, height", "above the dial rest"),
    ),
    (Pick("movement.date", "Date", (("", "not looked at"), (IS, "yes"), ("none", "none"))),),
    more=(
        Asked("movement.date.angle", "Date, direction from the stem", "0° where it reads at the crown"),
        Asked("movement.date.numeral_radius", "Date, numerals from the centre", "to their middle"),
        Asked("movement.date.numeral_radial", "Date, numeral along the radius", "as printed"),
        Asked("movement.date.numeral_tangential", "Date, numeral across the radius", "the widest one"),
        Asked("movement.date.disc_inner_radius", "Date disc, inner edge", "from the centre"),
        Asked("movement.date.disc_outer_radius", "Date disc, outer edge", "from the centre"),
        Asked("movement.stem_thread", "Stem thread", "over the crests"),
        Asked("movement.stem_reference_radius", "Centre to where the stem comes out", "half the width at the stem"),
    ),
)
_HAND = (
    ("hole_diameter", "hole", "pins; or the size it is sold as"),
    ("length", "length", "from the hole's centre to the tip"),
    ("tail", "tail", "0 for none"),
    ("thickness", "blade thickness", ""),
    ("hub_height", "hub height", "underside to top"),
)
HANDS = {
    role: Station(
        f"{role.capitalize()} hand",
        f"hands.{role}",
        tuple(Asked(f"hands.{role}.{key}", label.capitalize(), way) for key, label, way in _HAND),
        (Pick("hands.seconds", "Seconds hand", (("", "of the set"), (IS, "the watch's own"), ("none", "none"))),)
        if role == "seconds"
        else (),
        more=(
            Asked(f"hands.{role}.hub_diameter", "Hub diameter", "of the collet"),
            Asked(f"hands.{role}.made_for", "Trade size", "the size it is sold as"),
        ),
    )
    for role in ("hour", "minute", "seconds")
}
CRYSTAL = Station(
    "Last, with the bezel closed",
    "case",
    (
        Asked("case.crystal_gap_centre", "Crystal gap at the centre", "seat to crystal: wax cone, or depth gauge"),
        Asked("case.crystal_gap_edge", "Crystal gap near the rim", "the same, near the rim"),
        Asked("case.crystal_edge_radius", "Radius of that gap", "where you took it"),
    ),
    (Pick("case.crystal", "Crystal", (("", "flat"), (IS, "domed"))),),
)
STATIONS = (CASE, DIAL, MOVEMENT, *HANDS.values(), CRYSTAL)
"""All that a quick check can ask for, in order."""
NUMBERS = {asked.path: asked for station in STATIONS for asked in (*station.asked, *station.ran, *station.more)}
PICKS = {pick.path: pick for station in STATIONS for pick in station.picks}


def letters() -> dict[str, str]:
    """The letter of each number that is asked for first, as on the drawing; past Z none."""
    first = [asked.path for station in (CASE, DIAL, CRYSTAL) for asked in station.asked]
    return dict(zip(first, ascii_uppercase, strict=False))


LETTERS = letters()


def is_asked(path: str, pairing: Pairing) -> bool:
    """Whether a number is still to be asked: not of a part that is chosen, nor what is proven or not there."""
    typed = pairing.typed
    own = picked_at(typed, "dial.own_case") == "yes"
    if own and path in ("case.dial_seat_diameter", "dial.diameter"):
        return False
    if path in ("case.crystal_gap_edge", "case.crystal_edge_radius"):
        return picked_at(typed, "case.crystal") == IS
    for feature in ("dial.window", "movement.date"):
        if path.startswith(f"{feature}."):
            return picked_at(typed, feature) == IS
    if path.startswith("dial.feet"):
        return picked_at(typed, "dial.fixing") == "feet"
    if path == "dial.pad_thickness":
        return picked_at(typed, "dial.fixing") == "pads"
    return True
