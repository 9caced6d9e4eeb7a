"""Dimension lines, labels that keep off each other, and outlines as paths."""

from collections.abc import Iterable, Sequence
from math import hypot
from typing import Any, TypeAlias

from parts.fit.drawings.svg import circle, el, line, path, text
from parts.holder.outline import Arc, Line

Box: TypeAlias = tuple[float, float, float, float]
MOST_SPAN = 45.0
"""Degrees of an arc in a path: ends rounded to a micrometre would shift a longer one's centre, and the curves that the
PDF maker puts in its place would bulge by 0.03 % of the radius."""
LETTER = 0.5
"""Width of a letter of the drawings' font as a share of its size, in the mean."""
FIGURE, _NUMBER = 0.68, 6
"""The same of a number that stands by itself, with some ground on both sides; so many signs are one."""


def outline_path(traced: Iterable[Sequence[Line | Arc]], **look: Any) -> str:
    """Traced outlines as one path, holes left open."""
    parts: list[str | float] = []
    for outline in traced:
        parts += ["M", *outline[0].start]
        for piece in outline:
            if isinstance(piece, Line):
                parts += ["L", *piece.end]
                continue
            for part in piece.in_parts(MOST_SPAN):
                parts += ["A", part.radius, part.radius, "0 0", "1" if part.span > 0 else "0", *part.end]
        parts.append("Z")
    return path(*parts, fill_rule="evenodd", **look)


def polygon_path(polygons: Iterable[Iterable[Any]], **look: Any) -> str:
    """Polygons as one path, holes left open."""
    steps: list[str | float] = []
    for polygon in polygons:
        for i, (x, y) in enumerate(polygon):
            steps += ["L" if i else "M", float(x), float(y)]
        steps.append("Z")
    return path(*steps, fill_rule="evenodd", **look)


def has_room(words: str, span: float, size: float) -> bool:
    """Whether words in letters of `size` stand over a dimension line of `span`, both in mm."""
    return len(words) * (FIGURE if len(words) <= _NUMBER else LETTER) * size <= abs(span)


def across(x1: float, x2: float, y: float, words: str, size: float, *, foot: float, foot2: float | None = None) -> str:
    """A horizontal dimension at height y between x1 and x2; extension lines come from `foot`, that of x2 from `foot2`.

    Words that are wider than it stand to its right, its heads outside.
    """
    if not has_room(words, x2 - x1, size):
        return _narrow(min(x1, x2), max(x1, x2), y, words, size, foot)
    feet = ((x1, foot), (x2, foot if foot2 is None else foot2))
    ends = "".join(line(x, at, x, y + (size / 3 if y > at else -size / 3), class_="measure") for x, at in feet)
    inwards = 1 if x2 > x1 else -1
    heads = _head(x1, y, inwards, 0, size) + _head(x2, y, -inwards, 0, size)
    return (
        ends
        + line(x1, y, x2, y, class_="measure")
        + heads
        + text((x1 + x2) / 2, y - size / 4, words, anchor="middle", class_="measured")
    )


def _narrow(left: float, right: float, y: float, words: str, size: float, foot: float) -> str:
    ends = "".join(line(x, foot, x, y + (size / 3 if y > foot else -size / 3), class_="measure") for x in (left, right))
    heads = _head(left, y, -1, 0, size) + _head(right, y, 1, 0, size)
    shaft = line(left - 1.2 * size, y, right + 1.2 * size, y, class_="measure")
    return ends + shaft + heads + text(right + 1.4 * size, y + size / 3, words, anchor="start", class_="measured")


def upright(
    x: float, y1: float, y2: float, words: str, size: float, *, foot: float, side: int = 1, beyond: int = 0
) -> str:
    """A vertical dimension at x between y1 and y2; words stand beside it, towards `side`.

    Where it is lower than a letter they stand over it, or under it (`beyond` -1 or 1), clear of its lines.
    """
    ends = "".join(line(foot, y, x + side * size / 3, y, class_="measure") for y in (y1, y2))
    if abs(y2 - y1) > size:
        heads = _head(x, min(y1, y2), 0, 1, size) + _head(x, max(y1, y2), 0, -1, size)
        shaft = line(x, y1, x, y2, class_="measure")
    else:
        low, high = min(y1, y2), max(y1, y2)
        heads = _head(x, low, 0, -1, size) + _head(x, high, 0, 1, size)
        shaft = line(x, low - size * 0.8, x, high + size * 0.8, class_="measure")
    anchor = "start" if side > 0 else "end"
    middle = (y1 + y2) / 2 + size / 3
    if beyond and abs(y2 - y1) < 1.3 * size:
        middle = max(y1, y2) + 1.1 * size if beyond > 0 else min(y1, y2) - 0.3 * size
    label = text(x + side * size / 2, middle, words, anchor=anchor, class_="measured")
    return ends + shaft + heads + label


