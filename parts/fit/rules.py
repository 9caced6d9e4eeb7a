"""Bench rules: every tolerance and allowance of the fit check, with its default, unit and reason.

All defaults are common practice, no source, unless the reason names one (check values, section 12: nothing
published was found for hand clearances, interference or dial thickness). A shop may change each.
"""

from dataclasses import dataclass, field, fields

from parts.fit.errors import SheetError
from parts.fit.inputs import told_apart


def rule(default, reason, unit="mm"):
    return field(default=default, metadata={"reason": reason, "unit": unit})


@dataclass(frozen=True, slots=True)
class Rules:
    """One workshop's bench rules; built once and shared by all checks."""

    holder_clearance: float = rule(0.10, "room all round between holder ring and bore, so that the ring drops in")
    wall_min: float = rule(0.80, "thinnest ring wall that prints well: two lines of a 0.4 mm nozzle")
    stem_tol: float = rule(0.10, "how far the stem may sit off the hole's axis before it binds")
    back_gap_min: float = rule(0.10, "least air between movement and case back")
    dial_trim_max: float = rule(0.50, "most that can be taken off a dial's diameter without reaching its print")
    dial_play_min: float = rule(0.02, "least play of the dial in its seat")
    dial_play_max: float = rule(0.30, "most play before the dial needs a centring ring")
    dial_cover_min: float = rule(0.20, "least width of dial edge hidden under the opening's rim")
    centre_open_max: float = rule(1.00, "most that a dial's centre hole can be opened")
    centre_play_min: float = rule(0.10, "least room of the hour post in the centre hole")
    pad_disc_gap: float = rule(0.30, "distance that adhesive pads keep from the date disc")
    pad_width_min: float = rule(0.50, "narrowest pad that still holds a dial")
    post_open_max: float = rule(0.30, "most that a hand's hole can be opened")
    post_press_max: float = rule(0.02, "tightest hole that presses on as it is")
    post_close_max: float = rule(0.02, "loosest hole that closing the collet still cures")
    post_bush_max: float = rule(0.10, "loosest hole that a bush still cures")
    gap_touch: float = rule(0.05, "below this, hands touch when the watch is knocked")
    gap_min: float = rule(0.15, "gap between hands, dial and crystal that needs no special care")
    tip_touch: float = rule(0.10, "least distance from a hand's tip to the rim of the opening")
    tip_min: float = rule(0.20, "distance from a hand's tip to the rim that needs no special care")
    reach_minute_short: float = rule(1.50, "how far the minute hand may end inside the minute track")
    reach_minute_long: float = rule(0.30, "how far the minute hand may reach beyond the minute track")
    reach_hour_short: float = rule(2.00, "how far the hour hand may end inside the hour markers")
    reach_hour_long: float = rule(1.00, "how far the hour hand may reach over the hour markers")
    date_tilt_max: float = rule(12.0, "lean of the shown numeral that a customer may accept: one step of 31", "deg")
    date_offset_fits: float = rule(0.20, "offset of the numeral from the window's centre that nobody sees")
    date_offset_max: float = rule(1.00, "largest offset of the numeral that a customer may accept")
    date_cut_fits: float = rule(0.02, "share of the numeral cut off that nobody sees", "share")
    date_cut_max: float = rule(0.15, "largest share of the numeral cut off that stays readable", "share")
    date_sliver_fits: float = rule(0.05, "sliver of a neighbouring numeral that nobody sees")
    date_sliver_max: float = rule(0.60, "widest sliver of a neighbouring numeral that a customer may accept")
    foot_slack: float = rule(0.05, "how far a dial foot gives way to enter its hole")
    thread_tol: float = rule(0.005, "threads nearer than this are the same size")
    tube_play_max: float = rule(0.15, "most play of the crown on the case tube")
    cell_life_min: float = rule(12.0, "months that a cell should last", "months")
    grip_min: float = rule(0.30, "least length of hub on its post that holds a hand")
    crown_gap: float = rule(0.05, "air left between a pushed-in crown and its seat")
    rough_cut: float = rule(0.50, "length left above L by the rough cut of a stem")
    file_cut: float = rule(0.10, "length left above L by the first filing of a stem")
    stem_long_ok: float = rule(0.0, "how much longer than L a stem may stay; 0 has every stem trimmed")
    spacer_pm: float = rule(0.02, "how truly a spacer is made to its thickness")


_ASCENDING = (
    ("gap_touch", "gap_min"),
    ("tip_touch", "tip_min"),
    ("dial_play_min", "dial_play_max"),
    ("post_close_max", "post_bush_max"),
    ("post_press_max", "post_open_max"),
    ("date_offset_fits", "date_offset_max"),
    ("date_cut_fits", "date_cut_max"),
    ("date_sliver_fits", "date_sliver_max"),
    ("file_cut", "rough_cut"),
)
DEFAULT_RULES = Rules()
RULES = {item.name: item for item in fields(Rules)}


def read_rules(data):
    """The bench rules with `data` (name to number) in place of defaults.

    Raises SheetError for an unknown name, a number that is negative or not finite, and two limits in the wrong order.
    """
    if not data:
        return DEFAULT_RULES
    for name, value in data.items():
        path = f"rules.{name}"
        if name not in RULES:
            raise SheetError(path, value, "a bench rule's name", "no bench rule has this name")
        if told_apart(path, value) < 0:
            raise SheetError(path, value, "0 or more", "a bench rule cannot be negative")
    rules = Rules(**{name: float(value) for name, value in data.items()})
    for lower, upper in _ASCENDING:
        low, high = getattr(rules, lower), getattr(rules, upper)
        if low > high:
            name, value = (lower, low) if lower in data else (upper, high)
            limit = f"at most {upper}, {high:g}" if name == lower else f"at least {lower}, {low:g}"
            raise SheetError(f"rules.{name}", value, limit, "the two limits are in the wrong order")
    return rules
