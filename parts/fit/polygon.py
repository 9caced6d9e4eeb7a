"""Exact areas of convex polygons cut by an upright rectangle; points are (x, y) pairs, any length unit."""

from itertools import pairwise


def clip_to_rectangle(points, half_x, half_y):
    """The part of a convex polygon inside |x| <= half_x, |y| <= half_y, as a list of points (empty for none)."""
    for axis, sign, limit in ((0, 1.0, half_x), (0, -1.0, half_x), (1, 1.0, half_y), (1, -1.0, half_y)):
        inside = [sign * point[axis] <= limit for point in points]
        if all(inside):
            continue
        if not any(inside):
            return []
        points = list(_cut(points, inside, axis, sign * limit))
    return points


def _cut(points, inside, axis, at):
    for i, point in enumerate(points):
        before = points[i - 1]
        if inside[i] != inside[i - 1]:
            t = (at - before[axis]) / (point[axis] - before[axis])
            yield before[0] + t * (point[0] - before[0]), before[1] + t * (point[1] - before[1])
        if inside[i]:
            yield point


def area(points):
    """Area by the shoelace formula, positive either way round."""
    if not points:
        return 0.0
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*points, points[0]]))
    return abs(twice) / 2
