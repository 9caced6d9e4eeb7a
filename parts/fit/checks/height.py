"""Along the watch's axis: the spacer, the levels that follow from it, and the air behind the movement.

Source: fit model sections 1 and 9. Depths count from the dial seat towards the case back, levels above the
dial rest count towards the crystal.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import nan
from typing import TYPE_CHECKING

from parts.fit.arithmetic.elementwise import Number, Truth, is_column, known_or, lower, pick, upper
from parts.fit.arithmetic.quantities import SLACK, Quantity, in_hand, measured, or_else, unknown
from parts.fit.bands import bands as line
from parts.fit.bands import by_part, by_work, fits, no, work
from parts.fit.pairing import Stack
from parts.fit.records import MADE_SPACER, Sheet
from parts.fit.rules import Rules
from parts.fit.verdicts import Finding, judge

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


def stem_offset(sheet: Sheet) -> Quantity:
    """S = A_c - t_d - a_m: how far the movement's stem has to come back to lie on the case's axis."""
    return sheet.case.stem_axis_depth - sheet.dial.thickness - sheet.movement.stem_axis_depth


def pads(sheet: Sheet, rules: Rules) -> Quantity:
    """Thickness of the dial pads under the dial, the rule's where they were not measured; 0 without pads."""
    if sheet.dial.fixing != "pads":
        return Quantity(0.0)
    thickness = sheet.dial.pad_thickness
    return or_else(thickness, Quantity(rules.pad_thickness))


def tolerance(sheet: Sheet, rules: Rules) -> Number:
    """How far the stem may sit off the hole's axis: the rule's, or less where the tube leaves the stem less room."""
    play = 0.5 * (sheet.case.tube_bore_diameter - stem_diameter(sheet))
    if not play.known:
        return rules.stem_tol
    by_tube = upper(0.0, play.value - rules.tube_play_min)
    return lower(rules.stem_tol, known_or(by_tube, rules.stem_tol))


def stem_diameter(sheet: Sheet) -> Quantity:
    """The stem's body, its thread where the body was not measured."""
    return or_else(sheet.stem.diameter, sheet.stem.thread)


def spacer(sheet: Sheet, rules: Rules) -> Quantity:
    """The spacer as it will be made: an input of its own, true to spacer_pm; none within the tolerance.

    It is never below zero. Pads under the dial take up their part of the offset.
    """
    offset = stem_offset(sheet)
    if not offset.known:
        return unknown(*offset.missing)
    wanted = offset - pads(sheet, rules)
    made = measured(MADE_SPACER, wanted.value, rules.spacer_pm)
    return pick(
        in_hand(offset), pick(needs_spacer(wanted, tolerance(sheet, rules)), made, Quantity(0.0)), Quantity(nan)
    )


def needs_spacer(wanted: Quantity, allowed: Number) -> Truth:
    """Whether what is left of the stem's offset once pads are counted is more than the tolerance."""
    return wanted.known and wanted.value > allowed + SLACK


def stack(sheet: Sheet, rules: Rules, placement: str, made: Quantity | None = None) -> Stack:
    """The levels with the whole spacer in front of the dial ("front") or behind it ("rear").

    `made` is the spacer where it is not to be worked out from the sheet.
    """
    made, none = made or spacer(sheet, rules), Quantity(0.0)
    front, rear = (made, none) if placement == "front" else (none, made)
    behind = rear + pads(sheet, rules)
    face = behind + sheet.dial.thickness
    at_hub = behind + or_else(sheet.dial.centre_thickness, sheet.dial.thickness)
    loose = behind.known and behind.value <= rules.wheel_rise_max + SLACK
    return Stack(placement, made, front, behind, front + face, face, at_hub, pick(loose, behind, none))


def stem_height(p: Pairing) -> Iterator[Finding]:
    """Whether the stem meets its hole, and the spacer that makes it do so."""
    offset, padding, allowed = stem_offset(p.sheet), pads(p.sheet, p.rules), tolerance(p.sheet, p.rules)
    wanted = offset - padding
    check = judge(
        "stem-height",
        "Stem height",
        offset,
        line(
            no("Even without a spacer the stem sits {left} too deep."),
            padding.value - allowed,
            fits("The stem lines up within {left}; no spacer needed."),
            padding.value + allowed,
            work(
                "The stem sits {size} too far forward; a spacer brings it in line.",
                by_part("Make a spacer {thickness} thick."),
            ),
        ),
        plus_minus=(offset.half_width, "mm"),
        by_row=is_column(allowed),
        wanted=(allowed, "mm"),
        left=(abs(wanted.value) if wanted.known else None, "mm"),
        thickness=wanted,
    )
    if wanted.known:
        needed = needs_spacer(wanted, allowed)
        too_coarse = needed & (offset.half_width > allowed + SLACK)
        check = check.unclear_where(
            too_coarse,
            "The {thickness} spacer cannot be sized yet: stem height is known to ±{plus_minus}; ±{wanted} is needed.",
        )
        if p.drawn_spacer:
            check = check.no_where(abs(wanted.value - p.drawn_spacer) > allowed + SLACK)
    yield check


def put_behind(p: Pairing) -> Quantity:
    """What lies between dial and movement; open while a spacer of unknown thickness may still be laid there."""
    made = p.stack.spacer
    if p.sheet.spacer.placement == "front" and p.has("dial") and p.has("movement"):
        return p.stack.behind
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
                by_part("Get dial washers that take up {value} over the hour wheel."),
            ),
        ),
        must=False,
    )


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
