"""Crystal and case back under the stated pressure, with what is left over the hands and behind the movement."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from parts.fit.arithmetic.quantities import Quantity, least, unknown
from parts.fit.bands import bands, by_work, fits, work
from parts.fit.checks.hands import crystal_gap
from parts.fit.checks.height import room_behind
from parts.fit.pressure import gasket
from parts.fit.pressure.plate import HOLDS_TO, gives_way, resting
from parts.fit.records.materials import BACKS, CRYSTALS
from parts.fit.verdicts import Check, Finding, judge

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing

_PLATES = {
    "crystal": (CRYSTALS, "Crystal", "Pressure on the crystal", "over the hands"),
    "back": (BACKS, "Case back", "Pressure on the case back", "behind the movement"),
}


def under_pressure(p: Pairing) -> list[Check]:
    """The findings, all of them advice; none of what nobody measured anything of."""
    findings = [item for name in _PLATES for item in _plate(p, name)]
    findings += gasket.findings(p.case)
    for item in findings:
        item.subject = "Under pressure"
    return [item for item in findings if isinstance(item, Check)]


def _plate(p: Pairing, name: str) -> Iterator[Finding]:
    """How far a plate gives way, and what is left behind it where the parts are known."""
    materials, title, title_of_room, where = _PLATES[name]
    case = p.case
    thickness, across = getattr(case, f"{name}_thickness"), getattr(case, f"{name}_span")
    named = getattr(case, f"{name}_material")
    if not (thickness.known or across.known or named):
        return
    if named is None:
        fast = free = unknown(f"case.{name}_material")
    else:
        fast = gives_way(case.stated_pressure, across, thickness, materials[named])
        free = resting(fast, materials[named])
    limit = HOLDS_TO * thickness.value if thickness.known else 0.0
    gives = "The " + title.lower() + " gives way by {fast} with its edge held fast, by {value} where it only rests."
    yield judge(
        f"pressure-{name}-bends",
        f"{title} under pressure",
        free,
        bands(
            fits(gives),
            limit,
            work(
                gives + " That is more than half its thickness, where the formula says too much.",
                by_work(f"Take a thicker {title.lower()}, or try it in the pressure tester without the movement."),
            ),
        ),
        must=False,
        fast=fast,
    )
    room = _over_the_hands(p) if name == "crystal" else room_behind(p)
    left = room - free
    if left.known:
        yield judge(
            f"pressure-{name}",
            title_of_room,
            left,
            bands(
                work(
                    f"Under {{pressure}} the {title.lower()} may touch: {{size}} is missing {where}.",
                    by_work(f"Leave a wider gap {where}, or state less pressure."),
                ),
                0.0,
                work(
                    f"Under {{pressure}} only {{value}} is left {where}.",
                    by_work(f"Leave a wider gap {where}, or state less pressure."),
                ),
                p.rules.gap_min if name == "crystal" else p.rules.back_gap_min,
                fits(f"Under {{pressure}} {{value}} is left {where}."),
            ),
            must=False,
            pressure=(case.stated_pressure.value, "bar"),
        )


def _over_the_hands(p: Pairing) -> Quantity:
    """The least room under the crystal, what its middle gives way counted all over: that is the safe side."""
    gaps = [crystal_gap(p, seat) for seat in p.seating.seats.values()]
    return least(*gaps) if gaps else unknown("hands.hour.length")
