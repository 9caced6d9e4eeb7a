"""Stem and crown: threads, the stem's length and how to cut it, the crown on its tube.

Source: fit model sections 4 and 8. A stem's length counts from the movement's stem reference to its end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING, NamedTuple

from parts.fit.arithmetic.elementwise import Number, Truth, known_or, pick, upper
from parts.fit.arithmetic.quantities import SLACK, Quantity, in_hand, missing_of, unknown
from parts.fit.bands import Band, Verdict, by_part, by_work, fits, no, work
from parts.fit.bands import bands as line
from parts.fit.checks.threads import named
from parts.fit.levels import widths
from parts.fit.levels.stack import stem_diameter
from parts.fit.verdicts import Finding, judge

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


@dataclass(frozen=True, slots=True)
class CutPlan:
    """Where to cut the stem: `length` L, what comes off, the steps down to L, and the second road by the gap."""

    length: float | None
    cut_off: float | None
    steps: tuple[CutStep, ...]
    gap_cut_off: float | None
    disagreement: float | None


@dataclass(frozen=True, slots=True)
class CutStep:
    length: float
    text: str


def rest_gap(p: Pairing) -> Quantity:
    """Air between crown and seat at rest: crown_gap for a push crown, half the spring travel for a screw crown."""
    style = p.crown.style
    if style is None:
        return unknown("crown.style")
    return 0.5 * p.crown.spring_travel if style == "screw" else Quantity(p.rules.crown_gap)


def wanted_length(p: Pairing) -> Quantity:
    """L: the stem's length that leaves the crown its air at rest."""
    return p.case.crown_seat_radius + rest_gap(p) + p.crown.bore_depth - p.movement.stem_reference_radius


def cut_plan(p: Pairing) -> CutPlan:
    """The cut plan; steps longer than the stem itself are left out."""
    wanted, stem, by_gap = wanted_length(p), p.stem.whole, p.stem.uncut_gap - rest_gap(p)
    length = wanted.value if wanted.known else None
    off = stem - wanted
    disagreement = off.value - by_gap.value if off.known and by_gap.known else None
    steps: tuple[CutStep, ...] = ()
    if length is not None:
        plan = (
            (length + p.rules.rough_cut, "Rough cut"),
            (length + p.rules.file_cut, "File and try the crown"),
            (length, "File to L, never below; try the crown each time"),
        )
        steps = tuple(CutStep(at, text + _joined(p, at)) for at, text in plan if not stem.known or at < stem.value)
    return CutPlan(
        length, off.value if off.known else None, steps, by_gap.value if by_gap.known else None, disagreement
    )


def _joined(p: Pairing, whole: float) -> str:
    """What a cut at `whole` leaves of the outer part of a split stem, the one that is cut; empty for a stem in one."""
    outer = outer_length(p, Quantity(whole))
    return "" if p.stem.joint is None or not outer.known else f", outer part {outer.value:.2f}\u00a0mm; both joined"


def outer_length(p: Pairing, whole: Quantity) -> Quantity:
    """How long the outer part of a split stem is where both joined are `whole`; a stem in one piece is its own."""
    joint = p.stem.joint
    return whole if joint is None else whole - joint.inner_length + joint.overlap


def stem_thread(p: Pairing) -> Iterator[Finding]:
    """Crown's thread against the movement's; where the stem's own is given all three must be alike.

    Pitches, where both are known, must agree as well.
    """
    crown = _Threaded("crown", *named(p.crown.thread), p.crown.thread_pitch)
    movement = _Threaded("movement", *named(p.movement.stem_thread), p.movement.stem_thread_pitch)
    worst = first = _threads(p, crown, movement)
    if p.stem.thread.known and not missing_of(p.crown.thread, p.movement.stem_thread):
        given = in_hand(p.stem.thread)
        stem = _Threaded("stem", *named(p.stem.thread), p.stem.thread_pitch)
        for other in (_threads(p, stem, movement), _threads(p, crown, stem)):
            worst = pick((other.rank > worst.rank) & given, other, worst)
    yield worst if worst is first else worst.standing_for(first)


class _Threaded(NamedTuple):
    """A part with its thread by name, whether that may be one of two, and its pitch."""

    part: str
    thread: Quantity
    may_be_another: Truth
    pitch: Quantity


def _threads(p: Pairing, left: _Threaded, right: _Threaded) -> Finding:
    remedy = by_part(f"Get a crown tapped for the {right.part}'s {{right}}, or an adapter.")
    if "stem" in (left.part, right.part):
        remedy = by_part("Get a stem threaded for movement and crown, or an adapter.")
    differ = f"Threads differ: {left.part} {{left}}, {right.part} {{right}}."
    row = line(
        work(differ, remedy),
        -p.rules.thread_tol,
        fits(f"The {left.part} and {right.part} have the same thread, {{left}}."),
        p.rules.thread_tol,
        work(differ, remedy),
    )
    check = judge("stem-thread", "Threads", left.thread - right.thread, row, left=left.thread, right=right.thread)
    if not (left.thread.known and right.thread.known):
        return check
    either = left.may_be_another | right.may_be_another
    check = check.unclear_where(either, "The thread may be one of two sizes: measure it more closely.")
    apart = left.pitch - right.pitch
    if apart.known:
        pitches = (
            f"The threads are alike, {{left}}, but not their pitch: {left.part} {left.pitch.value} mm, "
            f"{right.part} {right.pitch.value} mm."
        )
        differs = abs(apart.value) - apart.half_width > p.rules.thread_tol + SLACK
        check = check.work_where(in_hand(apart) & differs & (check.rank == Verdict.FITS.rank), pitches, remedy)
    return check


