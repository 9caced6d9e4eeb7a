"""Exact measures of a convex polygon inside an upright rectangle; points are (x, y) pairs, any length unit.

The outline is walked edge by edge, cut where it crosses the rectangle's lines. Points outside are moved to the nearest
point of the rectangle: the moved outline runs round the same inside and encloses nothing else.
"""

from collections.abc import Callable, Sequence
from functools import reduce
from typing import Any, TypeAlias

from parts.fit.arithmetic.elementwise import Number, Truth, between, is_column, lower, negation, pick, upper

Point: TypeAlias = tuple[Number, Number]
_HARDLY_ANY = 1e-300
"""Stands for a run of 0, so that a way along a line meets it far off, before its start or after its end."""


def area_inside(points: Sequence[Point], half_x: Number, half_y: Number) -> Number:
    """Area of the polygon inside |x| <= half_x, |y| <= half_y, by the shoelace formula, positive either way round."""
    inside = is_inside(points, half_x, half_y)
    if inside is True:
        return _area(points)
    return _where(negation(inside), _area_cut, points, half_x, half_y, elsewhere=_area)


def _area(points: Sequence[Point]) -> Number:
    twice = 0.0
    for (ax, ay), (bx, by) in _edges(points):
        twice = twice + (ax * by - bx * ay)
    return abs(twice) / 2


def _area_cut(points: Sequence[Point], half_x: Number, half_y: Number) -> Number:
    return _area(
        [
            (between(-half_x, x, half_x), between(-half_y, y, half_y))
            for a, b in _edges(points)
            for x, y in _cut(a, b, half_x, half_y)
        ]
    )


def width_inside(points: Sequence[Point], half_x: Number, half_y: Number) -> Number:
    """Extent along y of the part of a convex polygon inside |x| <= half_x, |y| <= half_y; 0 where none is."""
    apart = is_apart(points, half_x, half_y)
    if apart is True:
        return 0.0
    return _where(negation(apart), _width_cut, points, half_x, half_y, elsewhere=lambda points: 0.0 * points[0][0])


def _width_cut(points: Sequence[Point], half_x: Number, half_y: Number) -> Number:
    low, high = half_y, -half_y
    for (ax, ay), (bx, by) in _edges(points):
        start, end = _crossings(ax, bx, half_x)
        crosses = (lower(ax, bx) <= half_x) & (upper(ax, bx) >= -half_x)
        left, right = ay + start * (by - ay), ay + end * (by - ay)
        low = pick(crosses, lower(low, lower(left, right)), low)
        high = pick(crosses, upper(high, upper(left, right)), high)
    return upper(lower(high, half_y) - upper(low, -half_y), 0.0)


def _where(
    rows: Truth,
    formula: Callable[[Sequence[Point], Number, Number], Number],
    points: Sequence[Point],
    half_x: Number,
    half_y: Number,
    *,
    elsewhere: Callable[[Sequence[Point]], Number],
) -> Number:
    """The formula where a row asks for it, `elsewhere` in the others: of many polygons most are plain."""
    if not is_column(rows):
        return formula(points, half_x, half_y)
    plain = elsewhere(points)
    result: Any = pick(rows, plain, plain)

    def of(number: Any) -> Number:
        return number[rows] if is_column(number) else number

    result[rows] = formula([(of(x), of(y)) for x, y in points], of(half_x), of(half_y))
    return result


def _edges(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    return [(points[i - 1], points[i]) for i in range(len(points))]


def is_apart(points: Sequence[Point], half_x: Number, half_y: Number) -> Truth:
    """Whether a polygon lies wholly beyond one of the four lines."""
    across, along = zip(*points, strict=True)
    if not is_column(across[0]):
        apart: Truth = (min(across) >= half_x) | (max(across) <= -half_x)
        return apart | (min(along) >= half_y) | (max(along) <= -half_y)
    left, right, below, above = reduce(upper, across), reduce(lower, across), reduce(upper, along), reduce(lower, along)
    return (right >= half_x) | (left <= -half_x) | (above >= half_y) | (below <= -half_y)


def is_inside(points: Sequence[Point], half_x: Number, half_y: Number) -> Truth:
    """Whether a polygon lies inside altogether."""
    inside: Truth = True
    for x, y in points:
        inside = inside & (abs(x) <= half_x) & (abs(y) <= half_y)
    return inside


def _cut(a: Point, b: Point, half_x: Number, half_y: Number) -> list[Point]:
    """The edge's start and the places, in order, where it crosses one of the rectangle's four lines."""
    across, along = b[0] - a[0], b[1] - a[1]
    near, far = _crossings(a[0], b[0], half_x)
    low, high = _crossings(a[1], b[1], half_y)
    inner, outer = upper(near, low), lower(far, high)
    steps = (lower(near, low), lower(inner, outer), upper(inner, outer), upper(far, high))
    return [a, *((a[0] + t * across, a[1] + t * along) for t in steps)]


def _crossings(start: Number, end: Number, half: Number) -> tuple[Number, Number]:
    """Where, from 0 at the start to 1 at the end, the lines at -half and +half are crossed, in order, held to that."""
    run = end - start
    run = pick(run == 0, _HARDLY_ANY, run)
    at_low, at_high = (-half - start) / run, (half - start) / run
    return between(0.0, lower(at_low, at_high), 1.0), between(0.0, upper(at_low, at_high), 1.0)
