"""Ovals: signed distances from their edge, and how one lies in another outline, in closed form where there is one.

Source: fit model section 11.4; the half axes are a along x and b along y. How far an oval reaches in a direction u is
h(u) = root(a² ux² + b² uy²). A convex polyline is what lies behind its pieces, and an oval lies in it by the least of
d - h(n) over them, n a piece's direction outwards and d its distance from the axis: also where the oval stands out, as
long as that is by less than its closest bend, b²/a, for then no corner is farther from its edge than a piece's line.
Inside any other polyline the nearest place of its edge is on a piece that faces the oval's edge, or a corner that
stands in.
"""

from __future__ import annotations

from math import hypot

from parts.fit.arithmetic.elementwise import (
    Number,
    Truth,
    between,
    hypotenuse,
    in_rows,
    lower,
    on_rows,
    pick,
    root,
    somewhere,
    upper,
)
from parts.fit.arithmetic.polyline import Prepared

_NEWTON = 60
_HAIR = 1e-9


def signed(a: Number, b: Number, x: Number, y: Number) -> Number:
    """Distance of a point from an oval's edge, positive inside.

    The nearest point is (a²x/(t+a²), b²y/(t+b²)) for the root t of (ax/(t+a²))² + (by/(t+b²))² = 1; the sum is convex
    and falls, so that Newton's steps from its left never pass the root.
    """
    x, y = upper(abs(x), _HAIR), upper(abs(y), _HAIR)
    t = upper(a * x - a * a, b * y - b * b)
    for _ in range(_NEWTON):
        p, q = a * x / (t + a * a), b * y / (t + b * b)
        step = (p * p + q * q - 1.0) / (2 * (p * p / (t + a * a) + q * q / (t + b * b)))
        t = t + step
        if not somewhere(abs(step) > _HAIR * a * b):
            break
    px, py = a * a * x / (t + a * a), b * b * y / (t + b * b)
    distance = root((x - px) ** 2 + (y - py) ** 2)
    return pick((x / a) ** 2 + (y / b) ** 2 <= 1.0, distance, -distance)


def in_oval(a: Number, b: Number, across: Number, along: Number) -> Number:
    """How one oval lies in another: the least of root(b² + p w) - root(a² + q w) over w = cos² from 0 to 1.

    It is least at an end, or where its slope is 0.
    """
    q, p = a**2 - b**2, across**2 - along**2

    def at(w: Number) -> Number:
        return root(along**2 + p * w) - root(b**2 + q * w)

    slope = p * q * (p - q)
    flat = abs(slope) < _HAIR
    level = (q**2 * along**2 - p**2 * b**2) / pick(flat, 1.0, slope)
    return lower(lower(at(0.0), at(1.0)), at(upper(0.0, lower(pick(flat, 0.0, level), 1.0))))


def in_polyline(a: Number, b: Number, of: Prepared) -> tuple[Number, Truth]:
    """How an oval lies in a polyline, and where that is known: not where it stands out of one that is not convex."""
    if not of.inward:
        least: Number = float("inf")
        for ax, ay, bx, by in of.pieces:
            nx, ny, d = _line(ax, ay, bx, by)
            least = lower(least, d - hypotenuse(a * nx, b * ny))
        return least, least > -(lower(a, b) ** 2) / upper(a, b)
    facing, inside = _facing(a, b, of)
    return _corners(a, b, of, facing, inside), inside


def _facing(a: Number, b: Number, of: Prepared) -> tuple[Number, Truth]:
    """The least distance to a piece that the oval's edge faces, and whether no piece runs into the oval."""
    least: Number = float("inf")
    inside: Truth = True
    for ax, ay, bx, by in of.pieces:
        nx, ny, d = _line(ax, ay, bx, by)
        ux, uy, long = -ny, nx, hypot(bx - ax, by - ay)
        reach = hypotenuse(a * nx, b * ny)
        foot = (a * a * nx * ux + b * b * ny * uy) / reach - (ax * ux + ay * uy)
        faces = (d >= reach) & (foot >= -_HAIR) & (foot <= long + _HAIR)
        least = pick(faces, lower(least, d - reach), least)
        sx, sy, vx, vy = ax / a, ay / b, (bx - ax) / a, (by - ay) / b
        share = between(0.0, -(sx * vx + sy * vy) / (vx * vx + vy * vy), 1.0)
        inside = inside & (hypotenuse(sx + share * vx, sy + share * vy) >= 1.0)
    return least, inside


def _corners(a: Number, b: Number, of: Prepared, least: Number, inside: Truth) -> Number:
    """The least with the corners that stand in: only those that may be nearer are looked at, by their own direction."""
    for x, y in of.inward:
        far = hypot(x, y)
        nearer = inside & (far - hypotenuse(a * x / far, b * y / far) < least)
        if somewhere(nearer):
            distance = -signed(on_rows(a, nearer), on_rows(b, nearer), x, y)
            least = lower(least, in_rows(distance, nearer, float("inf")))
    return least


def _line(ax: float, ay: float, bx: float, by: float) -> tuple[float, float, float]:
    """A piece's direction outwards, and how far its line is from the axis that way."""
    long = hypot(bx - ax, by - ay)
    nx, ny = (by - ay) / long, (ax - bx) / long
    return nx, ny, nx * ax + ny * ay
