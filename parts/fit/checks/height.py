"""Along the watch's axis: the spacer, the levels that follow from it, and the air behind the movement.

Source: fit model sections 1 and 9. Depths count from the dial seat towards the case back, levels above the
dial rest count towards the crystal.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from parts.fit.arithmetic.elementwise import Truth, pick
from parts.fit.arithmetic.quantities import SLACK, Quantity, in_hand, measured, unknown
from parts.fit.bands import bands as line
from parts.fit.bands import by_part, by_work, fits, no, work
from parts.fit.pairing import Stack
from parts.fit.records import MADE_SPACER, Sheet
from parts.fit.rules import Rules
from parts.fit.verdicts import Finding, judge

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


def stem_offset(sheet: Sheet) -> Quantity:
    """S = A_c - t_d - a_m: the total spacer that puts the movement's stem on the case's axis."""
    return sheet.case.stem_axis_depth - sheet.dial.thickness - sheet.movement.stem_axis_depth


def spacer(sheet: Sheet, rules: Rules) -> Quantity:
    """The spacer as it will be made: an input of its own, true to spacer_pm; none within stem_tol, never below zero."""
    offset = stem_offset(sheet)
    if not offset.known:
        return unknown(*offset.missing)
    made = pick(needs_spacer(offset, rules), measured(MADE_SPACER, offset.value, rules.spacer_pm), Quantity(0.0))
    return pick(in_hand(offset), made, offset)


def needs_spacer(offset: Quantity, rules: Rules) -> Truth:
    return offset.known and offset.value > rules.stem_tol + SLACK


def stack(sheet: Sheet, rules: Rules, placement: str) -> Stack:
    """The levels with the whole spacer in front of the dial ("front") or behind it ("rear")."""
    made, none = spacer(sheet, rules), Quantity(0.0)
    front, rear = (made, none) if placement == "front" else (none, made)
    face = rear + sheet.dial.thickness
    return Stack(placement, front, rear, front + face, face)


def stem_height(p: Pairing) -> Iterator[Finding]:
    """Whether the stem meets its hole, and the spacer that makes it do so."""
    offset = stem_offset(p.sheet)
    check = judge(
        "stem-height",
        "Stem height",
        offset,
        line(
            no("Even without a spacer the stem sits {size} too deep."),
            -p.rules.stem_tol,
            fits("The stem lines up within {size}; no spacer needed."),
            p.rules.stem_tol,
            work(
                "The stem sits {size} too far forward; a spacer brings it in line.",
                by_part("Make a spacer {value} thick."),
            ),
        ),
        plus_minus=(offset.half_width, "mm"),
        wanted=(p.rules.stem_tol, "mm"),
    )
    if offset.known:
        too_coarse = needs_spacer(offset, p.rules) & (offset.half_width > p.rules.stem_tol + SLACK)
        check = check.unclear_where(
            too_coarse,
            "The {value} spacer cannot be sized yet: stem height is known to ±{plus_minus}, and ±{wanted} is needed.",
        )
    yield check


def back_gap(p: Pairing) -> Iterator[Finding]:
    """Air between the movement's rearmost point and the closed case back."""
    yield judge(
        "back-gap",
        "Back clearance",
        p.case.back_depth - (p.stack.dial_rest + p.movement.back_height),
        line(
            no("The case back will not close: the movement stands {size} too tall."),
            0.0,
            work("Only {value} of clearance to the case back.", by_work("Relieve or re-seat the case back.")),
            p.rules.back_gap_min,
            fits("{value} of clearance to the case back."),
        ),
    )
