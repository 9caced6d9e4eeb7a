"""Bench rules: every tolerance and allowance of the fit check, with its default, unit and reason.

All defaults are common practice, no source, unless the reason names one (check values, section 12: nothing
published was found for hand clearances, interference or dial thickness). A shop may change each.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from typing import Any

from parts.fit.errors import SheetError
from parts.fit.inputs import told_apart


def rule(default: float, label: str, reason: str, unit: str = "mm") -> Any:
    """A rule with its name and reason in words; the reason reads on from the label."""
    return field(default=default, metadata={"label": label, "reason": reason, "unit": unit})


@dataclass(frozen=True, slots=True)
class Rules:
    """One workshop's bench rules; built once and shared by all checks."""

    holder_clearance: float = rule(
        0.10, "Holder ring clearance", "all round between holder ring and bore, so that the ring drops in"
    )
    wall_min: float = rule(
        0.80, "Thinnest printed wall", "thinnest wall that prints well: two lines of a 0.4 mm nozzle"
    )
    shim_max: float = rule(
        0.10, "Thinnest ring", "thinner walls cannot be turned: shim foil fills the gap, or the movement is clamped"
    )
    bore_play_min: float = rule(0.02, "Least play in the bore", "of the movement's widest part, in diameter")
    stem_tol: float = rule(
        0.10, "Stem height tolerance", "how far the stem may sit off the hole's axis before it binds"
    )
    tube_play_min: float = rule(
        0.05,
        "Play left beside a stem off axis",
        "on each side of it, where the tube is so narrow that it sets the stem height tolerance",
    )
    back_gap_min: float = rule(0.10, "Least back clearance", "between movement and case back")
    ring_play_max: float = rule(0.05, "Most play under a rehaut", "of the dial's edge, before a shim takes it up")
    ring_press_min: float = rule(
        0.02, "Least press of a tension ring", "on the dial's edge, so that the movement is held"
    )
    ring_press_max: float = rule(
        0.15, "Most press of a tension ring", "on the dial's edge, before the crystal does not seat"
    )
    dial_trim_max: float = rule(0.50, "Most off a dial's edge", "taken off the diameter before it reaches the printing")
    dial_play_min: float = rule(0.02, "Least dial play", "of the dial in its seat")
    dial_play_max: float = rule(0.30, "Most dial play", "before the dial needs a centring ring")
    dial_cover_min: float = rule(0.20, "Least dial edge covered", "width of the edge that the rim hides")
    centre_open_max: float = rule(1.00, "Most to open a centre hole", "of a dial, in diameter")
    dial_edge_min: float = rule(
        0.10, "Least edge round the minute track", "that a trim leaves outside the marks without catching the eye"
    )
    furniture_rim_min: float = rule(0.10, "Least marker to rim", "from a raised marker to the rim of the dial opening")
    dial_sunk_max: float = rule(0.30, "Dial sunk, unnoticed", "deeper below the rim by a spacer in front of it")
    dial_held_min: float = rule(0.10, "Least hold of the dial's edge", "of the seat's wall on the dial, sideways")
    wheel_rise_max: float = rule(
        0.05, "Hour wheel rise, harmless", "that a spacer behind the dial adds to its endshake"
    )
    date_depth_max: float = rule(0.20, "Date sunk, unnoticed", "below the dial by a spacer or pads behind it")
    date_disc_bare: float = rule(0.02, "Plate beside the disc, unnoticed", "width that the window shows past the disc")
    centre_play_min: float = rule(0.20, "Least play in the centre hole", "of the hour post, in diameter")
    pad_disc_gap: float = rule(0.30, "Pad to date disc", "distance that dial pads keep from the date disc")
    pad_width_min: float = rule(0.50, "Narrowest dial pad", "that still holds a dial")
    pad_thickness: float = rule(0.10, "Dial pad thickness", "of a dial pad that was not measured")
    dial_turn_max: float = rule(1.0, "Most to turn a dial", "so that its feet enter, before the eye sees it", "deg")
    hub_wall: float = rule(0.15, "Thinnest hub wall", "that a hub or a bush keeps round its hole")
    post_open_free: float = rule(
        0.10, "Hand opened without a thought", "of its hole, in diameter; beyond it the hub's wall is looked at"
    )
    post_press_max: float = rule(0.02, "Tightest press fit", "hole smaller than its post, pressed on as it is")
    post_press_thin: float = rule(0.015, "Tightest press fit, thin post", "the same on posts under 0.50 mm")
    post_close_max: float = rule(
        0.03, "Loosest hand to close", "hole larger than its post, cured by closing the collet"
    )
    made_for_tol: float = rule(
        0.005, "Same trade size within", "sizes of hands and posts nearer than this are the same"
    )
    gap_touch: float = rule(0.05, "Hands touch below", "a knock closes any smaller gap")
    gap_min: float = rule(0.15, "Easy gap", "between hands, dial and crystal: needs no special care")
    dome_beyond_max: float = rule(
        0.50,
        "Dome known beyond its edge gap by",
        "how much farther out than its edge gap a dome's room is still trusted",
    )
    tip_touch: float = rule(0.10, "Least tip to rim", "from a hand's tip to the rim of the dial opening")
    tip_min: float = rule(0.20, "Easy tip to rim", "needs no special care when centring the movement")
    reach_minute_short: float = rule(1.50, "Minute hand short by, at most", "ending inside the minute track")
    reach_minute_long: float = rule(0.30, "Minute hand long by, at most", "reaching beyond the minute track")
    reach_hour_short: float = rule(2.00, "Hour hand short by, at most", "ending inside the hour markers")
    reach_hour_long: float = rule(1.00, "Hour hand long by, at most", "reaching over the hour markers")
    date_tilt_max: float = rule(12.0, "Most date tilt", "that a customer may accept: one step of 31", "deg")
    date_offset_fits: float = rule(0.20, "Date off centre, unnoticed", "offset in its window that nobody sees")
    date_offset_max: float = rule(1.00, "Date off centre, at most", "that a customer may accept")
    date_cut_fits: float = rule(
        0.02, "Date cut off, unnoticed", "share of the date that the window's edge hides", "share"
    )
    date_cut_max: float = rule(0.15, "Date cut off, at most", "largest share hidden that still reads", "share")
    date_sliver_fits: float = rule(0.05, "Neighbour showing, unnoticed", "sliver of the day before or after")
    date_sliver_max: float = rule(0.60, "Neighbour showing, at most", "widest sliver that a customer may accept")
    sub_place_min: float = rule(0.10, "Easy post in a subdial", "from a small post to the edge of its hole, all round")
    foot_slack: float = rule(0.05, "Dial foot give", "how far a foot gives way to enter its hole")
    thread_tol: float = rule(
        0.005, "Same thread within", "threads that no table names are the same if nearer than this"
    )
    tube_play_max: float = rule(0.15, "Most crown play", "of the crown on the case tube")
    cell_life_min: float = rule(12.0, "Least cell life", "that a cell should last", "months")
    grip_min: float = rule(0.30, "Least hub grip", "length of hub on its post that holds a hand")
    crown_gap: float = rule(0.05, "Gap under the crown", "left between a pushed-in crown and its seat")
    rough_cut: float = rule(0.50, "Rough cut above L", "length left by the rough cut of a stem")
    file_cut: float = rule(0.10, "First filing above L", "length left by the first filing of a stem")
    stem_short_ok: float = rule(0.05, "Stem may be short by", "under L, what the thread in the crown takes up")
    stem_long_ok: float = rule(0.10, "Stem may stay longer by", "over L, what the crown's thread takes up")
    thread_turns_min: float = rule(
        1.5, "Least thread left on a stem", "the thread's diameter, so that the crown holds", "count"
    )
    stem_tube_min: float = rule(
        0.10, "Tube wider than its stem by", "at least, in diameter, so that the stem turns and slides freely"
    )
    joint_clear_min: float = rule(
        0.10, "Least clearance of a stub", "from the inner part of a split stem to the bore that it passes"
    )
    spacer_pm: float = rule(0.02, "Spacer accuracy ±", "how close a made spacer comes to its thickness")


