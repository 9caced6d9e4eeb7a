"""Dial feet in the movement's holes.

Source: fit model section 7. Angles on the dial count clockwise from 12 o'clock, a hole's from the stem.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import acos, degrees, nan, radians
from typing import TYPE_CHECKING, Any

from parts.fit.arithmetic.elementwise import Number, Truth, cosine, is_column, negation, pick, sine
from parts.fit.arithmetic.polar import apart
from parts.fit.arithmetic.quantities import SLACK, Quantity, in_hand, least, missing_of, unknown
from parts.fit.bands import Remedy, Verdict, by_work, fits, work
from parts.fit.bands import bands as line
from parts.fit.levels import widths
from parts.fit.records import Foot, FootHole
from parts.fit.verdicts import Finding, judge

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


@dataclass(frozen=True, slots=True)
class FootMark:
    """Where one of the movement's holes lies on the dial; `foot` is the index of the foot it catches, or None."""

    angle: float
    minute: float
    radius: float
    foot: int | None


def on_dial(angle: Number, radius: Number) -> tuple[Number, Number]:
    """Rectangular place (x to 3 o'clock, y to 12 o'clock) of an angle clockwise from 12."""
    turn = angle * radians(1.0)
    return radius * sine(turn), radius * cosine(turn)


def foot_marks(p: Pairing) -> list[FootMark]:
    """The movement's holes on the dial; empty where they or the stem's angle are not measured."""
    holes = p.movement.foot_holes or ()
    if not p.case.stem_angle.known or not all(hole.angle.known and hole.radius.known for hole in holes):
        return []
    known = p.dial.feet and not _missing(p) and p.dial.fixing != "pads"
    caught = match([[_enters(margin, "value") for margin in row] for row in _margins(p)]) if known else {}
    marks = []
    for i, hole in enumerate(holes):
        angle = (p.case.stem_angle.value + hole.angle.value) % 360
        marks.append(FootMark(angle, angle / 6, hole.radius.value, caught.get(i)))
    return marks


def match(reachable: Sequence[Sequence[Truth]]) -> dict[int, int]:
    """Which hole takes which foot (hole index to foot index), as many feet as can have a hole of their own.

    `reachable` says for each foot of each hole whether the hole takes the foot.
    """
    taken: dict[int, int] = {}

    def place(foot: int, tried: set[int]) -> bool:
        for hole, takes in enumerate(reachable[foot]):
            if takes and hole not in tried:
                tried.add(hole)
                if hole not in taken or place(taken[hole], tried):
                    taken[hole] = foot
                    return True
        return False

    for foot in range(len(reachable)):
        place(foot, set())
    return taken


def _margins(p: Pairing) -> list[list[Quantity]]:
    """For each foot its room in each hole: play of the diameters and slack, less the distance of the two centres."""
    if p.foot_margins is None:
        holes = p.movement.foot_holes or ()
        p.foot_margins = [[_margin(p, foot, hole) for hole in holes] for foot in p.dial.feet or ()]
    return p.foot_margins


def _margin(p: Pairing, foot: Foot, hole: FootHole) -> Quantity:
    distance = apart(foot.radius, foot.angle - (p.case.stem_angle + hole.angle), hole.radius)
    return 0.5 * (hole.diameter - foot.diameter) + p.rules.foot_slack - distance


def _enters(margin: Quantity, end: str) -> Truth:
    return getattr(margin, end) >= -SLACK


def _caught(p: Pairing, margins: list[list[Quantity]], end: str) -> Number:
    """How many feet have a hole of their own: a number, or a column where the places are columns.

    `end` is where of its interval a margin is read: "value" counts feet as they were measured, "low" those that surely
    enter, "high" those that perhaps do.
    """
    reachable = [[_enters(margin, end) for margin in row] for row in margins]
    column: Any = next((hit for row in reachable for hit in row if is_column(hit)), None)
    if column is None:
        return float(len(match(reachable)))
    flags: list[Any] = [hit if is_column(hit) else (column | True) & hit for row in reachable for hit in row]
    width = len(p.movement.foot_holes or ())
    pattern: Any = sum((flag * (1 << i) for i, flag in enumerate(flags)), start=0)
    space = column.__array_namespace__()
    numbers, which = space.unique_inverse(pattern)
    counts = [
        float(
            len(match([[number >> (foot * width + hole) & 1 for hole in range(width)] for foot in range(len(margins))]))
        )
        for number in numbers.tolist()
    ]
    return pick(in_hand(p.case.stem_angle, *_places(p)), space.take(space.asarray(counts), which), nan)


def _missing(p: Pairing) -> tuple[str, ...]:
    if p.dial.fixing == "pads":
        return ()
    if p.dial.feet is None:
        return ("dial.feet",)
    if not p.dial.feet:
        return ()
    holes = p.movement.foot_holes
    if holes == ():
        return ()
    return missing_of(unknown("movement.foot_holes") if holes is None else p.case.stem_angle, *_places(p))


def _places(p: Pairing) -> list[Quantity]:
    rows: list[Foot | FootHole] = [*(p.dial.feet or ()), *(p.movement.foot_holes or ())]
    return [q for item in rows for q in (item.angle, item.radius, item.diameter)]


def on_feet(p: Pairing) -> Iterator[Finding]:
    """The dial on its feet, and where they do not hold it, the room for pads."""
    check = next(dial_feet(p))
    yield check
    yield from pad_room(p, check.rank != Verdict.WORK.rank)


