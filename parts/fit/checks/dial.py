"""The dial in the case: through the bore, in its seat, under the rim, on its spacer, and its centre hole.

Source: fit model section 4. Each value is a difference of diameters or radii; positive is room.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import TYPE_CHECKING

from parts.fit.arithmetic.elementwise import Number, Truth, pick
from parts.fit.arithmetic.quantities import SLACK, Quantity, in_hand
from parts.fit.bands import Band, Verdict, by_accepting, by_work, fits, no, work
from parts.fit.bands import bands as line
from parts.fit.levels import widths
from parts.fit.levels.dome import boss_of
from parts.fit.verdicts import Finding, judge, weakest

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


def dial_furniture(p: Pairing) -> Iterator[Finding]:
    """Whether what stands up from the dial lies clear inside the opening's rim; only where something does."""
    rim = widths.inner(widths.opening(p.sheet))
    raised = [(item, item.height.known and item.height.value == 0) for item in p.dial.furniture]
    checks = [
        judge(
            "dial-furniture",
            "Markers inside the rim",
            pick(flat, Quantity(inf), rim.less(item.outer_radius).value),
            line(
                *_under_rim(p),
                work(
                    "The {raised} clears the rim by only {value}.",
                    by_work("Centre the dial by eye, and see that nothing touches the rim."),
                ),
                p.rules.furniture_rim_min,
                fits("All that stands up from the dial clears the rim by {value}."),
            ),
            needs=(item.height,),
            raised=item.name or "raised marker",
        )
        for item, flat in raised
        if flat is not True
    ]
    if checks:
        missing = [item for item in checks if item.missing]
        yield missing[0] if missing else weakest(checks)


def _under_rim(p: Pairing) -> list[Band | Number]:
    """What is beyond the rim: under an opening that is not round a marker may still be inside it where it stands."""
    under = no("The {raised} stands {size} under the rim: the dial cannot seat.")
    edge = widths.opening(p.sheet)
    nearest, farthest = widths.inner(edge).value, widths.outer(edge).value
    if edge.outline is None or not nearest.known:
        return [under, 0.0]
    beside = work(
        "The {raised} reaches {size} beyond where the rim is nearest.",
        by_work("See that each raised marker lies inside the rim where it stands."),
    )
    return [under, nearest.value - farthest.value, beside, 0.0]


_NO_DEEPER = ("The dial lies where it did.", "No spacer lies in front of the dial.")
"""What is said of a dial on the case's seat, and of one that the movement carries: where that lay nobody measured."""


def dial_sunk(p: Pairing) -> Iterator[Finding]:
    """How much deeper below the rim a spacer in front of it lays the dial."""
    yield judge(
        "dial-sunk",
        "Dial below the rim",
        p.once_chosen(p.stack.front, "dial.thickness", "movement.stem_axis_depth"),
        line(
            fits(_NO_DEEPER[p.sheet.is_movement_standing]),
            SLACK,
            fits("The dial lies {value} deeper below the rim: nobody sees it."),
            p.rules.dial_sunk_max,
            work(
                "The spacer lays the dial {value} deeper below the rim.",
                by_accepting("The dial will lie {value} deeper below the rim."),
            ),
        ),
        must=False,
    )


def dial_held(p: Pairing) -> Iterator[Finding]:
    """What the seat's wall still holds of the dial's edge; only with a spacer in front and the wall measured."""
    if not p.case.seat_wall.known or not p.stack.front.known:
        return
    in_front = p.stack.front.value > SLACK
    if in_front is False:
        return
    check = judge(
        "dial-held",
        "Dial held sideways",
        p.case.seat_wall - p.stack.front,
        line(
            work(
                "The spacer lifts the dial out of its seat's wall: {value} of it left.",
                by_work("Centre the dial by the holder or the spacer: the seat no longer does."),
            ),
            p.rules.dial_held_min,
            fits("The seat's wall holds the dial's edge by {value}."),
        ),
    )
    yield check.only_where(in_front & in_hand(p.case.seat_wall))


def centre_hole(p: Pairing) -> Iterator[Finding]:
    """Room of the hour post in the dial's centre hole; one wide enough but for its plus-minus is tried first."""
    play = p.dial.centre_hole_diameter - p.movement.posts.hour.diameter
    check = judge(
        "centre-hole",
        "Centre hole",
        play,
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
    wide: Truth = play.known and play.value > p.rules.centre_play_min + SLACK
    yield check.work_where(
        wide & (check.rank == Verdict.WORK.rank),
        "The hour post passes the centre hole with {value} to spare; with its ± that may be too little.",
        by_work("Try a {wanted} pin in the centre hole, and open the hole if the pin does not pass."),
    )


def hole_cover(p: Pairing) -> Iterator[Finding]:
    """Whether the hour hand's hub hides the centre hole, opened as far as it has to be."""
    hole, wanted = p.dial.centre_hole_diameter, p.movement.posts.hour.diameter + p.rules.centre_play_min
    if wanted.known and hole.known:
        hole = pick(in_hand(wanted) & (wanted.value > hole.value), wanted, hole)
    yield judge(
        "hole-cover",
        "Hub over the centre hole",
        boss_of(p.hands.hour) - hole,
        line(
            work(
                "The centre hole is {size} wider than the hour hand's hub.",
                by_accepting("The centre hole will show all round the hour hand's hub."),
            ),
            0.0,
            fits("The hour hand's hub covers the centre hole by {value}."),
        ),
        must=False,
    )