_ASCENDING = (
    ("gap_touch", "gap_min"),
    ("tip_touch", "tip_min"),
    ("ring_press_min", "ring_press_max"),
    ("dial_play_min", "dial_play_max"),
    ("shim_max", "wall_min"),
    ("post_press_max", "post_open_free"),
    ("date_offset_fits", "date_offset_max"),
    ("date_cut_fits", "date_cut_max"),
    ("date_sliver_fits", "date_sliver_max"),
    ("file_cut", "rough_cut"),
)
DEFAULT_RULES = Rules()
RULES = {item.name: item for item in fields(Rules)}


def read_rules(data: Mapping[str, float]) -> Rules:
    """The bench rules with `data` (name to number) in place of defaults.

    Raises SheetError for an unknown name, a number that is negative or not finite, and two limits in the wrong order.
    """
    if not data:
        return DEFAULT_RULES
    for name, value in data.items():
        path = f"rules.{name}"
        if name not in RULES:
            raise SheetError(path, value, "a bench rule's name", "unknown bench rule")
        if told_apart(path, value) < 0:
            raise SheetError(path, value, "0 or more", "a bench rule is never negative")
    rules = Rules(**{name: float(value) for name, value in data.items()})
    for lower, upper in _ASCENDING:
        low, high = getattr(rules, lower), getattr(rules, upper)
        if low > high:
            name, value = (lower, low) if lower in data else (upper, high)
            limit = f"at most {_quoted(upper)}, {high:g}" if name == lower else f"at least {_quoted(lower)}, {low:g}"
            raise SheetError(f"rules.{name}", value, limit, "the two limits are the wrong way round")
    return rules


def _quoted(name: str) -> str:
    return f"“{RULES[name].metadata['label']}”"
