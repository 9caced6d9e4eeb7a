"""How a dimension is taken, in words: the cards of `cards/*.toml`, with the numbers of parts/dimensions/cards.py.

A card stands under its path in the pairing sheet. What is taken alike has one card, that of the hour hand or the hour
post, unless another is written for it.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from parts.dimensions.cards import OUTLINES, SMALL, card_of, of_every_row
from parts.fit.constructions import EDGES
from parts.fit.records import SMALL_HANDS, describe, input_of, paths
from parts.fit.units import UNITS
from parts.library.sketches import of_the_hour, sketch_of
from parts.measuring.tools import tools_of

if TYPE_CHECKING:
    from parts.fit.inputs import Input
    from parts.library.sketches import Sketch

_ROUND = {outline: diameter for diameter, (outline, _) in EDGES.items()}
"""Each outline with the diameter that stands in its place where the part is round."""
_OUTSIDE = ("dial.outline", "movement.outline", "movement.fit_outline")
"""The outlines that are measured from outside."""
_TAKEN_WITH = {"dial.subdials[]": "dial.window.angle", "movement.subsidiary[]": "movement.posts.seconds.height"}
"""Each small thing with what is taken at the same station."""
_FOLDER = Path(__file__).parent / "cards"
PARTS = ("case", "dial", "movement", "hands", "stem", "crown")
"""The parts with cards, as a pairing sheet calls them."""


@dataclass(frozen=True, slots=True)
class Way:
    """One of the ways that cards speak of: its key "M1", what is done, and how well that does."""

    key: str
    title: str
    text: str
    gives: str


@dataclass(frozen=True, slots=True)
class Station:
    """What is measured while one thing lies on the bench. `look` is what is only looked at, `skip` what may wait."""

    number: int
    title: str
    about: str
    paths: tuple[str, ...]
    look: tuple[str, ...]
    skip: str


@dataclass(frozen=True, slots=True)
class How:
    """The card of one dimension: what it is, steps, traps, a caution, and whether a picture can take it."""

    path: str
    what: str
    steps: tuple[str, ...]
    traps: tuple[str, ...]
    picture: str
    caution: str = ""
    ways: tuple[str, ...] = ()

    @property
    def input(self) -> Input:
        """Label, unit and limits."""
        return input_of(self.path.replace("[]", "[0]"))

    @property
    def title(self) -> str:
        """What it is called, with its part: "Case bore diameter"."""
        words = (
            describe(self.path.replace("[]", "[0]")).phrase.replace(" 1 ", " ").replace("furniture", "raised marker")
        )
        return words[:1].upper() + words[1:]

    @property
    def sketch(self) -> Sketch | None:
        """Where it is taken."""
        return sketch_of(self.path)

    @property
    def tools(self) -> list[str]:
        """What takes it, the finest last, each with its plus-minus: "calliper ±0.05 mm"."""
        return tools_of(self.path, unit=self.input.unit)

    @property
    def usual(self) -> str:
        """What is usual for a watch, with its unit; empty where nothing is."""
        ends = card_of(self.path).usual
        if ends is None:
            return ""
        unit = self.input.unit
        low, high = (f"{end:.2f}" if unit == "mm" else f"{end:g}" for end in ends)
        return f"{low} to {high}{UNITS[unit].behind}"

    @property
    def named_ways(self) -> list[Way]:
        """The ways that it is taken by."""
        return [ways()[key] for key in self.ways]


def how_of(path: str) -> How:
    """The card of a dimension by its path, "dial.feet[1].radius" too; KeyError where there is none such."""
    general = of_every_row(path)
    if general not in paths():
        raise KeyError(path)
    cards = _cards()
    return cards[general] if general in cards else cards[of_the_hour(general)]


def cards_of(part: str) -> list[How]:
    """The cards of a part, in the order in which it is measured."""
    return [card for path, card in _cards().items() if path.startswith(f"{part}.")]


@cache
def ways() -> dict[str, Way]:
    """The ways by their keys, in order."""
    return {way["key"]: Way(**way) for way in _order()["ways"]}


@cache
def stations() -> tuple[Station, ...]:
    """The order of measuring."""
    return tuple(
        Station(**station | {"paths": tuple(station["paths"]), "look": tuple(station["look"])})
        for station in _order()["stations"]
    )


def rules() -> list[dict[str, str]]:
    """The rules that save most of the work, each with title and text."""
    return _order()["rules"]


def station_of(path: str) -> Station:
    """Where on the way from the closed watch to the last number a dimension is taken."""
    row = of_every_row(path)
    general = (_ROUND | _TAKEN_WITH).get(row.rpartition(".")[0], row)
    return next(each for each in stations() for name in (general, of_the_hour(general)) if name in each.paths)


def seldom() -> list[str]:
    """The dimensions that most watches do without."""
    return _order()["seldom"]


def of_the_front() -> list[str]:
    """Of these, the dimensions that are asked for where the case is loaded from the front."""
    return _order()["front"]


@cache
def _cards() -> dict[str, How]:
    cards = {}
    for part in PARTS:
        for path, words in tomllib.loads((_FOLDER / f"{part}.toml").read_text(encoding="utf-8")).items():
            lists = {name: tuple(words.get(name, ())) for name in ("steps", "traps", "ways")}
            cards[path] = How(path, **words | lists)
    cards |= {path: _card_of_outline(path, cards) for path in OUTLINES}
    return cards | {path: _card_of_small(path, cards) for path in SMALL if path not in cards}


def _card_of_small(path: str, cards: dict[str, How]) -> How:
    """The card of a small hand's size: as of a seconds hand, where that has one of its own, else as of any."""
    seconds = path.replace(SMALL_HANDS + "[]", "seconds")
    return replace(cards[seconds] if seconds in cards else cards[of_the_hour(path)], path=path)


def _card_of_outline(path: str, cards: dict[str, How]) -> How:
    """The card of an outline's size: as the diameter is taken by a picture, and by hand in its own way."""
    outline, _, size = path.rpartition(".")
    words = _sizes()[f"{'outside' if outline in _OUTSIDE else 'inside'}.{size}"]
    picture = "No." if size == "corner" else cards[_ROUND[outline]].picture
    return How(path, words["what"], tuple(words["steps"]), tuple(words["traps"]), picture)


@cache
def _sizes() -> dict[str, Any]:
    return tomllib.loads((_FOLDER / "outlines.toml").read_text(encoding="utf-8"))


@cache
def _order() -> dict[str, Any]:
    return tomllib.loads((_FOLDER.parent / "order.toml").read_text(encoding="utf-8"))
