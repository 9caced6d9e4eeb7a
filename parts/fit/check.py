"""The fit check: pairing sheet in, report out. The list of all checks stands here.

Source: fit model sections 3, 4, 9 and 10. To change a check, follow its function from CHECKS.
"""

from collections.abc import Callable, Collection, Iterator, Sequence
from typing import Any, TypeAlias, cast

from parts.fit.answer.report import Report
from parts.fit.arithmetic.elementwise import Number, Truth, negation, pick, somewhere, upper
from parts.fit.arithmetic.quantities import SLACK, Quantity
from parts.fit.bands import Verdict
from parts.fit.checks import case, cell, date, dial, dial_edge, feet, front, hands, height, posts, small, stem
from parts.fit.doubts import doubts
from parts.fit.levels.stack import stack
from parts.fit.pairing import Pairing, part_of
from parts.fit.records import HANDS, SMALL_HANDS, Sheet
from parts.fit.rules import Rules
from parts.fit.seating.lifts import seat_hands
from parts.fit.seating.small import seat_small_hands
from parts.fit.sheet import chosen_parts, read_sheet
from parts.fit.verdicts import Check, Finding

CHECKS = (
    ("Case and holder", (case.case_bore, case.holder_wall)),
    ("Height", (height.stem_height, height.back_gap, front.ring_gap, height.hour_wheel)),
    (
        "Dial",
        (
            dial_edge.dial_bore,
            front.front_opening,
            dial_edge.dial_seat,
            dial_edge.dial_opening,
            dial_edge.dial_trim,
            dial.dial_furniture,
            dial.dial_sunk,
            dial.dial_held,
            dial.centre_hole,
            dial.hole_cover,
            feet.on_feet,
        ),
    ),
    ("Hands", (posts.posts, hands.gaps, hands.tip_clearance, hands.reach, hands.unbalance)),
    ("Small hands", (small.place, small.posts, small.gaps)),
    ("Date", (date.present, date.in_window, date.depth)),
    ("Stem and crown", (stem.stem_thread, stem.stem_length, stem.joint_clear, stem.stem_tube, stem.crown_tube)),
    ("Cell", (cell.cell_life,)),
)
"""Each function takes a Pairing and yields its checks, none where it does not apply."""

PARTS = frozenset(
    ("case", "dial", "movement", *(f"hands.{name}" for name in (*HANDS, SMALL_HANDS)), "stem", "crown", "spacer")
)
ON_THE_STACK = (
    height.back_gap,
    height.hour_wheel,
    dial.dial_sunk,
    dial.dial_held,
    hands.gaps,
    hands.tip_clearance,
    date.depth,
)
"""The checks that depend on where the spacer lies."""


Function: TypeAlias = Callable[[Pairing], Iterator[Finding]]
"""A check's own function."""


def laid_out(
    sheet: Sheet, rules: Rules, placement: str, parts: Collection[str] = PARTS, made: Quantity | None = None
) -> Pairing:
    """The pairing with its spacer in front of the dial or behind it, and the hands set for that.

    `made` is the spacer where it is not worked out from the sheet: the sheet's numbers are draws then.
    """
    p = Pairing(sheet, rules, parts)
    p.date, p.day = date.date_shown(p), date.day_shown(p)
    p.stack = stack(sheet, rules, placement, made)
    p.small = seat_small_hands(p)
    p.seating = seat_hands(p)
    return p


def check_sheet(data: Any) -> Report:
    """The report on a pairing sheet (dict, as JSON gives it). Raises SheetError for an impossible one."""
    return check(*read_sheet(data), chosen_parts(data))


def check(sheet: Sheet, rules: Rules, parts: Collection[str] = PARTS) -> Report:
    """The report on records that were read already; checks that need a part not among `parts` wait for it."""
    p, findings, behind = _both_ways(sheet, rules, parts)
    if behind and _standing(behind[1]) < _standing(findings):
        p, findings = behind
    checks = [item for item in cast("list[Check]", findings) if not item.waits_for]
    waits = [item for item in cast("list[Check]", findings) if item.waits_for]
    verdict = list(Verdict)[int(overall(checks))]
    return Report(
        pairing=p,
        parts=frozenset(parts),
        verdict=verdict,
        checks=checks,
        waits=waits,
        stem=stem.cut_plan(p),
        foot_marks=feet.foot_marks(p),
        measure_next=measure_next(checks),
        doubts=doubts(sheet),
    )


