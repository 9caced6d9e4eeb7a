"""The dial's edge: through the bore, in its seat, under the rim, and what a trim leaves of it.

Source: fit model sections 4 and 11.4. Each value is a width between outlines; positive is room.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import TYPE_CHECKING

from parts.fit.arithmetic.elementwise import Number, Truth, pick, upper
from parts.fit.arithmetic.quantities import SLACK, Quantity
from parts.fit.bands import Verdict, by_accepting, by_part, by_work, fits, no, work
from parts.fit.bands import bands as line
from parts.fit.levels import widths
from parts.fit.verdicts import Finding, judge

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


REDUCE = "Reduce the dial's edge to {target}."
"""One trim serves the bore and the seat: the larger of the two."""
REDUCE_ALL_ROUND = "Take {target} off the dial's edge all round."
"""The same of a dial that is not round."""


def is_round(p: Pairing) -> bool:
    """Whether the dial and what it goes into are round, so that a trim has a diameter."""
    return p.dial.outline is p.case.seat_outline is p.case.bore_outline is None


def _recesses(p: Pairing) -> list[tuple[widths.Edge, float]]:
    """What the dial goes into or through, each with the play that it wants there."""
    recesses = [(widths.seat(p.sheet), p.rules.dial_play_min)]
    if not p.case.is_front_loaded:
        recesses.append((widths.bore(p.sheet), 0.0))
    return recesses


def _trims(p: Pairing) -> list[tuple[Quantity, Truth]]:
    """To which diameter the seat and the bore ask the dial to be reduced, and whether they do."""
    recesses = [(p.case.dial_seat_diameter, p.rules.dial_play_min)]
    if not p.case.is_front_loaded:
        recesses.append((p.case.bore_diameter, 0.0))
    return [(recess - play, _asks(p, recess - p.dial.diameter, play)) for recess, play in recesses]


def _asks(p: Pairing, room: Quantity, play: float) -> Truth:
    return room.known and (room.value < play - SLACK) & (room.value >= -p.rules.dial_trim_max - SLACK)


def trimmed_diameter(p: Pairing) -> tuple[Quantity, Truth]:
    """The dial's diameter once its edge is reduced as far as seat and bore ask, and whether anything comes off."""
    diameter, trimmed = p.dial.diameter, False
    for wanted, asked in _trims(p):
        smaller = asked & (wanted.value < diameter.value) if asked is not False else False
        diameter, trimmed = pick(smaller, wanted, diameter), trimmed | asked
    return diameter, trimmed


def off_all_round(p: Pairing) -> tuple[Number, Truth]:
    """What comes off the edge of a dial that is not round, and whether anything does."""
    off: Number = 0.0
    trimmed: Truth = False
    for recess, play in _recesses(p):
        room = widths.across(widths.dial(p.sheet), recess).value
        asked = _asks(p, room, play)
        if asked is not False:
            off, trimmed = upper(off, pick(asked, (play - room.value) / 2, 0.0)), trimmed | asked
    return off, trimmed


def _target(p: Pairing) -> Quantity | tuple[Number, str]:
    return trimmed_diameter(p)[0] if is_round(p) else (off_all_round(p)[0], "mm")


def _proven(p: Pairing, key: str, title: str, value: Quantity) -> Finding | None:
    """What a dial that came out of this case needs no numbers for."""
    if not p.dial.own_case or value.known:
        return None
    return judge(key, title, Quantity(0.0), line(fits("The dial came out of this case.")))


def dial_bore(p: Pairing) -> Iterator[Finding]:
    """Whether the dial passes the bore on its way to its seat; only in a case loaded from the back."""
    if p.case.is_front_loaded:
        return
    key, title = "dial-bore", "Dial through the bore"
    room = widths.across(widths.dial(p.sheet), widths.bore(p.sheet))
    value, bore = room.value, "{bore} " if p.case.bore_outline is None else ""
    row = line(
        no(f"The dial is {{size}} too wide for the {bore}bore: more than can come off its edge."),
        -p.rules.dial_trim_max,
        work(
            f"The dial is {{size}} too wide for the {bore}bore that it goes in through.",
            by_work(REDUCE if is_round(p) else REDUCE_ALL_ROUND),
        ),
        0.0,
        fits("The dial passes the bore with {value} to spare."),
    )
    check = judge(key, title, value, row, span=room.span, bore=p.case.bore_diameter, target=_target(p))
    says = "The dial passes the bore with {value} to spare; with its ± that may be too little."
    remedy = by_work("Try the dial through the bore, and take off its edge only what is tight.")
    yield _proven(p, key, title, value) or check.work_where(_may_be_tight(check, room, 0.0), says, remedy)


