"""A case loaded from the front: through its opening, and the ring that holds the dial's edge from above.

Source: fit model section 11.1. Heights count from the case floor towards the crystal.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from parts.fit.arithmetic.quantities import unknown
from parts.fit.bands import Band, by_part, by_work, fits, no, work
from parts.fit.bands import bands as line
from parts.fit.levels import widths
from parts.fit.verdicts import Finding, Following, judge, weakest

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


def ring_gap(p: Pairing) -> Iterator[Finding]:
    """Air between the dial's face at its edge and the ring above it: a tension ring presses, so its air is negative."""
    if not p.case.is_front_loaded:
        return
    gap = p.case.floor_ring + p.stack.sunk
    row = _under_tension(p) if p.case.ring == "tension" else _under_rehaut(p)
    kind = () if p.case.ring else (unknown("case.ring"),)
    yield judge("ring-gap", "Ring over the dial", gap, row, needs=kind, lacks=Following(gap + p.rules.ring_press_min))


def _under_rehaut(p: Pairing) -> list[Band]:
    return line(
        no("The dial stands {size} too high: the rehaut does not seat."),
        0.0,
        fits("The rehaut lies {value} over the dial's edge."),
        p.rules.ring_play_max,
        work(
            "The rehaut leaves the dial's edge {value} of play.",
            by_part("Lay a shim {value} thick between dial and rehaut."),
        ),
    )


def _under_tension(p: Pairing) -> list[Band]:
    return line(
        no("The dial stands {size} above the tension ring's place: the crystal does not seat."),
        -p.rules.ring_press_max,
        fits("The tension ring presses the dial's edge by {size}."),
        -p.rules.ring_press_min,
        work(
            "The tension ring does not hold the dial: it needs {lacks} more.",
            by_part("Get a tension ring thicker by {lacks} or a little more, or lay a shim under it."),
        ),
    )


def front_opening(p: Pairing) -> Iterator[Finding]:
    """Whether dial and movement pass the front of the case; a dial that came out of it needs no numbers for it."""
    if not p.case.is_front_loaded:
        return
    through = widths.front(p.sheet)
    rooms = [("movement", widths.across(widths.movement(p.sheet), through))]
    dial = widths.across(widths.dial(p.sheet), through)
    if dial.value.known or not p.dial.own_case:
        rooms.insert(0, ("dial", dial))
    yield weakest([_passes(p, part, room) for part, room in rooms])


def _passes(p: Pairing, part: str, room: widths.Room) -> Finding:
    return judge(
        "front-opening",
        "Through the front",
        room.value,
        line(
            no(f"The {part} is {{size}} too wide for the front opening."),
            0.0,
            work(
                f"The {part} passes the front opening with only {{value}} to spare.",
                by_work("Ease the front opening, or the edge of what goes through it, until it drops in."),
            ),
            p.rules.bore_play_min,
            fits(f"The {part} passes the front opening with {{value}} to spare."),
        ),
        span=room.span,
    )
