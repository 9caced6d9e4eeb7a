"""Across the case: the movement in the bore and its holder.

Source: fit model section 4. Each value is a difference of diameters, or half of one; positive is room.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from parts.fit.arithmetic.elementwise import is_column
from parts.fit.arithmetic.quantities import SLACK
from parts.fit.bands import bands as line
from parts.fit.bands import by_part, by_work, fits, no, work
from parts.fit.levels import widths
from parts.fit.verdicts import Finding, judge

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


def case_bore(p: Pairing) -> Iterator[Finding]:
    """Whether the movement's widest part passes the bore."""
    overall = ", {overall} across," if p.movement.outline is None else ""
    bore = "{bore} " if p.case.bore_outline is None else ""
    room = widths.across(widths.movement(p.sheet), widths.bore(p.sheet))
    yield judge(
        "case-bore",
        "Movement through the bore",
        room.value,
        line(
            no(f"The movement{overall} is {{size}} too wide for the {bore}bore."),
            0.0,
            work(
                f"The movement{overall} passes the {bore}bore with only {{value}} to spare.",
                by_work("Ease the bore or the movement's rim until it drops in."),
            ),
            p.rules.bore_play_min,
            fits(f"The movement{overall} passes the {bore}bore with {{value}} to spare."),
        ),
        span=room.span,
        bore=p.case.bore_diameter,
        overall=p.movement.overall_diameter,
    )


def holder_wall(p: Pairing) -> Iterator[Finding]:
    """Wall thickness of the holder ring between the movement's fit diameter and the bore."""
    room = widths.clear(widths.gripped(p.sheet), widths.bore(p.sheet)).less(p.rules.holder_clearance)
    yield judge(
        "holder-wall",
        "Holder ring",
        room.value,
        line(
            fits("The movement fits the bore directly, no holder ring; case clamps or screws hold it."),
            0.0,
            work(
                "The gap to the bore is too narrow for a ring: its wall would be {value}.",
                by_work("Fill the gap with shim foil, or hold the movement by clamps or screws."),
            ),
            p.rules.shim_max,
            work(
                "The holder ring's wall would be {value}: too thin to print.",
                by_part("Turn the ring from metal, wall {value}."),
            ),
            p.rules.wall_min,
            work(
                "A holder ring with a {value} wall fills the gap to the bore.",
                by_part(f"Print a holder ring, wall {{value}}{_if_split(p)}."),
            ),
        ),
        span=room.span,
    )


def _if_split(p: Pairing) -> str:
    """How a ring for the bore goes in through a front that is narrower, and how thick it may be in one piece."""
    if not p.case.is_front_loaded:
        return ""
    front = widths.front(p.sheet)
    past, wall = (widths.clear(front, widths.bore(p.sheet)).value, widths.clear(widths.gripped(p.sheet), front).value)
    if not (past.known and wall.known) or is_column(past.value) or is_column(wall.value):
        return ""
    if past.value <= p.rules.holder_clearance + SLACK or wall.value <= 0:
        return ""
    return f" if split to spring in through the front, {wall.value:.2f} mm at most if not"
