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

Rectangles, circles and ovals are exact, for one number and for a column; in a polyline an oval's edge is searched to
about a micrometre.
"""

from __future__ import annotations

from collections.abc import Callable
from math import pi
from typing import NamedTuple

from parts.fit.arithmetic import polyline
from parts.fit.arithmetic.elementwise import Number, cosine, hypotenuse, lower, pick, root, sine, somewhere, upper
from parts.fit.arithmetic.polyline import Points

_COARSE, _FINE, _ROUNDS = 32, 8, 4
"""Into how many parts a quarter of an oval is cut to look for its nearest point, and what is beside that again."""
_NEWTON = 60
_HAIR = 1e-9


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
        return _oval_in_oval(a, b)
    if a.shape == "oval" and b.shape == "rectangle":
        return lower(b.width - a.width, b.height - a.height) / 2
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
        return _in_oval(outline.width / 2, outline.height / 2, abs(x), abs(y))
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


def _oval_in_oval(a: Outline, b: Outline) -> Number:
    """The least of root(b² + p w) - root(a² + q w) over w = cos² from 0 to 1, at an end or where its slope is 0."""
    across, along = (a.width / 2, a.height / 2), (b.width / 2, b.height / 2)
    q, p = across[0] ** 2 - across[1] ** 2, along[0] ** 2 - along[1] ** 2

    def at(w: Number) -> Number:
        return root(along[1] ** 2 + p * w) - root(across[1] ** 2 + q * w)

    slope = p * q * (p - q)
    flat = abs(slope) < _HAIR
    level = (q**2 * along[1] ** 2 - p**2 * across[1] ** 2) / pick(flat, 1.0, slope)
    return lower(lower(at(0.0), at(1.0)), at(upper(0.0, lower(pick(flat, 0.0, level), 1.0))))


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

    def at(turn: Number) -> Number:
        return of(i * a.width / 2 * cosine(turn), j * a.height / 2 * sine(turn))

    step = pi / 2 / _COARSE
    best: Number = 0.0
    least = at(0.0)
    for k in range(1, _COARSE + 1):
        value = at(k * step)
        better = value < least
        best, least = pick(better, k * step, best), pick(better, value, least)
    for _ in range(_ROUNDS):
        middle = best
        for k in range(-_FINE + 1, _FINE):
            turn = upper(0.0, lower(middle + k * step / _FINE, pi / 2))
            value = at(turn)
            better = value < least
            best, least = pick(better, turn, best), pick(better, value, least)
        step = step / _FINE
    return least


def _in_oval(a: Number, b: Number, x: Number, y: Number) -> Number:
    """Signed distance inside an ellipse with the half axes a and b, for a point in its first quarter.

    The nearest point is (a²x/(t+a²), b²y/(t+b²)) for the root t of (ax/(t+a²))² + (by/(t+b²))² = 1; the sum is convex
    and falls, so that Newton's steps from its left never pass the root.
    """
    x, y = upper(x, _HAIR), upper(y, _HAIR)
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
