"""Labels with leader lines, spread along a row so that none covers another."""

from collections.abc import Sequence
from dataclasses import dataclass

from parts.fit.drawings.svg import INK, VERDICT_INK, circle, el, line, text


@dataclass(frozen=True, slots=True)
class Callout:
    """Words about a spot of the drawing at (x, y), mm; the verdict gives colour, the words say the rest.

    A gap across the drawing has a `span`: its two ends along y, dimensioned between ticks.
    """

    x: float
    y: float
    words: str
    number: str
    verdict: str = ""
    span: tuple[()] | tuple[float, float] = ()

    @property
    def ink(self) -> str:
        return VERDICT_INK.get(self.verdict, INK)


_WIDE, _APART = 0.48, 0.8
"""Mean width of a letter of the sans face, on the safe side, and the least room between two labels, in em."""


def row(callouts: Sequence[Callout], left: float, right: float, top: float, size: float, *, above: bool) -> str:
    """One row of two-line labels from left to right, upper edge at `top`; `above` where the spots lie below it."""
    placed = _spread(sorted(callouts, key=lambda item: item.x), left, right, size)
    return "".join(_label(item, x, top, size, above=above) for item, x in placed)


def deal(callouts: Sequence[Callout], left: float, right: float, size: float) -> list[list[Callout]]:
    """The labels dealt out to as few rows as hold them; in a single row no leader line runs through a label."""
    ordered = sorted(callouts, key=lambda item: item.x)
    for count in range(1, len(ordered) + 1):
        rows = [ordered[i::count] for i in range(count)]
        if all(sum(_width(item, size) for item in items) <= right - left for items in rows):
            return rows
    return [[item] for item in ordered]


def _width(item: Callout, size: float) -> float:
    return (max(len(item.words), len(item.number)) * _WIDE + _APART) * size


def _spread(callouts: Sequence[Callout], left: float, right: float, size: float) -> list[tuple[Callout, float]]:
    """Each label as near above its spot as its neighbours and the row's ends allow."""
    halves = [_width(item, size) / 2 for item in callouts]
    centres, edge = [], left
    for item, half in zip(callouts, halves, strict=True):
        centres.append(max(item.x, edge + half))
        edge = centres[-1] + half
    edge = right
    for i in reversed(range(len(callouts))):
        centres[i] = min(centres[i], edge - halves[i])
        edge = centres[i] - halves[i]
    return list(zip(callouts, centres, strict=True))


def _label(item: Callout, x: float, top: float, size: float, *, above: bool) -> str:
    end = top + 2.45 * size if above else top - 0.25 * size
    return el(
        "g",
        line(x, end, item.x, item.y, stroke=item.ink, stroke_width=size / 14),
        _spot(item, size),
        text(x, top + 0.9 * size, item.words, size, fill=item.ink, halo=size / 4),
        text(x, top + 2.05 * size, item.number, size, fill=item.ink, font_weight="600", halo=size / 4),
        class_="callout",
    )


def _spot(item: Callout, size: float) -> str:
    if not item.span:
        return circle(item.x, item.y, size / 9, fill=item.ink)
    look = {"stroke": item.ink, "stroke_width": size / 9}
    ticks = "".join(line(item.x - size / 3, y, item.x + size / 3, y, **look) for y in item.span)
    return line(item.x, item.span[0], item.x, item.span[1], **look) + ticks
