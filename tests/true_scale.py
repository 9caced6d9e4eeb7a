"""Measures circles on a raster: how far apart a dark line's two sides are, in every direction that matters."""

from math import cos, radians, sin

DIRECTIONS = (0, 22.5, 45, 67.5, 90, 112.5, 135, 157.5)
"""Degrees from the picture's x axis."""
_ASIDE = 2.5
"""Each direction is measured this many degrees to either side: centre lines and dimensions run along the axes."""
_PALE = 150
"""Lighter grey than this is a face and no line."""


def diameters(picture, centre, expected, *, window):
    """The diameter of a dark circle in each direction, dots, from the middle of the line's ink on either side.

    The ink is looked for within `window` of half the `expected` diameter. `centre` is in dots, (0, 0) the corner of the
    first one. AssertionError where there is no ink.
    """
    grey = picture.convert("L").load()
    return {
        angle: sum(
            _radius(grey, centre, angle + turn + aside, expected / 2, window) / 2
            for turn in (0, 180)
            for aside in (-_ASIDE, _ASIDE)
        )
        for angle in DIRECTIONS
    }


def _radius(grey, centre, angle, expected, window, step=0.1):
    across, down = cos(radians(angle)), sin(radians(angle))
    weight = moment = 0.0
    for i in range(int(2 * window / step) + 1):
        radius = expected - window + i * step
        ink = _ink(grey, centre[0] + radius * across - 0.5, centre[1] + radius * down - 0.5)
        weight, moment = weight + ink, moment + ink * radius
    assert weight > 0, f"no ink at {angle} degrees"
    return moment / weight


def _ink(grey, x, y):
    """How much darker than a face the place is, between the dots round it."""
    left, top = int(x), int(y)
    right, low = x - left, y - top
    dots = {
        (left, top): (1 - right) * (1 - low),
        (left + 1, top): right * (1 - low),
        (left, top + 1): (1 - right) * low,
        (left + 1, top + 1): right * low,
    }
    return sum(max(0, _PALE - grey[dot]) * share for dot, share in dots.items())
