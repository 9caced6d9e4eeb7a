"""The kinds of a piece's dimensions, with their limits; mm and degrees. 0 stands for "none" where a label says so."""

from __future__ import annotations

from dataclasses import MISSING, Field, field, fields
from typing import TYPE_CHECKING, Any

from parts.fit.arithmetic.outlines import Outline
from parts.fit.errors import SheetError
from parts.fit.inputs import Input, finite
from parts.holder import edges
from parts.holder.letters import can_engrave

if TYPE_CHECKING:
    from parts.holder.parameters.made import Made


def number(group: str, label: str, where: str = "", default: Any = MISSING, **limits: Any) -> Any:
    spec = Input(label, where, **limits)
    return field(**_default(default), metadata={"input": spec, "group": group})


def angle(group: str, label: str, where: str = "") -> Any:
    return number(group, label, where, 0.0, unit="deg", least=-360.0, most=360.0)


def choice(group: str, label: str, options: tuple[str, ...], where: str = "") -> Any:
    return field(default=options[0], metadata={"choice": options, "label": label, "where": where, "group": group})


def words(group: str, label: str, where: str = "", most: int = 12) -> Any:
    """Words that are made part of the piece; "" for none."""
    return field(default="", metadata={"words": most, "label": label, "where": where, "group": group})


def rows(group: str, label: str, cls: type[Any], where: str = "") -> Any:
    return field(default=(), metadata={"rows": cls, "label": label, "where": where, "group": group})


def outline(group: str, label: str, where: str = "") -> Any:
    """An outline in the place of a diameter; None where the piece is round."""
    return field(default=None, metadata={"outline": True, "label": label, "where": where, "group": group})


def _default(value: Any) -> dict[str, Any]:
    return {} if value is MISSING else {"default": value}


def check_limits(parameters: Made) -> None:
    """Refuse a number outside its limits (SheetError names the key, the value and the limit)."""
    for item in fields(parameters):
        value = getattr(parameters, item.name)
        if "input" in item.metadata:
            item.metadata["input"].check(item.name, value)
        elif "choice" in item.metadata:
            options = item.metadata["choice"]
            refuse(parameters, item.name, value in options, f"one of {', '.join(options)}")
        elif "words" in item.metadata:
            most = item.metadata["words"]
            short = isinstance(value, str) and len(value) <= most
            refuse(parameters, item.name, short, f"at most {most} letters")
            refuse(parameters, item.name, can_engrave(value), "letters and digits that the font has")
        elif "outline" in item.metadata and value is not None:
            for size in (value.width, value.height, value.corner):
                refuse(parameters, item.name, finite(item.name, size) <= 100.0, "at most 100 mm wide")
            fitting = 2 * value.corner <= min(value.width, value.height) + 1e-9
            refuse(parameters, item.name, fitting, "no rounder than half its narrower side")
            refuse(parameters, item.name, edges.exists(value), "an outline that goes once round the hands' axis")


def refuse(parameters: Made, name: str, holds: object, limit: str, line: str = "") -> None:
    """SheetError unless it holds; of rows `line` tells which one it is about, and its value."""
    if not holds:
        value = getattr(parameters, name)
        shown = f"{value.shape} {edges.in_words(value)}" if isinstance(value, Outline) else value
        raise SheetError(name, line or shown, limit, "this cannot be made")


def label_of(item: Field[Any]) -> str:
    """A field's name in words."""
    label: str = item.metadata["input"].label if "input" in item.metadata else item.metadata["label"]
    return label