_CUT = "Cut the stem to {wanted}: in steps, never below."
_CUT_OUTER = "Cut the outer part of the stem to {outer}: in steps, never below."


def stem_length(p: Pairing) -> Iterator[Finding]:
    """The stem as it is against the length that is wanted; one that is as needed is tried, not replaced, for its ±."""
    wanted, stays_to = wanted_length(p), p.rules.stem_long_ok
    spare = p.stem.thread_length - p.rules.thread_turns_min * named(p.stem.thread)[0]
    short = work(
        "The stem is {size} too short: {wanted} needed.",
        by_part("Get a longer stem or an extension: {wanted} needed."),
        side=-1,
    )
    stays = fits("The stem is the {wanted} needed, within {size}.")
    trim = work(
        "The stem is {size} longer than the {wanted} needed.",
        by_work(_CUT if p.stem.joint is None else _CUT_OUTER),
        side=1,
    )
    row: list[Band | Number] = [short, -p.rules.stem_short_ok, stays, stays_to, trim]
    if spare.known:
        another = work(
            "Cut to {wanted}, the stem would keep too little thread: {size} has to go.",
            by_part("Get another stem, with thread enough for {wanted}."),
            side=1,
        )
        row += [upper(stays_to, known_or(spare.value, inf)), another]
    left, short_ok = p.stem.whole - wanted, p.rules.stem_short_ok
    check = judge(
        "stem-length",
        "Stem length",
        left,
        line(*row),
        measure_first="Measure the stem and the crown's bore depth again: it may want cutting or a longer one.",
        wanted=wanted,
        outer=outer_length(p, wanted),
    )
    if left.known:
        as_needed = in_hand(left) & (left.value > -short_ok + SLACK) & (left.value < stays_to - SLACK)
        one_side = (left.low >= -short_ok) | (left.high <= stays_to)
        words = "The stem is the {wanted} needed, within {size}. By its ± alone it may not be: the crown tells."
        tried = by_work("Try the crown: pushed home it must sit close, and pull to each position.")
        check = check.work_where(as_needed & one_side & (check.rank == Verdict.WORK.rank), words, tried)
    yield check


def joint_clear(p: Pairing) -> Iterator[Finding]:
    """Room of the inner part of a split stem inside the bore: the movement passes with its stub."""
    if p.stem.joint is None:
        return
    stub = p.movement.stem_reference_radius + p.stem.joint.inner_length
    room = widths.in_direction(widths.bore(p.sheet), p.case.stem_angle).less(stub)
    yield judge(
        "joint-clear",
        "Inner stem through the bore",
        room.value,
        line(
            no("The inner part of the stem stands {size} beyond the bore: the movement does not pass with it."),
            0.0,
            work(
                "The inner part of the stem passes the bore with only {value} to spare.",
                by_work("Lower the movement with its stub turned into the tube, and take care of the bore's edge."),
            ),
            p.rules.joint_clear_min,
            fits("The inner part of the stem passes the bore with {value} to spare."),
        ),
        span=room.span,
    )


def stem_tube(p: Pairing) -> Iterator[Finding]:
    """Play of the stem in the case's tube; advice where the tube was not measured."""
    tube = p.case.tube_bore_diameter
    yield judge(
        "stem-tube",
        "Stem through the tube",
        tube - stem_diameter(p.sheet),
        line(
            no("The stem is {size} too thick for the {tube} tube."),
            0.0,
            work("The stem has only {value} of play in its tube.", by_work("Open the tube to leave at least {least}.")),
            p.rules.stem_tube_min,
            fits("The stem passes the tube with {value} to spare."),
        ),
        must=in_hand(tube),
        tube=tube,
        least=(p.rules.stem_tube_min, "mm"),
    )


def crown_tube(p: Pairing) -> Iterator[Finding]:
    """Play of the crown over the case tube; a crown that came with its tube needs no numbers."""
    play = p.crown.tube_bore_diameter - p.case.tube_outer_diameter
    if p.crown.own_tube and not play.known:
        proven = line(fits("The crown came with this tube."))
        yield judge("crown-tube", "Crown over the case tube", Quantity(0.0), proven, must=False)
        return
    yield judge(
        "crown-tube",
        "Crown over the case tube",
        play,
        line(
            work(
                "The crown is {size} too tight for the case tube.",
                by_part("Get a crown and tube that match."),
            ),
            0.0,
            fits("The crown slides over the case tube with {value} of play."),
            p.rules.tube_play_max,
            work(
                "The crown has {value} of play on the case tube.",
                by_part("Get a crown and tube that match."),
            ),
        ),
        must=False,
    )
