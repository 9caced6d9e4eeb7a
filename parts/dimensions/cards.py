"""What each dimension asks of its measuring: how well each kind of tool does there, and what is usual for a watch.

Source: measuring at the bench, section 2. All of it is common practice, no source, but for what that says otherwise.
Lengths in mm, angles in degrees, masses in mg. A number outside the usual is a doubt, never a refusal.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from parts.fit.constructions import EDGES
from parts.fit.records import SMALL_HANDS
from parts.fit.units import UNITS

if TYPE_CHECKING:
    from parts.dimensions.readings import Counts


@dataclass(frozen=True, slots=True)
class Card:
    """One dimension: the least plus-minus by kind of tool, that of any tool, and the usual range.

    `counts` tells which direction of a round part counts; `exact` is one that is a name and not measured; `tool` names
    what takes one that is no length. `never` are kinds that do harm or mislead there: they have their plus-minus for
    who uses them all the same.
    """

    usual: tuple[float, float] | None = None
    counts: Counts = "mean"
    by_kind: dict[str, float] = field(default_factory=dict)
    any_tool: float = 0.0
    exact: bool = False
    tool: str = ""
    never: tuple[str, ...] = ()


def _card(
    low: float | None = None,
    high: float | None = None,
    counts: Counts = "mean",
    *,
    any_tool: float = 0.0,
    exact: bool = False,
    tool: str = "",
    never: tuple[str, ...] = (),
    **by_kind: float,
) -> Card:
    usual = None if low is None or high is None else (low, high)
    return Card(usual, counts, by_kind, any_tool, exact, tool, never)


_JAWS = ("calliper",)
_CASE = {
    "bore_diameter": _card(14, 42, "smallest", calliper=0.05, picture=0.05, discs=0.02),
    "seat_wall": _card(0.15, 1.2, calliper=0.05, depth=0.02),
    "dial_seat_diameter": _card(14, 44, "smallest", calliper=0.05, picture=0.05, discs=0.03),
    "dial_opening_diameter": _card(12, 38, "smallest", calliper=0.05, picture=0.04),
    "stem_axis_depth": _card(1.2, 3.8, calliper=0.07, depth=0.03, indicator=0.03),
    "back_depth": _card(2.5, 9, calliper=0.08, depth=0.04),
    "crystal_gap_centre": _card(1.0, 4.5, calliper=0.06, depth=0.05, microscope=0.03),
    "crystal_gap_edge": _card(0.6, 4.0, calliper=0.06, depth=0.05, microscope=0.03),
    "crystal_edge_radius": _card(7, 17, calliper=0.1),
    "stem_angle": _card(60, 120, picture=0.5),
    "tube_bore_diameter": _card(0.7, 3.0, "smallest", calliper=0.05, picture=0.04, pins=0.01),
    "tube_outer_diameter": _card(1.5, 5.6, "largest", calliper=0.03, micrometer=0.01),
    "crown_seat_radius": _card(9, 24, calliper=0.05, picture=0.1),
    "front_opening_diameter": _card(14, 42, "smallest", calliper=0.05, discs=0.02, picture=0.05),
    "floor_stem": _card(0.8, 5, calliper=0.07, depth=0.03),
    "floor_ring": _card(3, 9, calliper=0.06, depth=0.03),
    "floor_crystal_centre": _card(4, 12, calliper=0.06, depth=0.05),
    "floor_crystal_edge": _card(4, 12, calliper=0.06, depth=0.05),
    "stated_pressure": _card(1, 30, exact=True),
    "crystal_thickness": _card(0.8, 4.5, calliper=0.03, micrometer=0.02),
    "crystal_span": _card(12, 40, calliper=0.05, picture=0.05),
    "back_thickness": _card(0.4, 3, "smallest", calliper=0.03, micrometer=0.02),
    "back_span": _card(12, 42, calliper=0.05, picture=0.05),
    "gasket_section": _card(0.4, 1.2, calliper=0.05, picture=0.04),
    "gasket_diameter": _card(12, 42, calliper=0.2, picture=0.05),
    "groove_diameter": _card(12, 42, calliper=0.05, picture=0.05),
    "groove_depth": _card(0.3, 1.1, calliper=0.05, depth=0.03),
    "groove_width": _card(0.4, 2, calliper=0.05, picture=0.04),
}
_DIAL = {
    "diameter": _card(12, 42, "largest", calliper=0.03, micrometer=0.01, picture=0.04),
    "thickness": _card(0.2, 1.2, calliper=0.03, micrometer=0.01),
    "centre_thickness": _card(0.2, 1.6, calliper=0.03, micrometer=0.01, indicator=0.03),
    "rise": _card(0.0, 0.8, indicator=0.03, microscope=0.03),
    "centre_hole_diameter": _card(1.0, 3.0, "smallest", calliper=0.05, picture=0.03, pins=0.007),
    "minute_track_radius": _card(5, 20, picture=0.05, loupe=0.05),
    "hour_marker_inner_radius": _card(4, 14, picture=0.05, loupe=0.1),
    "pad_thickness": _card(0.08, 0.4, calliper=0.05, micrometer=0.03),
    "window.angle": _card(picture=0.3),
    "window.radius": _card(5, 13, picture=0.04, loupe=0.07),
    "window.radial": _card(1.2, 3.2, picture=0.04, loupe=0.05),
    "window.tangential": _card(1.2, 3.2, picture=0.04, loupe=0.05),
    "feet[].angle": _card(picture=0.2),
    "feet[].radius": _card(4, 20, calliper=0.05, picture=0.05),
    "feet[].diameter": _card(0.5, 1.1, "largest", calliper=0.03, micrometer=0.01),
    "furniture[].inner_radius": _card(picture=0.05, calliper=0.05),
    "furniture[].outer_radius": _card(picture=0.05, calliper=0.05),
    "furniture[].height": _card(0.05, 0.8, calliper=0.1, indicator=0.02, microscope=0.02, never=_JAWS),
}
_TRADE_SIZES = {"hour": (0.9, 2.6), "minute": (0.6, 1.5), "seconds": (0.14, 0.35)}
_MOVEMENT = {
    "fit_diameter": _card(11, 36, "largest", calliper=0.03, micrometer=0.01, picture=0.05),
    "overall_diameter": _card(11, 38, "largest", calliper=0.03, picture=0.05),
    "stem_axis_depth": _card(0.8, 2.8, calliper=0.05, indicator=0.02, picture=0.05),
    "ring_rise": _card(0.2, 3, calliper=0.05, indicator=0.02),
    "back_height": _card(1.6, 5.5, calliper=0.04, indicator=0.02, picture=0.05),
    "stem_thread": _card(0.7, 1.4, calliper=0.03, micrometer=0.01),
    "stem_thread_pitch": _card(calliper=0.03, loupe=0.02),
    "stem_reference_radius": _card(5, 18, calliper=0.04, picture=0.05),
    "foot_holes[].angle": _card(picture=0.3),
    "foot_holes[].radius": _card(6, 16, calliper=0.05, picture=0.04, pins=0.03),
    "foot_holes[].diameter": _card(0.6, 1.2, "smallest", picture=0.04, pins=0.01),
    "date.angle": _card(picture=0.3),
    "date.numeral_radius": _card(4.5, 13, picture=0.05, loupe=0.07),
    "date.numeral_radial": _card(0.8, 2.4, picture=0.05, loupe=0.05),
    "date.numeral_tangential": _card(0.8, 2.4, picture=0.05, loupe=0.05),
    "date.disc_inner_radius": _card(4, 14, picture=0.05),
    "date.disc_outer_radius": _card(4, 14, picture=0.05),
    "cell_capacity": _card(6, 90),
    "current": _card(0.4, 4),
    "unbalance_limits.hour": _card(0.5, 1.5),
    "unbalance_limits.minute": _card(0.3, 1.0),
    "unbalance_limits.seconds": _card(0.05, 0.2),
}
_NO_JAWS = ("calliper", "micrometer", "depth")
_POST_HEIGHTS = {"hour": (0.6, 3.0), "minute": (0.9, 4.0), "seconds": (1.2, 5.0)}
for _role, _size in _TRADE_SIZES.items():
    _MOVEMENT |= {
        f"posts.{_role}.diameter": _card(
            *_size, calliper=0.03, micrometer=0.01, microscope=0.01, never=_NO_JAWS if _role == "seconds" else ()
        ),
        f"posts.{_role}.height": _card(
            *_POST_HEIGHTS[_role],
            calliper=0.05,
            depth=0.02,
            indicator=0.015,
            microscope=0.02,
            picture=0.05,
            never=_NO_JAWS if _role == "seconds" else (),
        ),
        f"posts.{_role}.made_for": _card(*_size, exact=True),
        f"posts.{_role}.end_play": _card(0.0, 0.15, calliper=0.05, indicator=0.02),
    }
_HAND_SIZES = {
    "hour": {"length": (4, 11), "thickness": (0.06, 0.35), "hub": (0.25, 0.9), "collet": (1.5, 3.6), "mass": (2, 30)},
    "minute": {"length": (6, 17), "thickness": (0.06, 0.35), "hub": (0.25, 0.8), "collet": (1.1, 2.6), "mass": (2, 30)},
    "seconds": {"length": (6, 18), "thickness": (0.06, 0.35), "hub": (0.4, 1.8), "collet": (0.4, 1.8), "mass": (1, 15)},
}
_HANDS: dict[str, Card] = {}
for _role, _sizes in _HAND_SIZES.items():
    _HANDS |= {
        f"{_role}.hole_diameter": _card(
            *_TRADE_SIZES[_role], "smallest", calliper=0.05, pins=0.007, picture=0.03, never=_JAWS
        ),
        f"{_role}.tip_drop": _card(0.0, 1.0, microscope=0.05, picture=0.05),
        f"{_role}.made_for": _card(*_TRADE_SIZES[_role], exact=True),
        f"{_role}.length": _card(*_sizes["length"], picture=0.04, loupe=0.07, calliper=0.1, never=_JAWS),
        f"{_role}.tail": _card(0, 8, picture=0.04, loupe=0.07, calliper=0.1, never=_JAWS),
        f"{_role}.thickness": _card(*_sizes["thickness"], micrometer=0.01, microscope=0.02, calliper=0.03),
        f"{_role}.hub_height": _card(*_sizes["hub"], micrometer=0.015, indicator=0.015, calliper=0.05, picture=0.05),
        f"{_role}.hub_diameter": _card(*_sizes["collet"], microscope=0.02, calliper=0.03, picture=0.04),
        f"{_role}.boss_diameter": _card(microscope=0.02, calliper=0.03, picture=0.04),
        f"{_role}.blade_step": _card(0, 0.5, calliper=0.05, microscope=0.02, picture=0.05),
        f"{_role}.cap_thickness": _card(0, 0.35, calliper=0.05, any_tool=0.03),
        f"{_role}.mass": _card(*_sizes["mass"], any_tool=0.4, tool="Balance"),
        f"{_role}.centre_of_mass": _card(0, 7, any_tool=0.3),
    }
_STEM = {
    "thread": _card(0.7, 1.4, calliper=0.03, micrometer=0.01),
    "thread_pitch": _card(calliper=0.03, loupe=0.02),
    "length": _card(4, 20, calliper=0.04, picture=0.05),
    "diameter": _card(0.8, 1.6, "largest", calliper=0.03, micrometer=0.01),
    "thread_length": _card(2, 7, any_tool=0.1),
    "joint.inner_length": _card(4, 9, calliper=0.05, depth=0.05),
    "joint.outer_length": _card(2, 7, calliper=0.05),
    "joint.overlap": _card(0.4, 1.5, calliper=0.1),
    "uncut_gap": _card(0, 10, calliper=0.05, strips=0.03, any_tool=0.03),
}
_CROWN = {
    "thread": _card(0.7, 1.4, calliper=0.03),
    "thread_pitch": _card(calliper=0.03, loupe=0.02),
    "bore_depth": _card(1.0, 4.0, any_tool=0.05),
    "tube_bore_diameter": _card(1.7, 5.6, "smallest", calliper=0.05, pins=0.01, picture=0.04),
    "spring_travel": _card(0.4, 1.6, any_tool=0.05),
}
CARDS = {
    f"{part}.{key}": card
    for part, cards in (
        ("case", _CASE),
        ("dial", _DIAL),
        ("movement", _MOVEMENT),
        ("hands", _HANDS),
        ("stem", _STEM),
        ("crown", _CROWN),
    )
    for key, card in cards.items()
}
"""Every dimension that a card speaks of, by its path in the pairing sheet; items of a list stand under "[]"."""
_CORNER = _card(0, 12, any_tool=0.2)
_ROUND_TOOL = "discs"
"""What measures a round hole alone."""
_ACROSS = {
    f"{outline}.{side}": replace(
        CARDS[diameter],
        usual=(5, 45),
        counts="mean",
        by_kind={kind: limit for kind, limit in CARDS[diameter].by_kind.items() if kind != _ROUND_TOOL},
    )
    for diameter, (outline, _) in EDGES.items()
    for side in ("width", "height")
}
OUTLINES = _ACROSS | {f"{outline}.corner": _CORNER for outline, _ in EDGES.values()}
"""The sizes of outlines."""
SMALL = {
    "dial.subdials[].angle": CARDS["dial.window.angle"],
    "dial.subdials[].radius": _card(2, 12, picture=0.04, loupe=0.07),
    "dial.subdials[].hole_diameter": _card(0.3, 2, "smallest", calliper=0.05, picture=0.03, pins=0.007),
    "dial.subdials[].depth": _card(0, 0.5, calliper=0.05, indicator=0.02, microscope=0.02),
    "movement.subsidiary[].angle": CARDS["movement.foot_holes[].angle"],
    "movement.subsidiary[].radius": _card(2, 12, calliper=0.05, picture=0.04),
    "movement.subsidiary[].diameter": CARDS["movement.posts.seconds.diameter"],
    "movement.subsidiary[].height": replace(CARDS["movement.posts.seconds.height"], usual=(0.3, 3)),
} | {
    f"hands.{SMALL_HANDS}[].{name}": replace(CARDS[f"hands.seconds.{name}"], usual=usual)
    for name, usual in (
        *(("hole_diameter", (0.14, 0.35)), ("length", (1, 6)), ("tail", (0, 3)), ("thickness", (0.05, 0.3))),
        *(("hub_height", (0.2, 1.5)), ("hub_diameter", (0.4, 1.5))),
    )
}
"""The sizes of subdials, small posts and small hands, which a part's form has as a line each."""
_PIECES = OUTLINES | SMALL
_NO_CARD = Card()


def card_of(path: str) -> Card:
    """The numbers for a path ("dial.feet[1].radius"); none where nothing is known of it."""
    row = of_every_row(path)
    return CARDS.get(row) or _PIECES.get(row, _NO_CARD)


def has_card(path: str) -> bool:
    """Whether a card tells how a person takes what stands at a path; not of bench rules."""
    row = of_every_row(path)
    return row in CARDS or row in _PIECES


def of_every_row(path: str) -> str:
    """A path without the number of its row: "dial.feet[].radius"."""
    return re.sub(r"\[\d*\]", "[]", path)


def unusual(path: str, value: float, *, unit: str) -> str:
    """A doubt in a sentence, for a value outside the usual of its dimension; empty inside."""
    usual = card_of(path).usual
    if usual is None or usual[0] - 1e-9 <= value <= usual[1] + 1e-9:
        return ""
    low, high = (f"{end:.2f}" if unit == "mm" else f"{end:g}" for end in usual)
    return f"Look again: {low} to {high}{UNITS[unit].behind} is usual."
