"""Stem and crown: threads, the stem's length and how to cut it, the crown on its tube.

Source: fit model sections 4 and 8. A stem's length counts from the movement's stem reference to its end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from parts.fit.arithmetic.elementwise import pick
from parts.fit.arithmetic.quantities import Quantity, in_hand, missing_of, unknown
from parts.fit.bands import bands as line
from parts.fit.bands import by_part, by_work, fits, work
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
    wanted, stem, by_gap = wanted_length(p), p.stem.length, p.stem.uncut_gap - rest_gap(p)
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
        steps = tuple(CutStep(at, text) for at, text in plan if not stem.known or at < stem.value)
    return CutPlan(
        length, off.value if off.known else None, steps, by_gap.value if by_gap.known else None, disagreement
    )


def stem_thread(p: Pairing) -> Iterator[Finding]:
    """Crown's thread against the movement's; where the stem's own is given all three must be alike."""
    crown, movement = p.crown.thread, p.movement.stem_thread
    worst = first = _threads(p, "crown", crown, "movement", movement)
    if p.stem.thread.known and not missing_of(crown, movement):
        given = in_hand(p.stem.thread)
        for other in (
            _threads(p, "stem", p.stem.thread, "movement", movement),
            _threads(p, "crown", crown, "stem", p.stem.thread),
        ):
            worst = pick((other.rank > worst.rank) & given, other, worst)
    yield worst if worst is first else worst.standing_for(first)


def _threads(p: Pairing, one: str, a: Quantity, other: str, b: Quantity) -> Finding:
    remedy = by_part(f"Get a crown tapped for the {other}'s {{other}}, or an adapter.")
    if "stem" in (one, other):
        remedy = by_part("Get a stem threaded for movement and crown, or an adapter.")
    unlike = work(f"Threads differ: {one} {{one}}, {other} {{other}}.", remedy)
    also = work(f"Threads differ: {one} {{one}}, {other} {{other}}.", remedy)
    row = line(
        unlike,
        -p.rules.thread_tol,
        fits(f"The {one} and {other} have the same thread."),
        p.rules.thread_tol,
        also,
    )
    return judge("stem-thread", "Threads", a - b, row, one=a, other=b)


def stem_length(p: Pairing) -> Iterator[Finding]:
    """The stem as supplied against the length that is wanted."""
    wanted, spare = wanted_length(p), p.rules.stem_long_ok
    short = work(
        "The stem is {size} too short: {wanted} needed.",
        by_part("Get a longer stem or an extension: {wanted} needed."),
    )
    trim = work(
        "The stem is {size} longer than the {wanted} needed.",
        by_work("Cut the stem to {wanted}: in steps, never below."),
    )
    stays = fits("The stem is {size} longer than the {wanted} needed, and can stay.")
    row = line(short, 0.0, stays, spare, trim) if spare else line(short, 0.0, trim)
    yield judge("stem-length", "Stem length", p.stem.length - wanted, row, wanted=wanted)


def crown_tube(p: Pairing) -> Iterator[Finding]:
    """Play of the crown over the case tube."""
    yield judge(
        "crown-tube",
        "Crown over the case tube",
        p.crown.tube_bore_diameter - p.case.tube_outer_diameter,
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
