"""Marks on a photo: arrows, rings and words, kept as data and drawn over it; the photo itself stays as it is.

Each is a dict: `kind`, its points as shares of the picture's width and height from its upper left corner, and `text`
for words. An arrow points at its second point, a ring passes through it. What is undone stays, told so, until the next
mark is drawn.
"""

from __future__ import annotations

from html import escape
from math import hypot
from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.utils.safestring import SafeString, mark_safe

from jobs.history import changed
from jobs.models import Photo
from parts.fit.drawings.svg import circle, el, path, text

if TYPE_CHECKING:
    from collections.abc import Callable

KINDS = (("arrow", "arrow"), ("ring", "ring"), ("text", "words"))
MOST = 40
"""Marks on one photo."""
_STROKE, _LETTERS, _HEAD = 0.006, 0.034, 0.028
"""Width of a line, height of letters and length of an arrow's head, as shares of the longer side."""
_INK, _EDGE = "#d1001f", "#ffffff"


class TooMany(ValueError):
    """No more marks fit on the photo; says what to do."""


def standing(photo: Photo) -> list[dict[str, Any]]:
    """The marks that are not undone."""
    return [mark for mark in photo.marks if not mark.get("undone")]


@transaction.atomic
def draw(*, photo: Photo, mark: dict[str, Any]) -> None:
    """Add a mark; what was undone before is gone for good. Raises TooMany."""
    photo = Photo.objects.select_for_update().get(pk=photo.pk)
    marks = standing(photo)
    if len(marks) >= MOST:
        raise TooMany(f"A photo takes {MOST} marks. Undo one first, or mark another photo.")
    _keep(photo, [*marks, mark])


@transaction.atomic
def undo(*, photo: Photo) -> None:
    """Undo the last mark; nothing where none is left."""
    photo = Photo.objects.select_for_update().get(pk=photo.pk)
    if marks := standing(photo):
        marks[-1]["undone"] = True
        _keep(photo, photo.marks)


@transaction.atomic
def redo(*, photo: Photo) -> None:
    """Bring back the mark that was undone last; nothing where none was."""
    photo = Photo.objects.select_for_update().get(pk=photo.pk)
    if gone := [mark for mark in photo.marks if mark.get("undone")]:
        del gone[0]["undone"]
        _keep(photo, photo.marks)


def _keep(photo, marks):
    photo.marks = marks
    photo.save(update_fields=["marks"])
    changed(job=photo.job)


def marked_svg(photo: Photo, *, address: str, words: str, size: tuple[int, int] | None = None) -> SafeString:
    """The photo with its marks as one drawing; `address` is where the picture lies, `words` describe it."""
    width, height = size or (photo.file.width, photo.file.height)
    unit = max(width, height)
    shapes = (_SHAPES[mark["kind"]](mark, width, height, unit) for mark in standing(photo))
    described = ", ".join([words, *(mark["text"] for mark in standing(photo) if mark["kind"] == "text")])
    picture = el("image", href=address, x=0, y=0, width=width, height=height)
    return mark_safe(
        el(
            "svg",
            el("title", escape(described)),
            picture,
            *shapes,
            xmlns="http://www.w3.org/2000/svg",
            viewBox=f"0 0 {width} {height}",
            preserveAspectRatio="xMinYMin meet",
            role="img",
            class_="marked",
        )
    )


def _lined(shape: Callable[..., str], unit: float) -> str:
    """A shape of lines, over a white edge that tells it from any picture."""
    look = {"fill": "none", "stroke_linecap": "round", "stroke_linejoin": "round"}
    return "".join(
        shape(stroke=colour, stroke_width=times * _STROKE * unit, **look) for colour, times in ((_EDGE, 2.2), (_INK, 1))
    )


def _arrow(mark, width, height, unit):
    x1, y1, x2, y2 = mark["x"] * width, mark["y"] * height, mark["x2"] * width, mark["y2"] * height
    long = hypot(x2 - x1, y2 - y1) or 1.0
    along, across = ((x2 - x1) / long, (y2 - y1) / long), (-(y2 - y1) / long, (x2 - x1) / long)
    head = _HEAD * unit
    left, right = (
        (x2 - head * (along[0] + side * 0.6 * across[0]), y2 - head * (along[1] + side * 0.6 * across[1]))
        for side in (-1, 1)
    )
    return _lined(lambda **look: path("M", x1, y1, "L", x2, y2, "M", *left, "L", x2, y2, "L", *right, **look), unit)


def _ring(mark, width, height, unit):
    x, y = mark["x"] * width, mark["y"] * height
    radius = hypot(mark["x2"] * width - x, mark["y2"] * height - y) or 0.02 * unit
    return _lined(lambda **look: circle(x, y, radius, **look), unit)


def _words(mark, width, height, unit):
    x, y, size = mark["x"] * width, mark["y"] * height, _LETTERS * unit
    anchor = "end" if mark["x"] > 0.6 else "start"
    edge = {"stroke": _EDGE, "stroke_width": 0.22 * size, "stroke_linejoin": "round"}
    look = {"font_weight": 600, "font_family": "Plex Sans, sans-serif"}
    return "".join(
        text(x, y, mark["text"], size, anchor, fill=colour, **look, **lines)
        for colour, lines in ((_EDGE, edge), (_INK, {}))
    )


_SHAPES = {"arrow": _arrow, "ring": _ring, "text": _words}