def _head(x: float, y: float, dx: float, dy: float, size: float) -> str:
    long, wide = size * 0.55, size * 0.16
    return path(
        "M", x, y, "L", x + dx * long + dy * wide, y + dy * long + dx * wide,
        "L", x + dx * long - dy * wide, y + dy * long - dx * wide, "Z", class_="head",
    )  # fmt: skip


class Labels:
    """Two-line labels outside `radius`, each at its angle, moved aside or outwards until it stands clear of the others.

    Its lead crosses no label that is there. `numbered` ones are a number, and `listed` says what each of them is.
    """

    def __init__(self, size: float, radius: float, *, numbered: bool = False) -> None:
        self.size, self.radius, self.numbered = size, radius, numbered
        self.listed: list[str] = []
        self.boxes: list[Box] = []
        self.drawn: list[str] = []

    def add(self, x: float, y: float, words: str, number: str) -> None:
        """A label for the spot (x, y), set outwards from the centre."""
        if self.numbered:
            self.listed.append(f"{len(self.listed) + 1}: {words} {number}")
            words, number = str(len(self.listed)), ""
        size, far = self.size, hypot(x, y) or 1.0
        ux, uy = x / far, y / far
        width = max(len(words), len(number)) * 0.52 * size
        reach = max(far, self.radius) + 1.6 * size
        for step in range(60):
            out = reach + step * size / 3
            places = ((ux * out, uy * out), *((ux * reach + side * step * size / 2, uy * reach) for side in (1, -1)))
            boxes = (self._box(*place, ux, width) for place in places)
            box = next((box for box in boxes if self._is_clear(box, x, y)), None)
            if box:
                break
        else:
            box = self._box(ux * out, uy * out, ux, width)
        near = _near(box, x, y)
        self.boxes.append(box)
        middle = (box[0] + box[2]) / 2
        self.drawn.append(
            el(
                "g",
                line(x, y, *near, class_="lead"),
                circle(x, y, size / 9, class_="dot"),
                text(middle, box[1] + size, words, anchor="middle"),
                text(middle, box[1] + 2.1 * size, number, anchor="middle", class_="measured value") if number else "",
            )
        )

    def _is_clear(self, box: Box, x: float, y: float) -> bool:
        """Whether a label there meets no other, and its lead from (x, y) crosses none."""
        near = _near(box, x, y)
        lead = [(x + share * (near[0] - x), y + share * (near[1] - y)) for share in _SHARES]
        return all(
            (box[2] < b[0] or b[2] < box[0] or box[3] < b[1] or b[3] < box[1])
            and not any(b[0] < at < b[2] and b[1] < height < b[3] for at, height in lead)
            for b in self.boxes
        )

    def _box(self, x: float, y: float, ux: float, width: float) -> Box:
        left = x if ux > 0.3 else x - width if ux < -0.3 else x - width / 2
        high = (0.6 if self.numbered else 1.2) * self.size
        return left, y - high, left + width, y + high

    @property
    def bounds(self) -> Box | None:
        """Left, top, right and bottom of all labels, or None."""
        if not self.boxes:
            return None
        lefts, tops, rights, bottoms = zip(*self.boxes, strict=True)
        return min(lefts), min(tops), max(rights), max(bottoms)


_SHARES = [share / 20 for share in range(21)]


def _near(box: Box, x: float, y: float) -> tuple[float, float]:
    """Where a lead from (x, y) meets a label's box."""
    height = box[3] if y > box[3] else box[1] if y < box[1] else (box[1] + box[3]) / 2
    return min(max(x, box[0]), box[2]), height


__all__ = ["Labels", "across", "has_room", "outline_path", "polygon_path", "upright"]
