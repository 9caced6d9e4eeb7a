"""Which record of a pairing a path of its sheet means."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from parts.fit.constructions import BACK_NUMBERS, EDGES, FRONT_NUMBERS
from parts.library.measured import place_in
from parts.models import Case, Movement, Stem

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


def is_of_its_build(pairing: Pairing, path: str) -> bool:
    """Whether a number of a pairing's part is of the shape and the construction that the watch has.

    An outline stands in place of its diameter, a case that is not round has no other one, nor has its dial unless it
    was measured; a case has the heights of the side that it is loaded from, and a split stem's length is made up.
    """
    part: Any = getattr(pairing, field_of(pairing, path))
    if path in EDGES:
        outline = EDGES[path][0]
        if any(piece.path == outline and getattr(part, name) for name, piece in part.pieces.items()):
            return False
        if not isinstance(part, Movement) and pairing.case and _has_outline(pairing.case):
            return getattr(part, path.partition(".")[2]) is not None
    if isinstance(part, Stem):
        return path != "stem.length" or part.joint_outer_length is None
    if not isinstance(part, Case):
        return True
    others = BACK_NUMBERS if part.loading == "front" else FRONT_NUMBERS
    return path.removeprefix("case.") not in others


def _has_outline(case: Case) -> bool:
    return any(getattr(case, name) for name, piece in case.pieces.items() if piece.rows is None)


def field_of(pairing: Pairing, path: str) -> str:
    """The pairing's field that holds the part of a path; each hand may come from a set of its own."""
    name, _, within = path.partition(".")
    role, _, rest = within.partition(".")
    return pairing.hand_field(role, rest.rpartition(".")[0]) if name == "hands" else name
