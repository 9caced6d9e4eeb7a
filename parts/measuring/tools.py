"""What takes a dimension, in words, with what each kind of tool does there."""

from __future__ import annotations

from parts.dimensions.cards import card_of
from parts.dimensions.text import show_dimension
from parts.models import Instrument


def tools_of(path: str, *, unit: str) -> list[str]:
    """What takes a dimension, the finest last: "calliper ±0.05 mm"; empty for what is a name or has no plus-minus."""
    card = card_of(path)
    if card.exact:
        return []
    limits = {str(Instrument.Kind(kind).label): limit for kind, limit in card.by_kind.items() if kind not in card.never}
    if card.any_tool and not limits:
        limits = {card.tool.lower() or "any tool": card.any_tool}
    named = sorted(limits.items(), key=lambda named: -named[1])
    return [f"{name} {show_dimension(0.0, limit, unit=unit).partition(' ')[2]}" for name, limit in named]
