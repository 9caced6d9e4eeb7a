"""Dial feet in the movement's holes.

Source: fit model section 7. Angles on the dial count clockwise from 12 o'clock, a hole's from the stem.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import nan, radians
from typing import TYPE_CHECKING, Any

from parts.fit.arithmetic.elementwise import Number, Truth, cosine, hypotenuse, is_column, negation, pick, sine
from parts.fit.arithmetic.quantities import SLACK, Quantity, in_hand, least, missing_of, unknown
from parts.fit.bands import Verdict, by_work, fits, work
from parts.fit.bands import bands as line
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
    caught = {} if _missing(p) else match(_reachable(p))
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


def _reachable(p: Pairing) -> list[list[Truth]]:
    return [[_catches(p, foot, hole) for hole in p.movement.foot_holes or ()] for foot in p.dial.feet or ()]


def _caught(p: Pairing) -> Number:
    """How many feet have a hole of their own: a number, or a column where the places are columns."""
    reachable = _reachable(p)
    column: Any = next((hit for row in reachable for hit in row if is_column(hit)), None)
    if column is None:
        return float(len(match(reachable)))
    flags: list[Any] = [hit if is_column(hit) else (column | True) & hit for row in reachable for hit in row]
    width = len(p.movement.foot_holes or ())
    counts: dict[tuple[bool, ...], float] = {}
    for row in set(rows := list(zip(*(flag.tolist() for flag in flags), strict=True))):
        counts[row] = float(len(match([row[i : i + width] for i in range(0, len(row), width)])))
    found = column.__array_namespace__().asarray([counts[row] for row in rows])
    return pick(in_hand(p.case.stem_angle, *_places(p)), found, nan)


def _catches(p: Pairing, foot: Foot, hole: FootHole) -> Truth:
    fx, fy = on_dial(foot.angle.value, foot.radius.value)
    hx, hy = on_dial(p.case.stem_angle.value + hole.angle.value, hole.radius.value)
    play = (hole.diameter.value - foot.diameter.value) / 2 + p.rules.foot_slack
    return hypotenuse(fx - hx, fy - hy) <= play + SLACK


def _missing(p: Pairing) -> tuple[str, ...]:
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


def dial_feet(p: Pairing) -> Iterator[Finding]:
    """How many of the dial's feet find a hole of the movement."""
    if missing := _missing(p):
        yield judge("dial-feet", "Dial feet", unknown(*missing), [], unit="count")
        return
    feet = p.dial.feet or ()
    remedy = by_work("Move the feet, or take them off and use dial pads.")
    row = line(
        work(f"{{value}} of the {len(feet)} dial feet line up with a hole.", remedy),
        float(len(feet)),
        fits(f"All {len(feet)} dial feet line up with a hole."),
    )
    if not feet:
        row = line(work("The dial has no feet.", by_work("Use dial pads, or solder new feet.")))
    yield judge("dial-feet", "Dial feet", Quantity(_caught(p)), row, unit="count")


def pad_room(p: Pairing) -> Iterator[Finding]:
    """Width left for adhesive pads outside the date disc; only where the feet do not hold the dial."""
    held = next(dial_feet(p)).rank != Verdict.WORK.rank
    if p.movement.date is None or held is True:
        return
    edge = least(0.5 * p.dial.diameter, 0.5 * p.movement.overall_diameter)
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
