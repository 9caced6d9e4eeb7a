"""Along the watch's axis: the stem in its hole, and the room behind the movement or above the dial's edge.

Source: fit model sections 1, 9 and 11.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import nan
from typing import TYPE_CHECKING

from parts.fit.arithmetic.elementwise import Number, Truth, is_column, negation, pick
from parts.fit.arithmetic.quantities import SLACK, Quantity, in_hand, unknown
from parts.fit.bands import bands as line
from parts.fit.bands import by_part, by_work, fits, no, work
from parts.fit.levels.stack import has_rise, holder_rise, needs_spacer, pads_before_stem, stem_offset, tolerance
from parts.fit.verdicts import Finding, Following, judge

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


_TOO_DEEP = (
    "Even without a spacer the stem sits {left} too deep.",
    "On the bare floor of the case the stem sits {left} too far forward.",
)
_TOO_DEEP_ON_PADS = "Even without a spacer, on {padding} of pads under the dial, the stem sits {left} too deep."
_TOO_FAR = (
    "The stem sits {size} too far forward; a spacer brings it in line.",
    "The stem sits {size} too deep; a spacer under the movement brings it in line.",
)
_SPACER = (
    by_part("Make a spacer {thickness} thick."),
    by_part("Make a spacer {thickness} thick to lie under the movement, or a holder with a floor of that thickness."),
)
"""What is said of a case loaded from the back, and of one loaded from the front."""
_IN_LINE = (
    "The stem lines up within {left}; no spacer needed.",
    "With {padding} of pads under the dial the stem lines up within {left}; no spacer needed.",
)
"""What is said of a dial on feet, and of one on pads, which lift it off the movement."""


def stem_height(p: Pairing) -> Iterator[Finding]:
    """Whether the stem meets its hole, and the spacer or the holder that makes it do so."""
    own: Truth = p.stack.placement != "ledge" or has_rise(p.sheet)
    if own is False:
        yield _rise_to_make(p)
    else:
        spaced = _spaced(p)
        yield spaced if own is True else pick(own, spaced, _rise_to_make(p))


def _rise_to_make(p: Pairing) -> Finding:
    """Where nothing carries the movement yet: how far over the ledge its holder has to lift the dial rest."""
    rise, allowed = holder_rise(p.sheet), tolerance(p.sheet, p.rules)
    check = judge(
        "stem-height",
        "Stem height",
        rise,
        line(
            work(
                "The stem meets its hole with the dial rest {size} behind the ledge.",
                by_part("Make a holder that carries the dial rest {size} behind the ledge."),
            ),
            0.0,
            work(
                "The stem meets its hole with the dial rest {size} in front of the ledge.",
                by_part("Make a holder that carries the dial rest {size} in front of the ledge."),
            ),
        ),
        by_row=is_column(allowed),
        plus_minus=(rise.half_width, "mm") if rise.known else (None, "mm"),
        wanted=(allowed, "mm"),
    )
    if rise.known:
        check = _where_too_coarse(check, in_hand(rise) & (rise.half_width > allowed + SLACK), allowed, "holder")
        if p.drawn_spacer:
            check = check.no_where(abs(rise.value - p.drawn_spacer) > allowed + SLACK)
    return check


def _where_too_coarse(check: Finding, too_coarse: Truth, allowed: Number, made: str) -> Finding:
    """Unclear where the height is too coarse for what is made; any reading is, where the tube leaves no play."""
    is_tight = allowed <= SLACK
    known = "stem height is known to ±{plus_minus}; ±{wanted} is needed."
    check = check.unclear_where(too_coarse & negation(is_tight), f"The {made} cannot be sized yet: {known}")
    no_play = "the tube leaves the stem no play for any error in height. Open the tube first."
    return check.unclear_where(too_coarse & is_tight, f"The {made} cannot be sized yet: {no_play}")


def _spaced(p: Pairing) -> Finding:
    offset, padding = stem_offset(p.sheet), pads_before_stem(p.sheet, p.rules)
    allowed, front = tolerance(p.sheet, p.rules), p.stack.placement == "floor"
    wanted, on_pads = offset - padding, not is_column(padding.value) and padding.value > 0
    check = judge(
        "stem-height",
        "Stem height",
        offset,
        line(
            no(_TOO_DEEP_ON_PADS if on_pads else _TOO_DEEP[front]),
            padding.value - allowed,
            fits(_IN_LINE[on_pads]),
            padding.value + allowed,
            work(_TOO_FAR[front], _SPACER[front]),
        ),
        plus_minus=(offset.half_width, "mm"),
        by_row=is_column(allowed),
        wanted=(allowed, "mm"),
        left=(abs(wanted.value) if wanted.known else None, "mm"),
        padding=(padding.value if padding.known else None, "mm"),
        thickness=Following(wanted),
    )
    if wanted.known:
        needed = needs_spacer(wanted, allowed)
        too_coarse = needed & (offset.half_width > allowed + SLACK)
        check = _where_too_coarse(check, too_coarse, allowed, "{thickness} spacer")
        if p.drawn_spacer:
            check = check.no_where(abs(wanted.value - p.drawn_spacer) > allowed + SLACK)
    return check


def put_behind(p: Pairing) -> Quantity:
    """What lies between dial and movement; open while a spacer of unknown thickness may still be laid there."""
    made = p.stack.spacer
    if p.sheet.is_movement_standing or p.case.is_front_loaded or p.sheet.spacer.placement == "front":
        return p.once_chosen(p.stack.behind, "dial.thickness", "movement.stem_axis_depth")
    return pick(in_hand(made), p.stack.behind, Quantity(nan)) if made.known else unknown(*made.missing)


def hour_wheel(p: Pairing) -> Iterator[Finding]:
    """How much more the hour wheel can rise under a dial that lies higher on its movement."""
    yield judge(
        "hour-wheel",
        "Hour wheel under the dial",
        put_behind(p),
        line(
            fits("The hour wheel keeps its endshake."),
            p.rules.wheel_rise_max,
            work(
                "What lies behind the dial leaves the hour wheel {value} more endshake.",
                by_part("Get dial washers for {value} over the hour wheel."),
            ),
        ),
        must=False,
    )


def room_behind(p: Pairing) -> Quantity:
    """From the movement's rearmost point to the closed case back."""
    return p.case.back_depth - (p.stack.dial_rest + p.movement.back_height)


def back_gap(p: Pairing) -> Iterator[Finding]:
    """Air between the movement's rearmost point and the closed case back; a case loaded from the front has none."""
    if p.case.is_front_loaded:
        return
    yield judge(
        "back-gap",
        "Back clearance",
        room_behind(p),
        line(
            no("The case back will not close: the movement stands {size} too tall."),
            0.0,
            work("Only {value} of clearance to the case back.", by_work("Relieve or re-seat the case back.")),
            p.rules.back_gap_min,
            fits("{value} of clearance to the case back."),
        ),
    )
