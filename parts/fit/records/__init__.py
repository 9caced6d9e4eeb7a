"""The pairing sheet as frozen records: the only input of the engine, and the one list of what can be measured.

Source: fit model sections 1 and 2. Lengths in mm, angles in degrees clockwise from 12 o'clock seen from the
dial side, masses in mg, torque in µN·m, current in µA, capacity in mAh. Case depths count from the dial seat towards
the case back; on the movement, post heights count from the dial rest towards the crystal, depths towards the back.

Every number is a Quantity under its path in the sheet ("movement.posts.hour.height"); what was not measured is an
unknown Quantity. Lists that are None were not looked at; an empty list says that there are none. A window or a date
that is None was not looked at; False says that there is none.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, fields
from typing import Any

from parts.fit.inputs import Input
from parts.fit.records.case import Case
from parts.fit.records.dial import Dial, Foot, Furniture, Subdial, Window
from parts.fit.records.hands import HANDS, SMALL_HANDS, Hand, HandSet, SubHand, fitted
from parts.fit.records.kinds import choice, part
from parts.fit.records.movement import DateDisc, DayDisc, FootHole, Movement, Post, SubPost
from parts.fit.records.stem import Crown, Joint, Stem

__all__ = [
    "HANDS",
    "MADE_SPACER",
    "SMALL_HANDS",
    "Case",
    "Crown",
    "DateDisc",
    "DayDisc",
    "Described",
    "Dial",
    "Foot",
    "FootHole",
    "Furniture",
    "Hand",
    "HandSet",
    "Joint",
    "Movement",
    "Post",
    "Sheet",
    "Spacer",
    "Stem",
    "SubHand",
    "SubPost",
    "Subdial",
    "Window",
    "describe",
    "fitted",
    "input_of",
    "paths",
]


@dataclass(frozen=True, slots=True)
class Spacer:
    placement: str = choice("placement", ("auto", "front", "rear"), "auto")


@dataclass(frozen=True, slots=True)
class Sheet:
    """One pairing: the parts of a watch that are to go together."""

    case: Case = part(Case, "case")
    dial: Dial = part(Dial, "dial")
    movement: Movement = part(Movement, "movement")
    hands: HandSet = part(HandSet, "hands")
    stem: Stem = part(Stem, "stem")
    crown: Crown = part(Crown, "crown")
    spacer: Spacer = part(Spacer, "spacer")
    rules: dict[str, float] = field(default_factory=dict, metadata={"rules": True})

    @property
    def is_movement_standing(self) -> bool:
        """Whether the movement stands in the case and carries the dial, rather than hanging from the dial's seat."""
        return self.case.is_front_loaded or self.dial.rests_on == "movement"


@dataclass(frozen=True, slots=True)
class Described:
    """An input in words: `phrase` reads within a sentence, `input` holds unit and limits (None for choices)."""

    phrase: str
    input: Input | None

    @property
    def step(self) -> str:
        """What to do to know it."""
        return f"measure the {self.phrase}" if self.input else f"note the {self.phrase}"


def _walk(cls: type[Any], path: str, words: str) -> Iterator[tuple[str, Described]]:
    for item in fields(cls):
        meta = item.metadata
        here = f"{path}.{item.name}" if path else item.name
        nested = meta.get("part") or meta.get("rows")
        label = meta["input"].label if "input" in meta else meta.get("label", "")
        phrase = " ".join(filter(None, (words, label)))
        if nested:
            inner = phrase if label != "posts" else words
            if "rows" in meta:
                yield here, Described(f"{words} {'feet' if item.name == 'feet' else label + 's'}", None)
                here, inner = f"{here}[]", f"{phrase} {{}}"
            elif "feature" in meta or "whole" in meta:
                yield here, Described(phrase, None)
            yield from _walk(nested, here, inner if words != "hands" else label)
        elif "rules" not in meta:
            yield here, Described(phrase, meta.get("input"))


MADE_SPACER = "spacer.thickness"
"""The spacer once it is made: an input of the checks, although no sheet gives it."""
_DESCRIBED = dict(_walk(Sheet, "", ""))
_DESCRIBED[MADE_SPACER] = Described("thickness of the finished spacer", Input("thickness", above=True))


def describe(path: str) -> Described:
    """What a path means ("dial.feet[1].radius" is the dial foot 2 radius); KeyError where there is none such."""
    if "[" not in path:
        return _DESCRIBED[path]
    head, rest = path.split("[", 1)
    index, tail = rest.split("]", 1)
    of_each = _DESCRIBED[f"{head}[]{tail}"]
    return Described(of_each.phrase.format(int(index) + 1), of_each.input)


def input_of(path: str) -> Input:
    """The number that stands at a path; KeyError where none does."""
    described = describe(path)
    if described.input is None:
        raise KeyError(path)
    return described.input


def paths() -> list[str]:
    """Every path of the sheet; list items stand under "[]"."""
    return [path for path in _DESCRIBED if path != MADE_SPACER]
