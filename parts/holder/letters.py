"""Words engraved in a ring's back: the letters of the project's own font as polygons, set along the ring.

The font is IBM Plex Sans SemiBold (SIL Open Font License), whole as it came. Letters stand upright for who looks at the
back with the ring's words at the top: in the bodies' frame they are mirrored.
"""

from collections.abc import Iterator
from functools import lru_cache
from math import cos, degrees, radians, sin
from pathlib import Path
from typing import Any, TypeAlias

from fontTools.pens.basePen import BasePen
from fontTools.ttLib import TTFont

from parts.holder.shapes import Engraving, Point

Contour: TypeAlias = tuple[Point, ...]
FONT = Path(__file__).resolve().parents[2] / "static" / "fonts" / "IBMPlexSans-SemiBold.woff2"
STROKE = 0.18
"""Width of the font's thinnest stroke as a share of its capitals' height (127 of 698 units)."""
_CUTS = 6
"""Straight pieces of each curve."""


def engraving(words: str, angle: float, radius: float, size: float, low: float, high: float) -> Iterator[Engraving]:
    """One solid for each letter, their capitals `size` mm high, in the middle of the land at `radius`."""
    placed, width = _line(words)
    _, cap = _font()
    scale = size / cap
    for contours, middle in placed:
        turn = radians(angle - degrees((middle - width / 2) * scale / radius))
        yield Engraving(tuple(_set(contour, middle, cap, scale, radius, turn) for contour in contours), low, high)


def _set(contour: Contour, middle: float, cap: float, scale: float, radius: float, turn: float) -> Contour:
    """A letter's contour in the bodies' frame: up is away from the axis, right is against the clock."""
    corners = []
    for u, v in contour:
        x, y = -(u - middle) * scale, -(radius + (v - cap / 2) * scale)
        corners.append((x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn)))
    return tuple(corners)


@lru_cache(maxsize=64)
def _line(words: str) -> tuple[tuple[tuple[tuple[Contour, ...], float], ...], float]:
    """((contours, middle) of each letter, width of the line) in the font's units."""
    font, _ = _font()
    glyphs, names = font.getGlyphSet(), font.getBestCmap()
    placed, x = [], 0.0
    for letter in words:
        glyph = glyphs[names[ord(letter)]]
        pen = _Straight(glyphs, x)
        glyph.draw(pen)
        if pen.contours:
            placed.append((tuple(map(tuple, pen.contours)), x + glyph.width / 2))
        x += glyph.width
    return tuple(placed), x


def length_of(words: str, size: float) -> float:
    """How long the words are, mm."""
    return float(_line(words)[1] * size / _font()[1])


def can_engrave(words: str) -> bool:
    """Whether the font has every letter."""
    return all(ord(letter) in _font()[0].getBestCmap() for letter in words)


@lru_cache(maxsize=1)
def _font() -> tuple[Any, float]:
    """The font, and the height of its capitals in its units."""
    font = TTFont(FONT)
    return font, float(font["OS/2"].sCapHeight)


class _Straight(BasePen):  # type: ignore[misc]
    """Takes a glyph's contours down as polygons, `shift` units to the right."""

    def __init__(self, glyphs: Any, shift: float) -> None:
        super().__init__(glyphs)
        self.shift = shift
        self.contours: list[list[Point]] = []

    def _moveTo(self, pt: Point) -> None:  # noqa: N802
        self.contours.append([self._at(pt)])

    def _lineTo(self, pt: Point) -> None:  # noqa: N802
        self.contours[-1].append(self._at(pt))

    def _curveToOne(self, pt1: Point, pt2: Point, pt3: Point) -> None:  # noqa: N802
        start = self._getCurrentPoint()
        for i in range(1, _CUTS + 1):
            t = i / _CUTS
            weights = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3
            pairs = list(zip(weights, (start, pt1, pt2, pt3), strict=True))
            self._lineTo((sum(w * x for w, (x, _) in pairs), sum(w * y for w, (_, y) in pairs)))

    def _at(self, pt: Point) -> Point:
        return pt[0] + self.shift, pt[1]
