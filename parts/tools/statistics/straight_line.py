"""The straight line through points by weighted least squares; what it rests on is for the callers to judge.

Source: weighted least squares as in any textbook; with weights 1/u² of the points' own standard uncertainties u the
slope's standard error is 1/sqrt(squares), and `rests` is chi-squared with count - 2 degrees of freedom.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class StraightLine:
    """y = mean_y + slope (x - mean_x) through `count` points, the means being weighted.

    `weight` is the sum of the weights w, `squares` that of w (x - mean_x)^2, `rests` that of w times the squared
    distances in y.
    """

    count: int
    weight: float
    mean_x: float
    mean_y: float
    squares: float
    slope: float
    rests: float

    @property
    def intercept(self):
        return self.mean_y - self.slope * self.mean_x


def least_squares(points, weights=None):
    """The StraightLine through (x, y) points; None for fewer than two, or where all have one x.

    `weights` are one for each point, all 1 by default.
    """
    if len({x for x, _ in points}) < 2:
        return None
    rows = [(x, y, w) for (x, y), w in zip(points, weights or [1.0] * len(points), strict=True)]
    weight = sum(w for _, _, w in rows)
    mean_x, mean_y = (sum(row[i] * row[2] for row in rows) / weight for i in (0, 1))
    squares = sum(w * (x - mean_x) ** 2 for x, _, w in rows)
    if squares <= 0:
        return None
    slope = sum(w * (x - mean_x) * (y - mean_y) for x, y, w in rows) / squares
    rests = sum(w * (y - mean_y - slope * (x - mean_x)) ** 2 for x, y, w in rows)
    return StraightLine(len(rows), weight, mean_x, mean_y, squares, slope, rests)