def dial_feet(p: Pairing) -> Iterator[Finding]:
    """How many of the dial's feet find a hole of the movement."""
    key, title, feet = "dial-feet", "Dial feet", p.dial.feet or ()
    if missing := _missing(p):
        yield judge(key, title, unknown(*missing), [], unit="count")
        return
    if p.dial.fixing == "pads" or not feet:
        says = work("The dial has no feet.", by_work("Use dial pads, or solder new feet."))
        if p.dial.fixing == "pads":
            says = work(
                "The dial lies on pads.", by_work("Take off what is left of the feet, and set the dial on pads.")
            )
        yield judge(key, title, Quantity(0.0), line(says), unit="count")
        return
    margins = _margins(p)
    caught, surely, perhaps = (_caught(p, margins, end) for end in ("value", "low", "high"))
    try_on = f"As measured, {{value}} of the {len(feet)} dial feet line up with a hole; it is close."
    check = judge(
        key,
        title,
        Quantity(caught),
        line(
            work(f"{{value}} of the {len(feet)} dial feet line up with a hole.", _remedy(p, caught)),
            float(len(feet)),
            fits(f"All {len(feet)} dial feet line up with a hole."),
        ),
        unit="count",
        span=(surely, perhaps),
    )
    within = (perhaps >= len(feet)) & (surely < len(feet))
    remedy = by_work("Try the dial on; if a foot does not enter, move it, or take the feet off and use pads.")
    yield check.work_where(within, try_on, remedy)


def _remedy(p: Pairing, caught: Number) -> Remedy:
    """To turn the dial, where a small turn lets all feet enter; else to move the feet, or leave those beside it."""
    move = "Move the feet, or take them off and use dial pads."
    if is_column(caught) or caught == len(p.dial.feet or ()):
        return by_work(move)
    if _stand_beside(p):
        move = (
            "Cut a pocket in the holder ring for each foot that stands beside the movement. "
            "Or: move the feet, or take them off and use dial pads."
        )
    turn = turn_for_all(p)
    if not turn:
        return by_work(move)
    way = "clockwise" if turn > 0 else "anticlockwise"
    effects = [
        f"{radius.value * radians(abs(turn)):.2f} mm at the {where}"
        for radius, where in ((p.dial.minute_track_radius, "minute marks"), *_window_of(p))
        if radius.known
    ]
    by = f" ({', '.join(effects)})" if effects else ""
    return by_work(f"Turn the dial {abs(turn):.1f}° {way}{by}: then all feet enter. Or: {move[:1].lower()}{move[1:]}")


def _stand_beside(p: Pairing) -> bool:
    """Whether every foot without a hole stands beside the movement, where a holder ring goes round it."""
    caught = match([[_enters(margin, "value") for margin in row] for row in _margins(p)]).values()
    beside = [
        foot.radius - 0.5 * foot.diameter - widths.in_direction(widths.movement(p.sheet), foot.angle).value
        for i, foot in enumerate(p.dial.feet or ())
        if i not in caught
    ]
    return all(room.known and not is_column(room.value) and room.value > 0 for room in beside)


def _window_of(p: Pairing) -> list[tuple[Quantity, str]]:
    return [(p.dial.window.radius, "date in its window")] if p.dial.window else []


def turn_for_all(p: Pairing) -> float | None:
    """The least turn of the dial, degrees clockwise, that lets every foot enter a hole of its own; None past the rule.

    A foot enters where |turn - turn that brings it in line| is at most what its play allows: the law of cosines.
    """
    most = p.rules.dial_turn_max
    ways: list[list[tuple[float, float] | None]] = [
        [_turns(p, foot, hole) for hole in p.movement.foot_holes or ()] for foot in p.dial.feet or ()
    ]
    ends = {end for row in ways for way in row if way for end in way if abs(end) <= most + SLACK}
    for turn in sorted(ends | {0.0}, key=abs):
        reachable = [[way is not None and way[0] - SLACK <= turn <= way[1] + SLACK for way in row] for row in ways]
        if len(match(reachable)) == len(ways):
            return turn
    return None


def _turns(p: Pairing, foot: Foot, hole: FootHole) -> tuple[float, float] | None:
    """From which to which turn of the dial this foot enters this hole."""
    play = 0.5 * (hole.diameter.value - foot.diameter.value) + p.rules.foot_slack
    product = 2 * foot.radius.value * hole.radius.value
    square = foot.radius.value**2 + hole.radius.value**2 - play**2
    if play < 0 or square > product or not product:
        return None
    half = degrees(acos(max(-1.0, square / product)))
    middle = (p.case.stem_angle.value + hole.angle.value - foot.angle.value + 180) % 360 - 180
    return middle - half, middle + half


def pad_room(p: Pairing, held: Truth) -> Iterator[Finding]:
    """Width left for adhesive pads outside the date disc; only where the feet do not hold the dial."""
    if not p.movement.date or held is True:
        return
    edge = least(*(widths.inner(edge(p.sheet)).value for edge in (widths.dial, widths.movement)))
    check = judge(
        "pad-room",
        "Dial pads",
        edge - (p.movement.date.disc_outer_radius + p.rules.pad_disc_gap),
        line(
            work("Only {value} outside the date disc for dial pads.", by_work("Put the pads on the holder ring.")),
            p.rules.pad_width_min,
            fits("{value} outside the date disc for dial pads."),
        ),
        must=False,
    )
    yield check.only_where(negation(held))
