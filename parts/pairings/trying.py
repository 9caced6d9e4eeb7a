"""The one place where other numbers are tried: what a check hangs on, and what they change. Stores nothing."""

from __future__ import annotations

from copy import copy
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from parts.dimensions.form_field import DimensionField
from parts.dimensions.in_hand import NOTHING_IN_HAND, InHand
from parts.fit.bands import Verdict
from parts.fit.records import MADE_SPACER, describe
from parts.fit.units import with_unit
from parts.fit.verdicts import Check
from parts.pairings.answer import answer
from parts.pairings.measured_now import has_a_part, measured_address
from parts.pairings.placing import place_of
from parts.pairings.worksheet import PREFIX, Row, row_at, rule_row
from parts.sheets import sources_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from django.http import QueryDict

    from parts.fit import Report
    from parts.models import Pairing
    from parts.pairings.answer import Answer

ASKED, PLACE, PUT_BACK = "try", "in", "put-back"
"""Names in address and form: the check or number that was pressed, where on the page, and what is put back."""
PLACES = ("section", "drawings", "check", "numbers")
_MOST = 5
"""Checks that are told as changed."""


@dataclass(frozen=True, slots=True)
class Field:
    """A number to try, and its share of the check's ± where that is known."""

    row: Row
    share: float = 0.0


@dataclass(frozen=True, slots=True)
class ToSave:
    """A number tried that can be saved with its part: in words, as typed, where to, and the ± that a bare one takes."""

    path: str
    words: str
    typed: str
    address: str
    to_come: str


@dataclass(frozen=True, slots=True)
class Then:
    """A check that reads differently with the numbers tried."""

    title: str
    before: str
    after: str
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Trying:
    """The slot: `key` is a check's key or a number's path, empty while closed; `rest` are numbers tried elsewhere."""

    key: str = ""
    place: str = ""
    title: str = ""
    fields: list[Field] = field(default_factory=list)
    rest: list[tuple[str, str]] = field(default_factory=list)
    then: list[Then] = field(default_factory=list)
    to_save: list[ToSave] = field(default_factory=list)

    @property
    def paths(self) -> str:
        """The numbers that it has fields for."""
        return " ".join(each.row.path for each in self.fields)

    @property
    def at(self) -> str:
        """Where the slot stands, "" for its closed place."""
        return f"{self.place} {self.key}" if self.place in ("check", "numbers") else self.place


def press(place: str) -> Callable[[str], str]:
    """The address that opens the slot in that place, for a check's key or a number's path."""
    return lambda key: f"?{ASKED}={key}&{PLACE}={place}#what-if"


def trying(asked: Mapping[str, str], *, answered: Answer, pairing: Pairing, hand: InHand = NOTHING_IN_HAND) -> Trying:
    """What the slot shows for what was pressed; numbers that were left out stand in it whatever was pressed."""
    key, place = asked.get(ASKED, "")[:120], asked.get(PLACE, "")
    check = _check(answered.report, key)
    paths = _moving(check) if check else [(key, 0.0)] if _is_number(key) else []
    paths += [(path, 0.0) for path in answered.faults if path not in dict(paths)]
    fields = [Field(row, share) for path, share in paths if (row := _row(path, answered, pairing))]
    shown = {each.row.path for each in fields}
    rest = [(PREFIX + path, text) for path, text in pairing.what_if.items() if path not in shown]
    if not fields:
        return Trying(rest=rest)
    if place not in PLACES or (place == "check" and check is None) or answered.report is None:
        place = "section"
    title = check.title if check else fields[0].row.label
    to_save = [_to_save(row, pairing, hand) for row in (each.row for each in fields) if _has_place(row, pairing)]
    return Trying(key, place, title, fields, rest, _then(check, answered, pairing), to_save)


def _has_place(row: Row, pairing: Pairing) -> bool:
    """Whether a number is tried in the row that its part can take."""
    is_sound = row.typed and not row.fault and has_a_part(pairing, row.path)
    return bool(is_sound) and place_of(pairing, row.path) is not None


def _to_save(row: Row, pairing: Pairing, hand: InHand) -> ToSave:
    to_come = DimensionField.at(row.path, hand=hand).to_come
    return ToSave(row.path, row.label, row.typed, measured_address(pairing), to_come)


def settled(data: QueryDict) -> QueryDict:
    """What was sent, without the slot where it was closed, and without the numbers that were put back."""
    if data.get("do") == "close":
        data = data.copy()
        data.pop(ASKED, None)
    elif data.get(PUT_BACK):
        data = data.copy()
        for path in data.get(PUT_BACK, "").split():
            data.pop(PREFIX + path, None)
    return data


def _check(report: Report | None, key: str) -> Check | None:
    return next((check for check in report.checks if check.key == key), None) if report else None


def _is_number(key: str) -> bool:
    if key.startswith("rules."):
        return rule_row(key, {}, {}) is not None
    try:
        return describe(key).input is not None
    except (KeyError, ValueError):
        return False


def _moving(check: Check) -> list[tuple[str, float]]:
    """The numbers that move a check, those with the largest share of its ± first; what it lacks before them."""
    shares = check.value.shares if check.value.known else {}
    shares = {path: share for path, share in shares.items() if path != MADE_SPACER}
    lacking = [(path, 0.0) for path in (*check.undecided, *check.missing) if path not in shares]
    return [*dict(lacking).items(), *sorted(shares.items(), key=lambda item: -item[1])]


def _row(path: str, answered: Answer, pairing: Pairing) -> Row | None:
    changes, faults = pairing.what_if, answered.faults
    if path.startswith("rules."):
        return rule_row(path, changes, faults)
    return row_at(path, pairing, sources=sources_of(pairing), changes=changes, faults=faults)


def _then(asked: Check | None, answered: Answer, pairing: Pairing) -> list[Then]:
    """What reads differently: the check that was pressed, then what has another verdict, then another number."""
    if not pairing.what_if or answered.report is None:
        return []
    plain = copy(pairing)
    plain.what_if = {}
    before = answer(plain).report
    was = {check.key: check for check in before.checks} if before else {}
    changed = []
    for check in answered.report.checks:
        old = was.get(check.key)
        earlier = _number(old) if old else "did not apply"
        if old is None or earlier != _number(check) or old.verdict is not check.verdict:
            rank = (check is not asked, old is not None and old.verdict is check.verdict)
            changed.append((rank, Then(check.title, earlier, _number(check), check.verdict)))
    return [then for _, then in sorted(changed, key=lambda item: item[0])][:_MOST]


def _number(check: Check) -> str:
    return with_unit(check.value.value, check.unit) if check.value.known else "not known yet"
