"""The fit check: pairing sheet in, report out. The list of all checks stands here.

Source: fit model sections 3, 4, 9 and 10. To change a check, follow its function from CHECKS.
"""

from collections.abc import Callable, Container, Iterator, Sequence
from typing import Any, TypeAlias, cast

from parts.fit.arithmetic.elementwise import Number, pick, somewhere, upper
from parts.fit.arithmetic.quantities import SLACK
from parts.fit.bands import Verdict
from parts.fit.checks import case, cell, date, feet, hands, height, stem
from parts.fit.pairing import Pairing
from parts.fit.records import Sheet
from parts.fit.report import Report
from parts.fit.rules import Rules
from parts.fit.seating import seat_hands
from parts.fit.sheet import read_sheet
from parts.fit.verdicts import Check, Finding

CHECKS = (
    ("Case and holder", (case.case_bore, case.holder_wall)),
    ("Height", (height.stem_height, height.back_gap)),
    ("Dial", (case.dial_seat, case.dial_opening, case.centre_hole, feet.dial_feet, feet.pad_room)),
    ("Hands", (hands.posts, hands.gaps, hands.tip_clearance, hands.reach, hands.unbalance)),
    ("Date", (date.present, date.in_window)),
    ("Stem and crown", (stem.stem_thread, stem.stem_length, stem.crown_tube)),
    ("Cell", (cell.cell_life,)),
)
"""Each function takes a Pairing and yields its checks, none where it does not apply."""

PARTS = ("case", "dial", "movement", "hands", "stem", "crown", "spacer")
ON_THE_STACK = (height.back_gap, hands.gaps)
"""The checks that depend on where the spacer lies."""


Function: TypeAlias = Callable[[Pairing], Iterator[Finding]]
"""A check's own function."""


def laid_out(sheet: Sheet, rules: Rules, placement: str) -> Pairing:
    """The pairing with its spacer in front of the dial or behind it, and the hands set for that."""
    p = Pairing(sheet, rules)
    p.date = date.view(p)
    p.stack = height.stack(sheet, rules, placement)
    p.seating = seat_hands(p)
    return p


def check_sheet(data: object) -> Report:
    """The report on a pairing sheet (dict, as JSON gives it). Raises SheetError for an impossible one."""
    return check(*read_sheet(data))


def check(sheet: Sheet, rules: Rules, parts: Container[str] = PARTS) -> Report:
    """The report on records that were read already; with fewer `parts` only the checks that need no others."""
    p, checks, behind = _both_ways(sheet, rules, parts)
    if behind and overall(behind[1]) < overall(checks):
        p, checks = behind
    verdict = list(Verdict)[int(overall(checks))]
    single = cast("list[Check]", checks)
    return Report(p, verdict, single, stem.cut_plan(p), feet.foot_marks(p), measure_next(single))


def check_columns(sheet: Sheet, rules: Rules, parts: Container[str] = PARTS) -> list[Finding]:
    """The checks of many pairings at once, without a report: records that hold columns where the pairings differ.

    Every row agrees with `check` of that row alone. What a row has no number for is NaN in the column; what differs in
    kind (a date or none, another number of feet) does not go into one sheet.
    """
    p, front, behind = _both_ways(sheet, rules, parts)
    if not behind:
        return front
    _, rear = behind
    thickness: Any = p.stack.thickness
    better = (thickness > 0) & (overall(rear) < overall(front))
    return [a if a is b else pick(better, b, a) for a, b in zip(front, rear, strict=True)]


def _both_ways(
    sheet: Sheet, rules: Rules, parts: Container[str]
) -> tuple[Pairing, list[Finding], tuple[Pairing, list[Finding]] | None]:
    """The pairing with its checks, and the pairing and its checks with the spacer behind where that is to be tried."""
    wanted = sheet.spacer.placement
    p = laid_out(sheet, rules, "rear" if wanted == "rear" else "front")
    found: dict[Function, list[Finding]] = {
        function: list(function(p)) for _, functions in CHECKS for function in functions
    }
    thickness = p.stack.thickness
    if wanted != "auto" or thickness is None or not somewhere(thickness > 0):
        return p, _asked(found, parts), None
    other = laid_out(sheet, rules, "rear")
    behind = found | {function: list(function(other)) for function in ON_THE_STACK}
    return p, _asked(found, parts), (other, _asked(behind, parts))


def _asked(found: dict[Function, list[Finding]], parts: Container[str]) -> list[Finding]:
    """The checks of all functions in the order of the list, without those that wait for a part not among `parts`."""
    kept = []
    for subject, functions in CHECKS:
        for item in (item for function in functions for item in found[function]):
            if all(name.split(".")[0] in parts for name in item.missing):
                item.subject = subject
                kept.append(item)
    return kept


def overall(checks: Sequence[Finding]) -> Number:
    """The rank of the pairing's verdict: the worst of its musts; advice counts only where it asks for work."""
    worst: Number = 0
    for item in checks:
        worst = upper(worst, pick(item.must | (item.rank == Verdict.WORK.rank), item.rank, 0))
    return worst


def measure_next(checks: Sequence[Check]) -> list[tuple[str, tuple[str, ...]]]:
    """What to measure to decide the unclear musts, as (input, keys of checks): missing inputs first, then by weight.

    Missing inputs stand in order of how many checks wait for them, the others by their summed |c·u|.
    """
    missing: dict[str, int] = {}
    weight: dict[str, float] = {}
    decides: dict[str, list[str]] = {}
    for item in checks:
        if not item.must or item.verdict is not Verdict.UNCLEAR:
            continue
        for name in item.missing:
            missing[name] = missing.get(name, 0) + 1
            decides.setdefault(name, []).append(item.key)
        for name, part in item.value.spread.items():
            if abs(part) > SLACK and not item.missing:
                weight[name] = weight.get(name, 0.0) + abs(part)
                decides.setdefault(name, []).append(item.key)
    order = sorted(missing, key=lambda name: -missing[name])
    order += sorted((name for name in weight if name not in missing), key=lambda name: -weight[name])
    return [(name, tuple(decides[name])) for name in order]
