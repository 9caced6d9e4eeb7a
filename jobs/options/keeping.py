"""What must be kept of the watch, set against the parts that an option puts in."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from parts.fit.answer.listing import in_a_sentence
from parts.models import Crown
from parts.models.pairing import OTHER_HANDS, SMALL_SECONDS
from parts.sheets import came_out_of

if TYPE_CHECKING:
    from jobs.models import Job
    from parts.models import Case, Pairing

_HANDS = {field.removesuffix("_from").replace("_", " "): field for field in OTHER_HANDS}
"""Each hand and the field of a pairing that says which other set it comes from."""
# A small seconds hand may be meant where somebody speaks of the seconds hand.
_WORDS = {
    "case": r"\bcases?\b|\bhousing\b",
    "dial": r"\bdials?\b",
    "movement": r"\bmovements?\b|\bcalibres?\b",
    "stem": r"\bstems?\b",
    "crown": r"\bcrowns?\b",
    "hour hand": r"\bhour hand\b",
    "minute hand": r"\bminute hand\b",
    "seconds hand": r"(?<!\bsmall[ -])(?<!\bsub[ -])\bseconds?[ -]hand\b",
    "small seconds hand": r"\bseconds?[ -]hand\b",
}
_ALL_HANDS = r"\bhands\b"
_EVERYTHING = r"\beverything\b|\ball\b"
_LESS = r"\b(?:but|except|apart from|without|not)\b"


@dataclass(frozen=True, slots=True)
class Replaced:
    """A part that must be kept and that an option replaces; `by` is what goes in."""

    part: str
    by: str

    def __str__(self):
        return f"the {self.part} (by {self.by})"


def to_keep(words: str) -> list[str]:
    """The parts that somebody's words name as to be kept: "dial and case", "all but the movement"."""
    wanted, *less = re.split(_LESS, words.lower())
    parts = _named(wanted)
    if re.search(_EVERYTHING, wanted):
        parts = list(_WORDS)
    left_out = {part for piece in less for part in _named(piece)}
    return [part for part in parts if part not in left_out]


def _named(words):
    parts = [part for part, pattern in _WORDS.items() if re.search(pattern, words)]
    if re.search(_ALL_HANDS, words):
        parts += [hand for hand in _HANDS if hand not in parts]
    return parts


def replaced(job: Job, pairing: Pairing) -> list[Replaced]:
    """What the pairing replaces of that which must be kept, each with what goes in instead."""
    new = _new_parts(job, pairing)
    wanted = [Replaced(part, str(new[part])) for part in to_keep(job.keep) if part in new]
    hands = [item for item in wanted if item.part in _HANDS]
    return [item for item in wanted if item not in hands] + _by_set(hands, _hands_of(pairing))


def _by_set(hands, all_of):
    """The hands that one set replaces as one: "hands", "hour and minute hands"."""
    by_set: dict[str, list[str]] = {}
    for item in hands:
        by_set.setdefault(item.by, []).append(item.part)
    return [Replaced("hands" if names == [*all_of] else _hand_words(names), by) for by, names in by_set.items()]


def _hand_words(names):
    return names[0] if len(names) == 1 else f"{in_a_sentence(name.removesuffix(' hand') for name in names)} hands"


def _new_parts(job, pairing):
    """The parts that are not the watch's own, by their words.

    A case or dial is the watch's own while it is of its family or made for the job; any other part where it was
    entered as such, or for the job and is no copy of one in the library; a crown also where it came out of that case.
    """
    case_family = job.case_family_id
    new = {}
    for name in ("case", "dial"):
        part = getattr(pairing, name)
        if part and case_family and part.family_id and part.family_id != case_family:
            new[name] = part
    for name in ("movement", "stem", "crown"):
        part = getattr(pairing, name)
        if part and not is_own(part, case=None if "case" in new else pairing.case):
            new[name] = part
    return new | {hand: hand_set for hand, hand_set in _hands_of(pairing).items() if not is_own(hand_set)}


def _hands_of(pairing):
    """The set that each hand of the pairing comes from; a small one only where there is any."""
    sets = pairing.hand_sets
    hands = {hand: sets.get(field, sets.get("hands")) for hand, field in _HANDS.items()}
    return {hand: own for hand, own in hands.items() if own and (_HANDS[hand] != SMALL_SECONDS or pairing.small_hands)}


def is_own(part: Any, *, case: Case | None = None) -> bool:
    """Whether a part is the watch's own: entered as such, or for its job and no copy of one in the library.

    With the watch's `case` also a crown that came out of it.
    """
    if case and isinstance(part, Crown) and came_out_of(part, case):
        return True
    return getattr(part, "is_watchs_own", False) or (part.is_of_a_job and not part.copied_from_id)
