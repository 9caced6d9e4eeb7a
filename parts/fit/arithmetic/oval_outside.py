"""How far an oval stands out of a polyline that is seen whole from the axis, looked for over the oval's edge.

Source: fit model section 11.4. The edge is looked at ray by ray: what lies nearest to a place that stands out by d is
seen from the axis no farther from the ray than asin(d / r), so that few of the polyline's pieces are asked each time,
and only of the ovals that stand out there. Of each quarter the place farthest out, or nearest to that, is then looked
at more closely, to about a micrometre. The half axes are a along x and b along y.
"""

from __future__ import annotations

from bisect import bisect_right
from math import asin, cos, pi, sin

from parts.fit.arithmetic import oval
from parts.fit.arithmetic.elementwise import (
    Number,
    Truth,
    at_each,
    cosine,
    hypotenuse,
    in_rows,
    largest,
    lower,
    on_rows,
    pick,
    root,
    sine,
    somewhere,
    upper,
)
from parts.fit.arithmetic.polyline import Piece, Prepared, beside

_COARSE, _FINE, _ROUNDS = 32, 8, 4
"""Into how many parts a quarter is cut, and what is beside the best of them again."""
_STEP = pi / 2 / _COARSE
_DEEP = 4
"""A quarter whose places lie inside by so many times what is between two of them is not looked at more closely."""


def farthest_out(a: Number, b: Number, of: Prepared) -> Number:
    """The most that the oval stands out of the polyline, or one of its corners that stand in reaches into the oval."""
    most: Number = 0.0 * a * b
    for quarter in range(4):
        most = upper(most, _in_quarter(a, b, of, [(quarter * _COARSE + k) * _STEP - pi for k in range(_COARSE)]))
    for x, y in of.inward:
        reached = (x / a) ** 2 + (y / b) ** 2 < 1.0
        if somewhere(reached):
            most = upper(most, in_rows(oval.signed(on_rows(a, reached), on_rows(b, reached), x, y), reached))
    return most


def _in_quarter(a: Number, b: Number, of: Prepared, turns: list[float]) -> Number:
    """The most over a quarter of the edge."""
    arc = _STEP * upper(a, b) ** 2 / lower(a, b)
    most: Number = -_DEEP * arc
    best: Number = 0.0 * arc - 1
    for k, turn in enumerate(turns):
        out = _on_ray(a, b, of, turn)
        best, most = pick(out > most, k, best), upper(most, out)
    for k, turn in enumerate(turns):
        rows = best == k
        if somewhere(rows):
            far = largest(on_rows(most, rows)) + largest(on_rows(arc, rows))
            pieces = _seen_beside(of, turn, max(0.0, far), _STEP)
            closer = _beside(on_rows(a, rows), on_rows(b, rows), pieces, turn)
            most = upper(most, in_rows(closer, rows))
    return most


def _on_ray(a: Number, b: Number, of: Prepared, turn: float) -> Number:
    """How far the edge stands out in a direction, or by how much it does not on the ray itself, negative."""
    x, y = cos(turn), sin(turn)
    reach, edge = 1 / hypotenuse(x / a, y / b), _edge_on_ray(of, turn)
    rows = reach > edge
    if not somewhere(rows):
        return reach - edge
    some = on_rows(reach, rows)
    pieces = _seen_beside(of, turn, largest(some) - edge)
    return pick(rows, in_rows(_out_of(pieces, x * some, y * some), rows), reach - edge)


def _beside(a: Number, b: Number, pieces: list[Piece], turn: float) -> Number:
    """The most beside a place of the edge, from the ray before to the one behind it."""

    def place(turn: Number) -> tuple[Number, Number]:
        x, y = cosine(turn), sine(turn)
        reach = 1 / hypotenuse(x / a, y / b)
        return x * reach, y * reach

    best: Number = turn + 0.0 * a * b
    most = _out_of(pieces, *place(best))
    step = _STEP
    for _ in range(_ROUNDS):
        step = step / _FINE
        turns = [best + k * step for k in range(-_FINE + 1, _FINE)]
        for at, out in zip(turns, at_each(lambda x, y: _out_of(pieces, x, y), list(map(place, turns))), strict=True):
            best, most = pick(out > most, at, best), upper(most, out)
    return most


def _out_of(pieces: list[Piece], x: Number, y: Number) -> Number:
    """Distance of points from the nearest piece, of those that they are seen before; negative for points inside."""
    least: Number = float("inf")
    inside: Truth = False
    for piece in pieces:
        ax, ay, bx, by = piece
        ux, uy, px, py, apart = beside(piece, x, y)
        least = lower(least, apart)
        inside = inside | ((ax * y >= ay * x) & (bx * y <= by * x) & (ux * py >= uy * px))
    return pick(inside, -root(least), root(least))


def _seen_beside(of: Prepared, turn: float, far: float, wide: float = 0.0) -> list[Piece]:
    """The pieces that may lie within `far` of a place outside, in a direction or up to `wide` radians beside it."""
    window = wide + (asin(far / of.inner) if far < of.inner else pi)
    if window >= pi:
        return list(of.pieces)
    first, last = _index(of, turn - window), _index(of, turn + window)
    return [of.pieces[i % len(of.pieces)] for i in range(first, min(last, first + len(of.pieces) - 1) + 1)]


def _index(of: Prepared, turn: float) -> int:
    """Which piece is seen in a direction, radians anticlockwise from x, counted on past a full turn."""
    rounds = (turn + pi) // (2 * pi)
    return bisect_right(of.angles, turn - rounds * 2 * pi) - 1 + int(rounds) * len(of.pieces)


def _edge_on_ray(of: Prepared, turn: float) -> float:
    """How far the polyline's edge is from the axis in a direction."""
    ax, ay, bx, by = of.pieces[_index(of, turn) % len(of.pieces)]
    return (ax * (by - ay) - ay * (bx - ax)) / (cos(turn) * (by - ay) - sin(turn) * (bx - ax))
