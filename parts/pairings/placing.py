"""Which record of a pairing a path of its sheet means."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from parts.library.measured import place_in

if TYPE_CHECKING:
    from parts.dimensions.field import Dimension
    from parts.models import Pairing


def place_of(pairing: Pairing, path: str) -> tuple[Any, Dimension] | None:
    """The record and the Dimension of a number; None where the pairing lacks that part, and for rows of a list."""
    part: Any = getattr(pairing, field_of(pairing, path))
    return place_in(part, path) if part is not None and "." in path else None


def placed(pairing: Pairing, path: str) -> tuple[Any, Dimension]:
    """As `place_of` where that is known to be there; KeyError where it is not."""
    place = place_of(pairing, path)
    if place is None:
        raise KeyError(path)
    return place


def field_of(pairing: Pairing, path: str) -> str:
    """The pairing's field that holds the part of a path; each hand may come from a set of its own."""
    name, *rest = path.split(".")
    return pairing.hand_field(rest[0]) if name == "hands" else name
