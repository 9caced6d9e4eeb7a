"""Putting numbers from a picture into their part: each beside what stands there, over it only if asked."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING, Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.field import Source
from parts.dimensions.readings import Taken
from parts.dimensions.text import show_dimension
from parts.fit.units import UNITS
from parts.library.measured import place_in, refuse_contradiction
from parts.models import Dial, FootHole, Hand
from parts.models.dial import DialFoot, DialFurniture
from parts.picture.reading import Reading
from parts.picture.subjects import SUBJECTS, outlines, outlines_apart
from parts.pictured.reading import accepted
from parts.pictured.sides import other_side, readings_of
from parts.sheets import rows_of

if TYPE_CHECKING:
    from collections.abc import Collection

    from parts.models import PartPicture

_OUTLINES_APART = 0.2
"""How far two outlines of one edge, place by place, may lie apart, mm; common practice, no source."""
BY_PICTURE = "Picture"
"""What stands as the instrument of a number from a picture."""
_ROWS = {
    "feet": (DialFoot, "dial"),
    "furniture": (DialFurniture, "dial"),
    "foot_holes": (FootHole, "movement"),
}


@dataclass(frozen=True)
class Line:
    """A dimension from a picture: its path, what was read, what stands there, and whether they agree.

    `beside` is what a picture of the dial's other side reads, empty for nothing.
    """

    path: str
    reading: str
    now: str
    disagrees: bool
    suggested: bool
    beside: str = ""
    beside_disagrees: bool = False


def lines_of(picture: PartPicture) -> list[Line]:
    """What the accepted picks of a picture give, each beside what a picture of a dial's other side gives."""
    other = other_side(picture)
    beside = readings_of(other, picture) if other else {}
    lines = [_line(picture, path, reading, beside.get(path)) for path, reading in readings_of(picture, other).items()]
    outlines_beside = _outlines(other) if other else {}
    return lines + [
        _outline_line(picture.part, path, corners, outlines_beside.get(path))
        for path, corners in _outlines(picture).items()
    ]


def _outlines(picture) -> dict[str, list[tuple[float, float]]]:
    return outlines(SUBJECTS[picture.subject], accepted(picture))


def _outline_line(part, path, corners, beside):
    """An outline that was picked; it has no ±, as every outline of points."""
    width, height = (max(along) - min(along) for along in zip(*corners, strict=True))
    piece = _piece(part, path)
    now = piece.text(part).replace("\n", "; ")
    apart = outlines_apart(corners, beside) if beside else 0.0
    return Line(
        path,
        f"{len(corners)} places, {width:.2f} × {height:.2f} mm",
        now,
        disagrees=False,
        suggested=not now,
        beside=f"{len(beside)} places, off by at most {apart:.2f} mm" if beside else "",
        beside_disagrees=apart > _OUTLINES_APART,
    )


def _piece(part, path):
    return next(piece for piece in part.pieces.values() if piece.path == path)


def _line(picture, path, reading, beside):
    holder, dimension = _place(picture.part, path)
    unit = dimension.input.unit
    value, plus_minus, _ = dimension.of(holder) if holder is not None else (None, 0.0, "")
    around = unit == "deg"
    return Line(
        path,
        show_reading(reading, unit),
        dimension.shown(holder) if holder is not None else "",
        disagrees=value is not None and not Reading(value, plus_minus).agrees(reading, degrees=around),
        suggested=value is None,
        beside=show_reading(beside, unit) if beside else "",
        beside_disagrees=bool(beside) and not beside.agrees(reading, degrees=around),
    )


def show_reading(reading: Reading, unit: str) -> str:
    """A reading as it is written, with its ± and unit."""
    return show_dimension(*_rounded(reading, unit), unit=unit)


def _rounded(reading, unit):
    """Value and plus-minus as they are stored: to a hundredth of a mm or a tenth of a degree, the ± upwards."""
    fine = UNITS[unit].decimals
    return round(reading.value, fine), ceil(reading.plus_minus * 10**fine - 1e-9) / 10**fine


def _place(part: Any, path: str) -> tuple[Any, Any]:
    """The record and Dimension of a path; no record yet for a row that the part does not have."""
    if "[" not in path:
        return place_in(part, path) or (None, Hand.dimensions[path.rpartition(".")[2]])
    name, number, key = _row_of(path)
    rows = list(getattr(part, name).all())
    model, _ = _ROWS[name]
    return (rows[number] if number < len(rows) else None), model.dimensions[key]


def _row_of(path):
    """The list, the row's number and the key of "dial.feet[1].radius"."""
    head, tail = path.split("[")
    number, key = tail.split("].")
    return head.rpartition(".")[2], int(number), key


@transaction.atomic
def use(picture: PartPicture, paths: Collection[str]) -> int:
    """Store the numbers of these paths in the picture's part; returns how many.

    Raises ValidationError for what it cannot be and what contradicts the part's other numbers; then none is stored.
    """
    part = type(picture.part)._base_manager.select_for_update().get(pk=picture.part.pk)
    stored = 0
    made: dict[str, Any] = {}
    for path, reading in readings_of(picture, other_side(picture)).items():
        if path not in paths:
            continue
        holder, dimension = _place(part, path)
        value, plus_minus = _rounded(reading, dimension.input.unit)
        row = path.rpartition(".")[0]
        made[row] = holder = holder or made.get(row) or _new_row(part, path)
        if path.startswith("dial.window.") and isinstance(part, Dial):
            part.has_window = True
        dimension.put_taken(holder, Taken(value, plus_minus, tool=BY_PICTURE), Source.MEASURED)
        dimension.check(holder)
        if holder is not part:
            holder.save()
        stored += 1
    for path, corners in _outlines(picture).items():
        if path in paths:
            piece = _piece(part, path)
            setattr(part, piece.name, {"shape": "polyline", "points": [list(corner) for corner in corners]})
            piece.check(part)
            stored += 1
    part.save()
    refuse_contradiction(part, **rows_of(part))
    return stored


def _new_row(part, path):
    if "[" in path:
        name, _, _ = _row_of(path)
        model, owner = _ROWS[name]
        return model.objects.create(**{owner: part})
    raise ValidationError(lazy("This set has no {hand} hand. Add it to the set first.").format(hand=path.split(".")[1]))
