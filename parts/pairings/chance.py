"""What takes longer than the verdict and comes after it: the chance, and what would make a pairing go."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from urllib.parse import urlencode

from django.urls import reverse

from parts.dimensions.in_hand import NOTHING_IN_HAND, InHand
from parts.fit.answer.report import in_hundred
from parts.fit.bands import Verdict
from parts.library.kinds import BROUGHT_IN, KIND_OF
from parts.models import Hand
from parts.models.pairing import OTHER_HANDS, PARTS
from parts.pairings.page import to_measure
from parts.pairings.worksheet import PREFIX
from parts.trials.chance import with_chance
from parts.trials.would_go import with_ways

if TYPE_CHECKING:
    from parts.fit import Report
    from parts.fit.answer.ways import Change, Way
    from parts.models import Pairing


@dataclass(frozen=True, slots=True)
class WayLine:
    """A way to make the pairing go, with how many parts of the library are like that and where they are ranked."""

    way: Way
    count: int = 0
    many: str = ""
    address: str = ""


def chance_context(
    *, report: Report, pairing: Pairing, hand: InHand = NOTHING_IN_HAND, has: Collection[str] = ()
) -> dict[str, Any]:
    """The context of the chance: of the pairing, of each check that may go either way, and the ways to make it go."""
    report = with_ways(with_chance(report))
    return to_measure(report, pairing, hand, has) | {
        "report": report,
        "pairing": pairing,
        "each": [
            (check.key, in_hundred(1 - check.chance[Verdict.NO]))
            for check in report.checks
            if check.chance and 0 < check.chance[Verdict.NO] < 1
        ],
        "ways": [_line(way, pairing) for way in report.would_go],
        "hand": hand,
    }


def _line(way: Way, pairing: Pairing) -> WayLine:
    change = way.changes[0]
    part = change.input.partition(".")[0]
    if len(way.changes) > 1 or part not in BROUGHT_IN:
        return WayLine(way)
    count, kind = _like(change), KIND_OF[part]
    return (
        WayLine(way, count, kind.singular if count == 1 else kind.plural, _ranking(part, pairing))
        if count
        else WayLine(way)
    )


def _like(change: Change) -> int:
    """How many records in the drawers have the changed number as it would have to be."""
    part, _, rest = change.input.partition(".")
    span = "gte" if change.at_least else "lte"
    if part == "hands":
        role, _, key = rest.partition(".")
        hands = Hand.objects.filter(role=role, hand_set__archived=False, **{f"{key}__{span}": change.value})
        return hands.count()
    model = KIND_OF[part].model
    name = next((name for name, dimension in model.dimensions.items() if dimension.path == change.input), None)
    return model.objects.in_drawers().filter(**{f"{name}__{span}": change.value}).count() if name else 0


def _ranking(part: str, pairing: Pairing) -> str:
    """Where parts of this kind are ranked for the pairing as it stands, its typed numbers too."""
    names = [name for name in (*PARTS, *OTHER_HANDS) if name != part]
    given = {name: key for name in names if (key := getattr(pairing, f"{name}_id"))}
    typed = {PREFIX + path: text for path, text in pairing.what_if.items()}
    return f"{reverse('parts:goes-in', args=[BROUGHT_IN[part]])}?{urlencode(given | typed)}"
