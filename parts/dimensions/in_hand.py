"""Which plus-minus a bare number takes: from the instrument in hand, and from how well its kind does there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from parts.dimensions.cards import Card, card_of
from parts.dimensions.field import Source
from parts.dimensions.readings import PINS, Tool
from parts.dimensions.text import show_dimension


class ShopInstrument(Protocol):
    """What is asked of an instrument: limits of error in mm and degrees (None: it takes no angles), its step in mm."""

    name: str
    kind: str
    limit_mm: float
    step_mm: float
    limit_deg: float | None


@dataclass(frozen=True, slots=True)
class InHand:
    """The shop's instruments, and the one in hand."""

    instruments: Sequence[ShopInstrument] = ()
    instrument: ShopInstrument | None = None

    @property
    def source(self) -> Source:
        """Where a number comes from that is taken with the instrument in hand."""
        kind = self.instrument.kind if self.instrument else ""
        return {"sheet": Source.SHEET, "eye": Source.ESTIMATED}.get(kind, Source.MEASURED)

    @property
    def pins(self) -> Tool:
        """The shop's pins; a good set's where it has none."""
        pins = self._first("pins")
        return Tool(pins.name, pins.limit_mm, pins.step_mm) if pins else PINS

    def tool(self, path: str, *, unit: str, source: str = "") -> Tool | None:
        """What gives a bare number at `path` its plus-minus; None for what is exact or has none.

        `source` is where the number is said to come from, where that is not the instrument in hand. The larger counts
        of what the instrument can do and of what its kind does on this dimension.
        """
        card = card_of(path)
        if card.exact or source == Source.AT_LEAST:
            return None
        if unit not in ("mm", "deg"):
            return Tool(card.tool, card.any_tool) if card.tool else None
        used = self._by_source(source or self.source)
        if unit == "mm":
            used = self._suited(used, card)
        if unit == "deg" and used and not used.limit_deg:
            used = self._first("eye")
        if used is None:
            return None
        return Tool(used.name, _limit(used, card, unit), used.step_mm if unit == "mm" else 0.0)

    def _suited(self, used: ShopInstrument | None, card: Card) -> ShopInstrument | None:
        """The instrument itself, or the shop's first that can take such a dimension where it cannot."""
        if used is None or not card.by_kind or used.kind in (*card.by_kind, *_TAKES_ANYTHING):
            return used
        return next((each for each in self.instruments if each.kind in card.by_kind), used)

    def takes_closer(self, path: str, *, unit: str, than: float) -> bool:
        """Whether the shop can take `path` to less than a plus-minus of `than`, in `unit`; yes where nothing tells."""
        card = card_of(path)
        if unit not in ("mm", "deg"):
            return not card.tool or card.any_tool < than - _SAME
        able = [each for each in self.instruments if each.kind in card.by_kind or each.kind == "other"]
        able = able or [each for each in self.instruments if each.kind not in ("sheet", "eye")]
        limits = [_limit(each, card, unit) for each in able if unit == "mm" or each.limit_deg]
        return not limits or min(limits) < than - _SAME

    def best(self, path: str, than: float | None = None, *, unit: str = "mm") -> str:
        """What does best at `path` of the shop, with its plus-minus in `unit`: "depth gauge ±0.03 mm".

        Empty where none does, or none better than a plus-minus of `than`.
        """
        card = card_of(path)
        known = [each for each in self.instruments if each.kind in card.by_kind]
        if not known:
            return ""
        each = min(known, key=lambda each: _limit(each, card, unit))
        limit = _limit(each, card, unit)
        if than is not None and limit >= than:
            return ""
        _, _, plus_minus = show_dimension(0.0, limit, unit=unit).partition(" ")
        return f"{Tool(each.name, 0.0).in_sentence} {plus_minus}"

    def _by_source(self, source: str) -> ShopInstrument | None:
        if source == self.source:
            return self.instrument
        kind = {Source.SHEET: "sheet", Source.ESTIMATED: "eye"}.get(Source(source))
        return self._first(kind) if kind else self._first_measuring()

    def _first(self, kind: str) -> ShopInstrument | None:
        return next((each for each in self.instruments if each.kind == kind), None)

    def _first_measuring(self) -> ShopInstrument | None:
        return next((each for each in self.instruments if each.kind not in ("sheet", "eye")), None)


def _limit(used: ShopInstrument, card: Card, unit: str) -> float:
    """The larger of what the instrument can do and of what its kind does on the dimension, in mm or degrees."""
    own = used.limit_deg if unit == "deg" else used.limit_mm
    return max(own or 0.0, card.any_tool, card.by_kind.get(used.kind, 0.0))


_SAME = 1e-9
"""Plus-minuses nearer to each other than this are the same, mm or degrees."""
_TAKES_ANYTHING = ("sheet", "eye", "picture", "other")
NOTHING_IN_HAND = InHand()