def check_columns(sheet: Sheet, rules: Rules, parts: Collection[str] = PARTS) -> list[Finding]:
    """The checks of many pairings at once, without a report: records that hold columns where the pairings differ.

    Every row agrees with `check` of that row alone; checks that wait for a part are left out. What a row has no number
    for is NaN in the column; what differs in kind (a date or none, another number of feet) does not go into one sheet.
    """
    p, front, behind = _both_ways(sheet, rules, parts)
    if behind:
        thickness: Any = p.stack.thickness
        (rank, asks), (rear_rank, rear_asks) = _standing(front), _standing(behind[1])
        better = (thickness > 0) & ((rear_rank < rank) | ((rear_rank == rank) & (rear_asks < asks)))
        front = _laid(better, front, {item.key: item for item in behind[1]})
    return [item for item in front if not (isinstance(item, Check) and item.waits_for)]


def _laid(better: Truth, front: list[Finding], behind: dict[str, Finding]) -> list[Finding]:
    """The checks of the placement that each row has; some are only asked with a spacer in front."""
    laid = []
    for item in front:
        other = behind.get(item.key)
        if other is None:
            laid.append(item.only_where(negation(better)))
        else:
            laid.append(item if item is other else pick(better, other, item))
    return laid


def check_draws(drawn: Sheet, of: Pairing, made: Quantity) -> list[Finding]:
    """The checks of many draws of a pairing's numbers: its spacer `made`, drawn too, lies where it lies."""
    p = laid_out(drawn, of.rules, of.stack.placement, of.parts, made)
    p.drawn_spacer = of.stack.made.value
    return [item for _, functions in CHECKS for function in functions for item in function(p)]


def _both_ways(
    sheet: Sheet, rules: Rules, parts: Collection[str]
) -> tuple[Pairing, list[Finding], tuple[Pairing, list[Finding]] | None]:
    """The pairing with its checks, and the pairing and its checks with the spacer behind where that is to be tried."""
    wanted = sheet.spacer.placement
    p = laid_out(sheet, rules, "rear" if wanted == "rear" else "front", parts)
    findings: dict[Function, list[Finding]] = {
        function: list(function(p)) for _, functions in CHECKS for function in functions
    }
    thickness = p.stack.thickness
    if wanted != "auto" or sheet.is_movement_standing or thickness is None or not somewhere(thickness > 0):
        return p, _sorted(findings, p), None
    other = laid_out(sheet, rules, "rear", parts)
    behind = findings | {function: list(function(other)) for function in ON_THE_STACK}
    return p, _sorted(findings, p), (other, _sorted(behind, p))


def _sorted(findings: dict[Function, list[Finding]], p: Pairing) -> list[Finding]:
    """The checks of all functions in the order of the list, each told which parts it waits for."""
    checks = []
    for subject, functions in CHECKS:
        for function in functions:
            for item in findings[function]:
                item.subject = subject
                if isinstance(item, Check) and item.missing:
                    needs = dict.fromkeys(part_of(name) for name in item.missing)
                    item.waits_for = tuple(name for name in needs if not p.has(name))
                checks.append(item)
    return checks


def overall(checks: Sequence[Finding]) -> Number:
    """The rank of the pairing's verdict: the worst of its musts; advice counts only where it asks for work."""
    worst: Number = 0
    for item in checks:
        counts = item.must | (item.rank == Verdict.WORK.rank) if item.must is not True else True
        worst = upper(worst, pick(counts, item.rank, 0))
    return worst


def _standing(checks: Sequence[Finding]) -> tuple[Number, Number]:
    """By what a placement of the spacer is chosen: the overall verdict, then how many findings ask for something."""
    counted = [item for item in checks if not (isinstance(item, Check) and item.waits_for)]
    asks: Number = 0
    for item in counted:
        asks = asks + (item.rank == Verdict.WORK.rank)
    return overall(counted), asks


def measure_next(checks: Sequence[Check], gains: dict[str, float] | None = None) -> list[tuple[str, tuple[str, ...]]]:
    """What to measure to decide the unclear musts, as (input, keys of checks): missing inputs first, then by weight.

    Missing inputs, and those known by a bound only, stand in order of how many checks wait for them. The others stand
    by `gains`, how much less likely a wrong decision is once they are known, where that was drawn; then by their summed
    |c·u|.
    """
    missing: dict[str, int] = {}
    weight: dict[str, float] = {}
    decides: dict[str, list[str]] = {}
    for item in checks:
        if not item.must or item.verdict is not Verdict.UNCLEAR:
            continue
        for name in item.undecided:
            missing[name] = missing.get(name, 0) + 1
            decides.setdefault(name, []).append(item.key)
        for name, part in item.value.spread.items():
            if abs(part) > SLACK and not item.missing and name not in item.undecided:
                weight[name] = weight.get(name, 0.0) + abs(part)
                decides.setdefault(name, []).append(item.key)
    order = sorted(missing, key=lambda name: -missing[name])
    gains = gains or {}
    uncertain = (name for name in weight if name not in missing)
    order += sorted(uncertain, key=lambda name: (-gains.get(name, 0.0), -weight[name]))
    return [(name, tuple(decides[name])) for name in order]
