"""What the pages of What would go in? show, made ready for their templates."""

from dataclasses import dataclass
from urllib.parse import urlencode

from parts.dimensions.in_hand import NOTHING_IN_HAND
from parts.fit.answer.report import in_hundred
from parts.goes_in.plan import Plan
from parts.goes_in.search import Search
from parts.library.kinds import KIND_OF
from parts.models import Pairing
from parts.models.pairing import OTHER_HANDS, PARTS
from parts.pairings.page import measure_next, phrase_of
from parts.pairings.worksheet import PREFIX, open_rows, part_rows, part_word
from parts.sheets import sources_of

_TYPED = ("case", "dial")
"""Parts whose numbers may be typed although none is chosen, as a customer reads them out on the phone."""


@dataclass(frozen=True, slots=True)
class PlanPart:
    """One part of a plan: its kind in words and as an address, its record, and how it is come by."""

    word: str
    slug: str
    record: object
    stock: str
    is_lacking: bool


@dataclass(frozen=True, slots=True)
class PlanLine:
    """A plan as it is shown; `given_address` ends the address of the fit check with exactly these parts."""

    plan: Plan
    parts: list
    given_address: str
    chance: str
    to_get: list
    work: list
    accept: list
    measure: list


def plan_line(plan, changes, hand=NOTHING_IN_HAND):
    """The PlanLine of a Plan; `changes` are the typed numbers that it was found with, `hand` the shop's instruments."""
    parts = [_plan_part(plan, name, field, record) for name, field, record in _parts_of(plan.pairing)]
    to_get = [f"{part.word.capitalize()} {part.record}: {part.stock}." for part in parts if part.is_lacking]
    return PlanLine(
        plan,
        parts,
        address_of(plan.pairing, changes),
        "" if plan.share is None else in_hundred(plan.share),
        to_get + plan.asked_for("part"),
        plan.asked_for("work"),
        plan.asked_for("accept"),
        [words for _, words, _ in measure_next(plan.report, hand)],
    )


def _parts_of(pairing):
    """The parts of a plan beside case and dial, as (part, field, record)."""
    yield "movement", "movement", pairing.movement
    yield from (("hands", field, hand_set) for field, hand_set in pairing.hand_sets.items())
    yield from ((name, name, getattr(pairing, name)) for name in ("stem", "crown"))


def _plan_part(plan, name, field, record):
    word = part_word(name) if field == name else Pairing._meta.get_field(field).verbose_name
    if field not in plan.looked_for:
        stock = "stays"
    elif record.in_stock is None:
        stock = "stock not counted"
    else:
        stock = f"{record.in_stock} in stock" if record.in_stock else "none in stock"
    return PlanPart(word, KIND_OF[name].slug, record, stock, field in plan.to_get)


def start(pairing):
    """The address of what a saved pairing gives: its parts, with the numbers typed in."""
    return address_of(pairing, pairing.what_if)


def plan_start(pairing):
    """The address of a plan for a saved pairing: case, dial and single hands stay, with the numbers typed in."""
    stays = {name: getattr(pairing, name) for name in (*_TYPED, *OTHER_HANDS, "no_seconds_hand")}
    return address_of(Pairing(**stays), Search.of(Pairing(**stays), pairing.what_if).changes)


def number_groups(question, pairing, changes):
    """The numbers of case and dial, stored and typed, as (part in words, rows, whether anything is typed)."""
    shown = Pairing(case=pairing.case, dial=pairing.dial)
    stored = {
        group.part: group.rows
        for group in part_rows(shown, sources=sources_of(shown), changes=changes, faults=question.faults)
    }
    groups = []
    for part in _TYPED:
        rows = stored.get(part) or open_rows(part, changes=changes, faults=question.faults)
        groups.append((part, rows, any(row.typed for row in rows)))
    return groups


def address_of(pairing, changes):
    """The pairing as the end of an address: its parts and the numbers typed in."""
    parts = {name: key for name in (*PARTS, *OTHER_HANDS) if (key := getattr(pairing, f"{name}_id"))}
    parts |= {"no_seconds_hand": "on"} if pairing.no_seconds_hand else {}
    return urlencode(parts | {PREFIX + path: text for path, text in changes.items()})


def given_in_words(question, pairing):
    """What the ranking is held against: the parts chosen, and those of which only numbers are typed."""
    chosen = [pairing.hands_in_words if name == "hands" else str(getattr(pairing, name)) for name in pairing.chosen]
    typed = question.parts - set(pairing.chosen) - {question.part, "spacer"}
    return chosen + [f"a {part_word(name)} by its numbers" for name in PARTS if name in typed]


def fault_words(question):
    """The typed numbers that were left out, as (path, words, what is wrong)."""
    return [(path, phrase_of(path), fault) for path, fault in question.faults.items()]