def dial_seat(p: Pairing) -> Iterator[Finding]:
    """Play of the dial in the recess that it lies in; where the movement carries it there may be none."""
    if p.sheet.is_movement_standing and not (p.case.dial_seat_diameter.known or p.case.seat_outline):
        return
    key, title = "dial-seat", "Dial in its seat"
    room = widths.across(widths.dial(p.sheet), widths.seat(p.sheet))
    value, reduce = room.value, by_work(REDUCE if is_round(p) else REDUCE_ALL_ROUND)
    row = line(
        no("The dial is {size} too wide for its seat: more than can come off its edge."),
        -p.rules.dial_trim_max,
        work("The dial is {size} too wide for its seat.", reduce, side=-1),
        0.0,
        work("The dial is tight in its seat: {value} of play, {least} needed.", reduce, side=-1),
        p.rules.dial_play_min,
        fits("The dial lies in its seat with {value} of play."),
        p.rules.dial_play_max,
        work("The dial has {value} of play in its seat.", by_part("Make a centring ring for the dial."), side=1),
    )
    check = judge(
        key,
        title,
        value,
        row,
        span=room.span,
        measure_first="Measure dial and seat again, across three directions: it may want reducing or a centring ring.",
        least=(p.rules.dial_play_min, "mm"),
        target=_target(p),
    )
    tight = _may_be_tight(check, room, p.rules.dial_play_min, p.rules.dial_play_max)
    says = "The dial lies in its seat with {value} of play; with its ± that may be too little."
    remedy = by_work("Try the dial in its seat, and take off its edge only what is tight.")
    yield _proven(p, key, title, value) or check.work_where(tight, says, remedy)


def _may_be_tight(check: Finding, room: widths.Room, least: float, most: float = inf) -> Truth:
    """Whether the width itself is enough, so that nothing is known to come off, and only its plus-minus asks for it."""
    value = room.value
    if not value.known:
        return False
    high = room.span[1] if room.span else value.high
    return (check.rank == Verdict.WORK.rank) & (value.value >= least - SLACK) & (high <= most + SLACK)


def dial_opening(p: Pairing) -> Iterator[Finding]:
    """Width of the dial's edge that the opening's rim covers, once the dial is reduced as far as it has to be."""
    key, title = "dial-opening", "Dial edge cover"
    room = cover(p)
    value = room.value
    row = line(
        no("The dial ends {size} short of the rim: its edge would show."),
        0.0,
        work(
            "The rim covers only {value} of the dial's edge.",
            by_accepting("The dial's edge may show at an angle."),
        ),
        p.rules.dial_cover_min,
        fits("The rim covers {value} of the dial's edge."),
    )
    yield _proven(p, key, title, value) or judge(key, title, value, row, span=room.span)


def cover(p: Pairing) -> widths.Room:
    """C(opening in dial), of the dial as it is reduced."""
    if is_round(p) and p.case.opening_outline is None:
        return widths.Room(0.5 * (trimmed_diameter(p)[0] - p.case.dial_opening_diameter))
    return widths.clear(widths.opening(p.sheet), widths.dial(p.sheet)).less(off_all_round(p)[0])


def dial_trim(p: Pairing) -> Iterator[Finding]:
    """What a trim leaves of the dial outside its minute marks; only where a trim is asked for."""
    diameter, trimmed = trimmed_diameter(p)
    room, reducing, reduced = widths.Room(0.5 * diameter), "Reducing the dial to {diameter}", "Reduced to {diameter}"
    if not is_round(p):
        off, trimmed = off_all_round(p)
        room, reducing, reduced = widths.inner(widths.dial(p.sheet)).less(off), "Reducing the dial", "Reduced"
    if trimmed is False:
        return
    room = room.less(p.dial.minute_track_radius)
    check = judge(
        "dial-trim",
        "Dial edge after the trim",
        room.value,
        line(
            no(f"{reducing} cuts {{size}} into its minute marks."),
            0.0,
            work(
                f"{reduced}, the dial keeps only {{value}} outside its minute marks.",
                by_accepting("The minute marks will run to within {value} of the dial's edge."),
            ),
            p.rules.dial_edge_min,
            fits(f"{reduced}, the dial keeps {{value}} outside its minute marks."),
        ),
        span=room.span,
        diameter=diameter,
    )
    yield check.only_where(trimmed)
