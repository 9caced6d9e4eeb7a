"""Across the watch: movement in bore and holder, dial in its seat, opening and centre hole.

Source: fit model section 4. Each value is a difference of diameters, or half of one; positive is room.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from parts.fit.bands import bands as line
from parts.fit.bands import by_accepting, by_part, by_work, fits, no, work
from parts.fit.verdicts import Finding, judge

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


def case_bore(p: Pairing) -> Iterator[Finding]:
    """Whether the movement's widest part passes the bore."""
    yield judge(
        "case-bore",
        "Movement through the bore",
        p.case.bore_diameter - p.movement.overall_diameter,
        line(
            no("The movement, {overall} across, is {size} too wide for the {bore} bore."),
            0.0,
            fits("The movement, {overall} across, passes the {bore} bore with {value} to spare."),
        ),
        bore=p.case.bore_diameter,
        overall=p.movement.overall_diameter,
    )


def holder_wall(p: Pairing) -> Iterator[Finding]:
    """Wall thickness of the holder ring between the movement's fit diameter and the bore."""
    yield judge(
        "holder-wall",
        "Holder ring",
        0.5 * (p.case.bore_diameter - p.movement.fit_diameter) - p.rules.holder_clearance,
        line(
            fits("The movement fits the bore directly; no holder ring needed."),
            0.0,
            work(
                "The holder ring's wall would be {value}: too thin to print.",
                by_part("Turn the ring from metal, wall {value}."),
            ),
            p.rules.wall_min,
            work(
                "A holder ring with a {value} wall fills the gap to the bore.",
                by_part("Print a holder ring, wall {value}."),
            ),
        ),
    )


def dial_seat(p: Pairing) -> Iterator[Finding]:
    """Play of the dial in the recess that it lies in."""
    reduce = by_work("Reduce the dial's edge to at least {least} of play.")
    yield judge(
        "dial-seat",
        "Dial in its seat",
        p.case.dial_seat_diameter - p.dial.diameter,
        line(
            no("The dial is {size} too wide for its seat: more than can come off its edge."),
            -p.rules.dial_trim_max,
            work("The dial is {size} too wide for its seat.", reduce),
            0.0,
            work("The dial is tight in its seat: {value} of play, {least} needed.", reduce),
            p.rules.dial_play_min,
            fits("The dial lies in its seat with {value} of play."),
            p.rules.dial_play_max,
            work("The dial has {value} of play in its seat.", by_part("Make a centring ring for the dial.")),
        ),
        least=f"{p.rules.dial_play_min:.2f} mm",
    )


def dial_opening(p: Pairing) -> Iterator[Finding]:
    """Width of the dial's edge that the opening's rim covers."""
    yield judge(
        "dial-opening",
        "Dial edge cover",
        0.5 * (p.dial.diameter - p.case.dial_opening_diameter),
        line(
            no("The dial ends {size} short of the rim: its edge would show."),
            0.0,
            work(
                "The rim covers only {value} of the dial's edge.",
                by_accepting("The dial's edge may show at an angle."),
            ),
            p.rules.dial_cover_min,
            fits("The rim covers {value} of the dial's edge."),
        ),
    )


def centre_hole(p: Pairing) -> Iterator[Finding]:
    """Room of the hour post in the dial's centre hole."""
    yield judge(
        "centre-hole",
        "Centre hole",
        p.dial.centre_hole_diameter - p.movement.posts.hour.diameter,
        line(
            no("The centre hole is {size} too small: more than it can be opened."),
            -p.rules.centre_open_max,
            work(
                "The centre hole is {hole}; the {post} hour post needs {wanted}.",
                by_work("Open the centre hole to at least {wanted}."),
            ),
            p.rules.centre_play_min,
            fits("The hour post passes the centre hole with {value} to spare."),
        ),
        hole=p.dial.centre_hole_diameter,
        post=p.movement.posts.hour.diameter,
        wanted=p.movement.posts.hour.diameter + p.rules.centre_play_min,
    )
