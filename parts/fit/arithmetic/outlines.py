"""How one outline lies in another: the least distance from edge to edge, and how far one stands out of the other.

Source: fit model section 11.4. Outlines are centred on the hands' axis, x towards 3 and y towards 12 o'clock. The
signed distance of a point is positive inside an outline, negative outside. c(A in B) is its least value over A's edge.
For a convex B it is concave, so that the corners of A decide: a rounded rectangle is a plain one with a radius all
round, and what its corners have is had less that radius. Of a polyline that is not convex the inward corners are looked
at as well.

How far a convex outline reaches in a direction u is h(u); it lies in another by the least of their difference over all
directions, since a convex outline is all that lies behind its tangents: c(A in B) = min h_B(u) - h_A(u). An oval with
the half axes a and b reaches root(a² cos² + b² sin²), a rounded rectangle x cos + y sin + corner: between these two the
difference is least along one of the axes, whatever the corner.

All are exact, for one number and for a column, but for an oval that stands out of a polyline with corners that stand
in: there its edge is searched to about a micrometre.
"""

from __future__ import annotations

from collections.abc import Callable
from math import pi
from typing import NamedTuple

from parts.fit.arithmetic import oval, polyline
from parts.fit.arithmetic.elementwise import (
    Number,
    at_each,
    cosine,
    hypotenuse,
    in_rows,
    is_lost,
    lower,
    negation,
    on_rows,
    pick,
    sine,
    somewhere,
    upper,
)
from parts.fit.arithmetic.oval_outside import farthest_out
from parts.fit.arithmetic.polyline import Points

_COARSE, _FINE, _ROUNDS = 32, 8, 4
"""Into how many parts a quarter of an oval is cut to look for its nearest point, and what is beside that again."""


class Outline(NamedTuple):
    """A "rectangle", an "oval", a "polyline", or a "round" one; lengths in mm, or columns of them."""

    shape: str
    width: Number = 0.0
    height: Number = 0.0
    corner: Number = 0.0
    points: Points = ()


def circle(diameter: Number) -> Outline:
    return Outline("round", diameter, diameter, diameter / 2)


def inner(outline: Outline) -> Number:
    """Radius of the largest circle about the axis inside it."""
    if outline.shape == "polyline":
        return polyline.prepared(outline.points).inner
    return lower(outline.width, outline.height) / 2


def outer(outline: Outline) -> Number:
    """Radius of the smallest circle about the axis round it."""
    if outline.shape == "polyline":
        return polyline.prepared(outline.points).outer
    if outline.shape == "oval":
        return upper(outline.width, outline.height) / 2
    x, y = _core(outline)
    return hypotenuse(x, y) + outline.corner


def clear(a: Outline, b: Outline) -> Number:
    """c(A in B): least distance from A's edge to B's, negative by the most that A stands out of B."""
    if a.shape == "round":
        return inner(b) - a.width / 2
    if b.shape == "round":
        return b.width / 2 - outer(a)
    if a.shape == b.shape == "polyline":
        return polyline.clear(a.points, b.points)
    if a.shape == b.shape == "oval":
        return oval.in_oval(a.width / 2, a.height / 2, b.width / 2, b.height / 2)
    if a.shape == "oval" and b.shape == "rectangle":
        return lower(b.width - a.width, b.height - a.height) / 2
    if a.shape == "oval" and b.shape == "polyline":
        return _oval_in_polyline(a, b)
    return _searched(a, b)


def _oval_in_polyline(a: Outline, b: Outline) -> Number:
    """In closed form where there is one; only the rows that stand out of a polyline that is not convex are searched."""
    of = polyline.prepared(b.points)
    least, is_known = oval.in_polyline(a.width / 2, a.height / 2, of)
    rest = negation(is_known | is_lost(least))
    if not somewhere(rest):
        return least
    some = a._replace(width=on_rows(a.width, rest), height=on_rows(a.height, rest))
    out = -farthest_out(some.width / 2, some.height / 2, of) if of.angles else _searched(some, b)
    return pick(rest, in_rows(out, rest), least)


def _searched(a: Outline, b: Outline) -> Number:
    """As `clear`, by the places of A's edge and by the corners of a polyline B that stand in."""
    least = _least_over(a, lambda x, y: signed(b, x, y), both=b.shape != "polyline")
    if b.shape == "polyline":
        for x, y in polyline.prepared(b.points).inward:
            least = lower(least, -signed(a, x, y))
    return least


def signed(outline: Outline, x: Number, y: Number) -> Number:
    """Distance of a point from the outline's edge, positive inside."""
    if outline.shape == "polyline":
        return polyline.signed(outline.points, x, y)
    if outline.shape == "oval":
        return oval.signed(outline.width / 2, outline.height / 2, x, y)
    across, along = _core(outline)
    dx, dy = abs(x) - across, abs(y) - along
    out = hypotenuse(upper(dx, 0.0), upper(dy, 0.0))
    return outline.corner - out - lower(upper(dx, dy), 0.0)


def along_ray(outline: Outline, angle: Number) -> Number:
    """Distance from the axis to the edge in a direction, degrees clockwise from 12 o'clock."""
    turn = angle * (pi / 180)
    x, y = sine(turn), cosine(turn)
    if outline.shape == "oval":
        return 0.5 / hypotenuse(x / outline.width, y / outline.height)
    low, high = inner(outline), outer(outline)
    for _ in range(50):
        middle = (low + high) / 2
        inside = signed(outline, x * middle, y * middle) >= 0
        low, high = pick(inside, middle, low), pick(inside, high, middle)
    return low


def _core(outline: Outline) -> tuple[Number, Number]:
    """The corner of the plain rectangle inside a rounded one."""
    return outline.width / 2 - outline.corner, outline.height / 2 - outline.corner


def _least_over(a: Outline, of: Callable[[Number, Number], Number], *, both: bool) -> Number:
    """The least of a signed distance over A's edge; `both` says that all four quarters are alike."""
    if a.shape == "polyline":
        return _least_of(a.points, of)
    signs = ((1, 1),) if both else ((1, 1), (-1, 1), (-1, -1), (1, -1))
    if a.shape == "rectangle":
        x, y = _core(a)
        return _least_of([(i * x, j * y) for i, j in signs], of) - a.corner
    quarters = [_least_on_quarter(a, of, i, j) for i, j in signs]
    least = quarters[0]
    for other in quarters[1:]:
        least = lower(least, other)
    return least


def _least_of(points: Points | list[tuple[Number, Number]], of: Callable[[Number, Number], Number]) -> Number:
    least: Number = of(*points[0])
    for x, y in points[1:]:
        least = lower(least, of(x, y))
    return least


def _least_on_quarter(a: Outline, of: Callable[[Number, Number], Number], i: int, j: int) -> Number:
    """Over a quarter of an oval: the best of a coarse row of its points, then closer and closer round that."""

    def at(turns: list[Number]) -> list[Number]:
        return at_each(of, [(i * a.width / 2 * cosine(turn), j * a.height / 2 * sine(turn)) for turn in turns])

    step = pi / 2 / _COARSE
    turns: list[Number] = [k * step for k in range(_COARSE + 1)]
    best, least = turns[0], of(i * a.width / 2, 0.0 * a.height)
    for _ in range(_ROUNDS + 1):
        for turn, value in zip(turns, at(turns), strict=True):
            better = value < least
            best, least = pick(better, turn, best), pick(better, value, least)
        step = step / _FINE
        turns = [upper(0.0, lower(best + k * step, pi / 2)) for k in range(-_FINE + 1, _FINE)]
    return least
