"""The question that the library is held against, and its answer: which parts go in, best first."""

from copy import copy
from dataclasses import dataclass, replace

import numpy as np

from parts.fit import SheetError
from parts.fit.bands import Verdict
from parts.fit.records import HANDS, SMALL_HANDS
from parts.fit.sheet import read_part, read_sheet
from parts.goes_in.blocks import blocks_of
from parts.goes_in.standing import Standing, joined, standing
from parts.pairings.what_if import with_changes
from parts.rules.shop import shop_rules
from parts.sheets import part_sheet, sheet_of


def staying_hands(pairing):
    """The roles of a pairing's hands that come from another set."""
    return tuple(role for role in (*HANDS, SMALL_HANDS) if pairing.hand_field(role) != "hands")


def on_sheet(own, given, staying):
    """A hand set's piece of the sheet with the given hands that stay; a small one only takes that of its own post."""
    stays = {role: given[role] for role in staying}
    if SMALL_HANDS in stays:
        stays[SMALL_HANDS] = own.get(SMALL_HANDS, {}) | stays[SMALL_HANDS]
    return own | stays


def on_record(own, given, staying):
    """The same of records as they are read from such pieces, in columns or not."""
    stays = {role: getattr(given, role) for role in staying}
    if SMALL_HANDS in stays:
        by_post = {hand.name: hand for hand in (*own.subsidiary, *given.subsidiary)}
        stays[SMALL_HANDS] = tuple(by_post.values())
    return replace(own, **stays)


@dataclass(frozen=True, slots=True)
class Question:
    """What is given of a pairing, and which part of it is looked for ("movement", "hands", "stem", "crown").

    `changes` are typed numbers by their path, of parts that are chosen or not; `faults` says which cannot be. Where
    hands are looked for, those `staying` come from other sets and are kept.
    """

    part: str
    sheet: dict
    parts: frozenset
    faults: dict
    staying: tuple = ()

    @classmethod
    def of(cls, part, pairing, changes):
        """The question for a pairing, saved or not, without its own such part; the pairing stays as it is."""
        pairing = copy(pairing)
        setattr(pairing, part, None)
        changes = {path: text for path, text in changes.items() if path.split(".")[0] != part}
        sheet, faults = with_changes(sheet_of(pairing) | {"rules": shop_rules()}, changes)
        typed = {path.split(".")[0] for path in changes if path not in faults}
        staying = staying_hands(pairing) if part == "hands" else ()
        if part == "hands" and pairing.no_seconds_hand:
            sheet["hands"] = {role: {} for role in HANDS} | sheet["hands"] | {"seconds": None}
            staying = (*staying, "seconds")
        return cls(part, sheet, frozenset(pairing.chosen) | (typed - {"rules"}) | {part, "spacer"}, faults, staying)

    def sheet_with(self, record):
        """The sheet with a record of the part looked for; hands that stay are not its own."""
        own = part_sheet(self.part, record)
        return self.sheet | {self.part: on_sheet(own, self.sheet["hands"], self.staying) if self.staying else own}

    @property
    def is_open(self):
        """Whether nothing is given that a part could be held against."""
        return self.parts <= {self.part, "spacer"}


@dataclass(frozen=True, slots=True)
class Ranking:
    """The parts' primary keys, best first, with how each stands; `error` refuses what is given."""

    keys: np.ndarray
    standing: Standing | None
    error: SheetError | None = None

    @property
    def counts(self):
        """How many have each verdict: (verdict, number) pairs, best first."""
        ranks = self.standing.rank if self.standing else ()
        return [(str(verdict), int(np.sum(ranks == verdict.rank))) for verdict in Verdict]


def rank(question, records, keep=None):
    """The Ranking of a queryset's records; `keep` tells from the Standing which rows to keep."""
    try:
        sheet, rules = read_sheet(question.sheet)
    except SheetError as error:
        return Ranking(np.array([], dtype=int), None, error)
    keys, standings = [], []
    for block in blocks_of(question.part, records):
        record = read_part(question.part, block.sheet)
        if len(block.keys):
            keys.append(block.keys)
            own = on_record(record, sheet.hands, question.staying) if question.staying else record
            trial = replace(sheet, **{question.part: own})
            standings.append(standing(trial, rules, question.parts, len(block.keys)))
    if not keys:
        return Ranking(np.array([], dtype=int), None)
    keys, whole = np.concatenate(keys), joined(standings)
    order = whole.order_by(keys)
    if keep is not None:
        order = order[keep(whole)[order]]
    return Ranking(keys[order], whole.rows(order))
