"""Across the watch: movement in bore and holder, dial in its seat, opening and centre hole.

Source: fit model section 4. Each value is a difference of diameters, or half of one; positive is room.
"""

from parts.fit.bands import bands as line
from parts.fit.bands import by_accepting, by_part, by_work, fits, no, work
from parts.fit.verdicts import judge


def case_bore(p):
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


def holder_wall(p):
    """Wall thickness of the holder ring between the movement's fit diameter and the bore."""
    yield judge(
        "holder-wall",
        "Holder ring",
        0.5 * (p.case.bore_diameter - p.movement.fit_diameter) - p.rules.holder_clearance,
        line(
            fits("The movement sits in the bore directly; no holder ring."),
            0.0,
            work(
                "A holder ring would have a wall of {value}, too thin to print.",
                by_part("Turn a metal holder ring with a wall of {value}."),
            ),
            p.rules.wall_min,
            work(
                "A holder ring with a wall of {value} fills the bore.",
                by_part("Print a holder ring with a wall of {value}."),
            ),
        ),
    )


def dial_seat(p):
    """Play of the dial in the recess that it lies in."""
    yield judge(
        "dial-seat",
        "Dial in its seat",
        p.case.dial_seat_diameter - p.dial.diameter,
        line(
            no("The dial is {size} wider than its seat, more than its edge can lose."),
            -p.rules.dial_trim_max,
            work(
                "The dial has {value} of play in its seat and does not drop in.",
                by_work("Reduce the dial's edge until it has at least {least} of play."),
            ),
            p.rules.dial_play_min,
            fits("The dial lies in its seat with {value} of play."),
            p.rules.dial_play_max,
            work("The dial has {value} of play in its seat.", by_part("Make a centring ring for the dial.")),
        ),
        least=f"{p.rules.dial_play_min:.2f} mm",
    )


def dial_opening(p):
    """Width of the dial's edge that the opening's rim covers."""
    yield judge(
        "dial-opening",
        "Dial edge under the rim",
        0.5 * (p.dial.diameter - p.case.dial_opening_diameter),
        line(
            no("The dial ends {size} short of the opening's rim; its edge would show."),
            0.0,
            work(
                "Only {value} of the dial's edge lies under the opening's rim.",
                by_accepting("The dial's edge may show when the watch is looked at from the side."),
            ),
            p.rules.dial_cover_min,
            fits("The opening's rim covers {value} of the dial's edge."),
        ),
    )


def centre_hole(p):
    """Room of the hour post in the dial's centre hole."""
    yield judge(
        "centre-hole",
        "Hour post through the dial",
        p.dial.centre_hole_diameter - p.movement.posts.hour.diameter,
        line(
            no("The dial's centre hole is {size} too small, more than it can be opened."),
            -p.rules.centre_open_max,
            work(
                "The dial's centre hole, {hole}, leaves {value} round the {post} hour post.",
                by_work("Open the dial's centre hole to at least {wanted}."),
            ),
            p.rules.centre_play_min,
            fits("The hour post passes the dial's centre hole with {value} to spare."),
        ),
        hole=p.dial.centre_hole_diameter,
        post=p.movement.posts.hour.diameter,
        wanted=p.movement.posts.hour.diameter + p.rules.centre_play_min,
    )
