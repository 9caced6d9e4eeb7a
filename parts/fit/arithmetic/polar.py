"""Places told by an angle and a radius."""

from math import radians

from parts.fit.arithmetic.elementwise import cosine, hypotenuse, pick, sine
from parts.fit.arithmetic.quantities import SLACK, Quantity, through

RADIAN = radians(1.0)


def apart(radius: Quantity, turn: Quantity, other: Quantity) -> Quantity:
    """Distance between two places at these radii, `turn` degrees from each other.

    It is sqrt(x² + y²), x along the other's radius; straight in x and y but where the two meet.
    """
    if radius.missing or turn.missing or other.missing:
        return through(lambda *_values: 0.0, (0.0, turn), (0.0, radius), (0.0, other))
    s, c = sine(turn.value * RADIAN), cosine(turn.value * RADIAN)
    x, y = radius.value * c - other.value, radius.value * s
    distance = hypotenuse(x, y)
    met = distance <= SLACK
    by_x, by_y = (pick(met, 1.0, part / pick(met, 1.0, distance)) for part in (x, y))
    return through(
        lambda *_values: distance,
        (radius.value * (by_y * c - by_x * s) * RADIAN, turn),
        (by_x * c + by_y * s, radius),
        (by_x * -1.0, other),
    )
