"""What the pages of What would go in? show, made ready for their templates."""

from urllib.parse import urlencode

from parts.models import Pairing
from parts.models.pairing import OTHER_HANDS, PARTS
from parts.pairings.page import phrase_of
from parts.pairings.worksheet import PREFIX, open_rows, part_rows, part_word
from parts.sheets import sources_of

_TYPED = ("case", "dial")
"""Parts whose numbers may be typed although none is chosen, as a customer reads them out on the phone."""


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
    return urlencode(parts | {PREFIX + path: text for path, text in changes.items()})


def given_in_words(question, pairing):
    """What the ranking is held against: the parts chosen, and those of which only numbers are typed."""
    chosen = [pairing.hands_in_words if name == "hands" else str(getattr(pairing, name)) for name in pairing.chosen]
    typed = question.parts - set(pairing.chosen) - {question.part, "spacer"}
    return chosen + [f"a {part_word(name)} by its numbers" for name in PARTS if name in typed]


def fault_words(question):
    """The typed numbers that were left out, as (path, words, what is wrong)."""
    return [(path, phrase_of(path), fault) for path, fault in question.faults.items()]
