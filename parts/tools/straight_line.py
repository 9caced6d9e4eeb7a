"""The straight line through points by least squares; what it rests on is for the callers to judge.

Source: ordinary least squares as in any textbook.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class StraightLine:
    """y = mean_y + slope (x - mean_x) through `count` points.

    `squares` is the sum of (x - mean_x)^2, `rests` that of the squared distances in y.
    """

    count: int
    mean_x: float
    mean_y: float
    squares: float
    slope: float
    rests: float

    @property
    def intercept(self):
        return self.mean_y - self.slope * self.mean_x


def least_squares(points):
    """The StraightLine through (x, y) points; None for fewer than two, or where all have one x."""
    if len({x for x, _ in points}) < 2:
        return None
    count = len(points)
    mean_x, mean_y = (sum(point[i] for point in points) / count for i in (0, 1))
    squares = sum((x - mean_x) ** 2 for x, _ in points)
    if squares <= 0:
        return None
    slope = sum((x - mean_x) * (y - mean_y) for x, y in points) / squares
    rests = sum((y - mean_y - slope * (x - mean_x)) ** 2 for x, y in points)
    return StraightLine(count, mean_x, mean_y, squares, slope, rests)
