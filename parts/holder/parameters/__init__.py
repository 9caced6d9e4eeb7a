"""The dimensions of a holder ring and of a spacer, as numbers and as JSON has them."""

from collections.abc import Iterator, Mapping
from dataclasses import MISSING, fields
from typing import Any, TypeAlias

from parts.fit.arithmetic.outlines import Outline
from parts.fit.errors import SheetError
from parts.fit.records.outline import SHAPES
from parts.holder.parameters.kinds import label_of
from parts.holder.parameters.made import PROCESSES, CutOut, FootNotch, Key, Made
from parts.holder.parameters.ring import Ring
from parts.holder.parameters.spacer import Spacer

__all__ = [
    "KINDS",
    "PROCESSES",
    "CutOut",
    "FootNotch",
    "Key",
    "Made",
    "Piece",
    "Ring",
    "Spacer",
    "as_plain",
    "from_plain",
    "label_of",
    "outline_as_plain",
]

Piece: TypeAlias = Ring | Spacer
KINDS: dict[str, type[Ring] | type[Spacer]] = {"ring": Ring, "spacer": Spacer}


def as_plain(parameters: Made) -> dict[str, Any]:
    """The dimensions as JSON has them: name to number, word, list of rows, or outline as the fit sheet has it."""
    plain: dict[str, Any] = {}
    for item in fields(parameters):
        value = getattr(parameters, item.name)
        if "rows" in item.metadata:
            plain[item.name] = [list(_values(row)) for row in value]
        else:
            plain[item.name] = outline_as_plain(value) if "outline" in item.metadata else value
    return plain


def from_plain(kind: str, plain: Mapping[str, Any]) -> Piece:
    """Parameters of a kind from what `as_plain` gave; unknown names are left out. Raises SheetError."""
    values: dict[str, Any] = {}
    for item in fields(KINDS[kind]):
        if item.name in plain:
            value = plain[item.name]
            if "rows" in item.metadata:
                value = tuple(item.metadata["rows"](*row) for row in value)
            elif "outline" in item.metadata:
                value = _outline(value)
            values[item.name] = value
        elif item.default is MISSING:
            raise SheetError(item.name, None, "a number", f"{label_of(item)} is missing")
    return KINDS[kind](**values)


def outline_as_plain(outline: Outline | None) -> dict[str, Any] | None:
    """An outline as the fit sheet has it, None for none."""
    if outline is None:
        return None
    sizes = {name: getattr(outline, name) for name in SHAPES[outline.shape]}
    return {"shape": outline.shape} | {
        k: [list(point) for point in v] if k == "points" else v for k, v in sizes.items()
    }


def _outline(plain: Any) -> Outline | None:
    if plain is None or isinstance(plain, Outline):
        return plain
    if plain["shape"] == "polyline":
        return Outline("polyline", points=tuple((float(x), float(y)) for x, y in plain["points"]))
    if plain["shape"] not in SHAPES:
        raise SheetError("outline", plain["shape"], " or ".join(SHAPES), "no such outline")
    return Outline(plain["shape"], plain["width"], plain["height"], plain.get("corner") or 0.0)


def _values(row: Any) -> Iterator[Any]:
    return (getattr(row, item.name) for item in fields(row))
