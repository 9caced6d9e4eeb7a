"""At which edge of which checks a bench rule stands: on one side what fits as it is, on the other what needs work."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Edge:
    """The checks whose value is held against a rule; `other` is the rule at the far edge of what fits, if any."""

    checks: tuple[str, ...]
    fits_above: bool
    other: str = ""


_GAPS = ("gap-hour-dial", "gap-hour-minute", "gap-minute-seconds", "gap-furniture", "gap-crystal")
EDGES = {
    "bore_play_min": Edge(("case-bore",), fits_above=True),
    "back_gap_min": Edge(("back-gap",), fits_above=True),
    "wheel_rise_max": Edge(("hour-wheel",), fits_above=False),
    "dial_play_min": Edge(("dial-seat",), fits_above=True, other="dial_play_max"),
    "dial_play_max": Edge(("dial-seat",), fits_above=False, other="dial_play_min"),
    "dial_cover_min": Edge(("dial-opening",), fits_above=True),
    "furniture_rim_min": Edge(("dial-furniture",), fits_above=True),
    "dial_sunk_max": Edge(("dial-sunk",), fits_above=False),
    "dial_held_min": Edge(("dial-held",), fits_above=True),
    "centre_play_min": Edge(("centre-hole",), fits_above=True),
    "gap_min": Edge(_GAPS, fits_above=True),
    "tip_min": Edge(("tip-clearance",), fits_above=True),
    "date_offset_fits": Edge(("date-position",), fits_above=False),
    "date_cut_fits": Edge(("date-cut",), fits_above=False),
    "date_sliver_fits": Edge(("date-neighbours",), fits_above=False),
    "date_disc_bare": Edge(("date-disc",), fits_above=False),
    "date_depth_max": Edge(("date-depth",), fits_above=False),
    "stem_tube_min": Edge(("stem-tube",), fits_above=True),
    "tube_play_max": Edge(("crown-tube",), fits_above=False),
}
"""The rules about which the bench's own outcomes tell something."""
