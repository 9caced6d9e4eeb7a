"""An outline as the points that a scan or a drawing gave: signed distances, and one such outline in another.

Source: fit model section 11.4. An outline goes once round the axis and does not cross itself. Most are seen whole from
the axis; then a point's nearest piece is looked for only as far to both sides as a nearer one could stand.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import asin, atan2, hypot, pi
from typing import TypeAlias

from parts.fit.arithmetic.elementwise import Number, Truth, between, is_column, lower, pick, root

Points: TypeAlias = tuple[tuple[float, float], ...]
Piece: TypeAlias = tuple[float, float, float, float]
FEW = 400
"""Points up to which an outline may be of any form: each piece of it is held against each other one."""


@dataclass(frozen=True, slots=True)
class Prepared:
    """A polyline's pieces, anticlockwise from the angle -pi where `angles` are theirs; empty where they overlap.

    `inward` are the corners that stand into the outline; `fault` says what is wrong with it, empty where nothing is.
    """

    pieces: tuple[Piece, ...]
    angles: tuple[float, ...]
    inward: Points
    inner: float
    outer: float
    fault: str = ""


@lru_cache(maxsize=256)
def prepared(points: Points) -> Prepared:
    """The polyline made ready to be asked; the last point is joined to the first."""
    ring = [p for i, p in enumerate(points) if p != points[i - 1]]
    if len(ring) < 3:
        return Prepared((), (), (), 0.0, 0.0, "it needs three points or more")
    if _twice_area(ring) < 0:
        ring.reverse()
    turns = [_cross(a, b) for a, b in pairwise([*ring, ring[0]])]
    around = sum(atan2(_cross(a, b), a[0] * b[0] + a[1] * b[1]) for a, b in pairwise([*ring, ring[0]]))
    fault = ""
    angles: tuple[float, ...] = ()
    if abs(around - 2 * pi) > 1e-6 or not all(hypot(*p) for p in ring):
        fault = "it does not run once round the hands' axis"
    elif min(turns) > 0:
        first = min(range(len(ring)), key=lambda i: atan2(ring[i][1], ring[i][0]))
        ring = ring[first:] + ring[:first]
        angles = tuple(atan2(y, x) for x, y in ring)
    elif len(ring) > FEW:
        fault = f"it has more than {FEW} points and is not seen whole from the hands' axis"
    pieces = tuple((*a, *b) for a, b in pairwise([*ring, ring[0]]))
    if not fault and not angles and _crosses_itself(pieces):
        fault = "it crosses itself"
    inward = tuple(
        b for a, b, c in zip([ring[-1], *ring], ring, [*ring[1:], ring[0]], strict=False) if _bend(a, b, c) < 0
    )
    inner = min(_to_piece(piece, 0.0, 0.0) for piece in pieces)
    return Prepared(pieces, angles, inward, inner, max(hypot(*p) for p in ring), fault)


def signed(points: Points, x: Number, y: Number) -> Number:
    """Distance of a point from the polyline, positive inside."""
    if is_column(x) or is_column(y):
        return _signed_in_rows(prepared(points).pieces, x, y)
    return _signed(prepared(points), x, y)


@lru_cache(maxsize=1024)
def clear(a: Points, b: Points) -> float:
    """How one polyline lies in another: the least signed distance of its corners, and of the other's inward ones."""
    mine, other = prepared(a), prepared(b)
    least = min(_signed(other, x, y) for x, y in a)
    return min([least, *(-_signed(mine, x, y) for x, y in other.inward)])


def _signed(of: Prepared, x: float, y: float) -> float:
    if of.angles:
        return _seen_from_axis(of, x, y)
    distance = min(_to_piece(piece, x, y) for piece in of.pieces)
    inside = sum((ay > y) != (by > y) and x < (bx - ax) * (y - ay) / (by - ay) + ax for ax, ay, bx, by in of.pieces) % 2
    return distance if inside else -distance


def _seen_from_axis(of: Prepared, x: float, y: float) -> float:
    """The piece in the point's own direction, and those that could be nearer: seen under no more than asin(d/r)."""
    angle, count = atan2(y, x), len(of.pieces)
    at = bisect_right(of.angles, angle) - 1
    ax, ay, bx, by = of.pieces[at]
    inside = (bx - ax) * (y - ay) - (by - ay) * (x - ax) >= 0
    least, r = _to_piece(of.pieces[at], x, y), hypot(x, y)
    for way in (1, -1):
        for k in range(1, count):
            i = (at + way * k) % count
            piece = of.pieces[i]
            near = piece[:2] if way > 0 else piece[2:]
            seen = abs((atan2(near[1], near[0]) - angle + pi) % (2 * pi) - pi)
            if least < r and seen > asin(least / r):
                break
            least = min(least, _to_piece(piece, x, y))
    return least if inside else -least


def _to_piece(piece: Piece, x: float, y: float) -> float:
    ax, ay, bx, by = piece
    ux, uy = bx - ax, by - ay
    share = max(0.0, min(1.0, ((x - ax) * ux + (y - ay) * uy) / (ux * ux + uy * uy)))
    return hypot(ax + share * ux - x, ay + share * uy - y)


def beside(piece: Piece, x: Number, y: Number) -> tuple[float, float, Number, Number, Number]:
    """A piece's way, places as seen from its beginning, both in x and y, and the square of their distance from it."""
    ax, ay, bx, by = piece
    ux, uy, px, py = bx - ax, by - ay, x - ax, y - ay
    square = ux * ux + uy * uy
    share = between(0.0, px * (ux / square) + py * (uy / square), 1.0)
    dx, dy = px - share * ux, py - share * uy
    return ux, uy, px, py, dx * dx + dy * dy


def _signed_in_rows(pieces: tuple[Piece, ...], x: Number, y: Number) -> Number:
    """As `_signed`, for a column of points."""
    least: Number = float("inf")
    inside: Truth = False
    for piece in pieces:
        _, ay, _, by = piece
        ux, uy, px, py, apart = beside(piece, x, y)
        least = lower(least, apart)
        if uy:
            inside = inside ^ (((ay > y) ^ (by > y)) & (px < py * (ux / uy)))
    return pick(inside, root(least), -root(least))


def _cross(a: tuple[float, float], b: tuple[float, float]) -> float:
    return a[0] * b[1] - a[1] * b[0]


def _bend(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    """Positive where the way from a over b to c turns left."""
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def _twice_area(ring: list[tuple[float, float]]) -> float:
    return sum(_cross(a, b) for a, b in pairwise([*ring, ring[0]]))


def _crosses_itself(pieces: tuple[Piece, ...]) -> bool:
    count = len(pieces)
    for i in range(count):
        for j in range(i + 2, count - (i == 0)):
            if _meet(pieces[i], pieces[j]):
                return True
    return False


def _meet(p: Piece, q: Piece) -> bool:
    a, b, c, d = p[:2], p[2:], q[:2], q[2:]
    return (_bend(a, b, c) > 0) != (_bend(a, b, d) > 0) and (_bend(c, d, a) > 0) != (_bend(c, d, b) > 0)
