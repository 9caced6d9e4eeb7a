"""Where a printed disc stands in a dial's window: which numeral shows, and what of it and of its neighbours.

Source: fit model sections 6 and 11.8. In the window's frame x runs outwards along the window's radius and y across it,
clockwise positive; the origin is the window's middle. A disc of the date has 31 steps a round, one of the day 7 or 14.
"""

from __future__ import annotations

from collections.abc import Callable
from math import inf, nan, radians

from parts.fit.arithmetic.elementwise import (
    Number,
    Truth,
    cosine,
    hypotenuse,
    in_rows,
    lower,
    nearest,
    negation,
    on_rows,
    pick,
    sine,
    upper,
)
from parts.fit.arithmetic.ends import ends
from parts.fit.arithmetic.polygon import Point, area_inside, is_apart, is_inside, width_inside
from parts.fit.arithmetic.quantities import Quantity, in_hand, through
from parts.fit.pairing import DateView
from parts.fit.verdicts import Span

NUMERALS = 31
PITCH = 360 / NUMERALS
"""Degrees from one numeral to the next: 31 teeth, one step a day."""
RADIAN = radians(1.0)
_LEAST_SIZE = 1e-4
"""What a size or a radius, mm, keeps of itself however wide its plus-minus is."""


def turn_between(meant: Number, shown: Number, steps_round: int = NUMERALS) -> tuple[Number, Number]:
    """The whole steps, so many a round, and the rest in degrees, from the angle `shown` to the angle `meant`."""
    delta = (meant - shown) % 360
    delta = pick(delta > 180, delta - 360, delta)
    steps = nearest(delta * steps_round / 360)
    return steps, delta - steps * (360 / steps_round)


def view(inputs: tuple[Quantity, ...], steps_round: int = NUMERALS) -> DateView | None:
    """The disc as it stands in the dial's window; None where one of the two is lacking or not measured.

    `inputs` are the turn from window to meant numeral, then the sizes in the order of DateView.measures.
    """
    if not inputs or not through(lambda *_values: 0.0, *((0.0, q) for q in inputs)).known:
        return None
    turn, *sizes = (q.value for q in inputs)
    steps, offset = turn_between(turn, 0.0, steps_round)
    return DateView(steps_round, steps, offset, *sizes)


def box(
    j: int,
    offset: Number,
    numeral_radius: Number,
    radial: Number,
    tangential: Number,
    window_radius: Number,
    pitch: float = PITCH,
) -> list[Point]:
    """Corners of numeral j's printed box in the window's frame (0 is the shown one, +1 the next clockwise)."""
    a = (offset + j * pitch) * RADIAN
    c, s = cosine(a), sine(a)
    x, y = numeral_radius * c - window_radius, numeral_radius * s
    dx, dy, ex, ey = c * radial / 2, s * radial / 2, -s * tangential / 2, c * tangential / 2
    return [
        (x + dx + ex, y + dy + ey),
        (x + dx - ex, y + dy - ey),
        (x - dx - ex, y - dy - ey),
        (x - dx + ex, y - dy + ey),
    ]


def cut_share(
    offset: Number,
    radius: Number,
    radial: Number,
    tangential: Number,
    window_radius: Number,
    window_radial: Number,
    window_tangential: Number,
) -> Number:
    """Share of the shown numeral's box outside the window, 0 to 1."""
    whole = box(0, offset, radius, radial, tangential, window_radius)
    return 1.0 - area_inside(whole, window_radial / 2, window_tangential / 2) / (radial * tangential)


def sliver(
    j: int,
    offset: Number,
    radius: Number,
    radial: Number,
    tangential: Number,
    window_radius: Number,
    window_radial: Number,
    window_tangential: Number,
    pitch: float = PITCH,
) -> Number:
    """Width, across the radius, of what shows of neighbour j in the window, mm."""
    whole = box(j, offset, radius, radial, tangential, window_radius, pitch)
    return width_inside(whole, window_radial / 2, window_tangential / 2)


def _play(view: DateView, inputs: tuple[Quantity, ...]) -> Number:
    """How far a numeral's corner and the window's edge can come nearer by all their plus-minus together, mm."""
    turn, radius, radial, tangential, *window = (quantity.half_width for quantity in inputs)
    corner = view.numeral_radius + hypotenuse(view.numeral_radial, view.numeral_tangential) / 2
    return turn * RADIAN * corner + radius + (radial + tangential) / 2 + window[0] + (window[1] + window[2]) / 2


def _is_clear(view: DateView, inputs: tuple[Quantity, ...], j: int) -> Truth:
    """Whether a numeral surely lies as it should whatever its numbers are: the shown one inside, a neighbour apart."""
    offset, *sizes = view.measures[:5]
    play, corners = _play(view, inputs), box(j, offset, sizes[0], sizes[1], sizes[2], sizes[3], view.pitch)
    half_x, half_y = view.window_radial / 2, view.window_tangential / 2
    if j:
        return is_apart(corners, half_x + play, half_y + play)
    return is_inside(corners, half_x - play, half_y - play)


def by_ends(
    formula: Callable[..., Number],
    view: DateView | None,
    inputs: tuple[Quantity, ...],
    *,
    numeral: int,
    most: float = inf,
) -> tuple[Quantity, Span | None]:
    """formula(measures) with its interval, from both ends of each uncertain input alone: falls and rises add up.

    The formula has kinks, so that a derivative would miss what happens past them. Both ends lie in 0 to `most`. It is 0
    where the numeral is clear of the window's edge whatever its numbers are.
    """
    if view is None:
        return through(lambda *_values: 0.0, *((0.0, q) for q in inputs)), None
    clear = _is_clear(view, inputs, numeral)
    if clear is True:
        return Quantity(0.0, {name: 0.0 for quantity in inputs for name in quantity.spread}), (0.0, 0.0)
    rows = negation(clear)
    parts = [{name: on_rows(part, rows) for name, part in quantity.spread.items()} for quantity in inputs]
    at = tuple(on_rows(measure, rows) for measure in view.measures)
    value, falls, rises, spread = ends(formula, at, parts, _step)
    spread = {name: in_rows(part, rows) for name, part in spread.items()}
    value = pick(in_hand(*inputs), in_rows(value, rows), nan)
    low, high = upper(0.0, value + in_rows(falls, rows)), lower(most, value + in_rows(rises, rows))
    return Quantity(value, spread), (low, high)


def _step(i: int, at: Number, step: Number) -> Number:
    """An end of a measure: a turn goes both ways, sizes and radii keep something of themselves."""
    return at + step if i == 0 else upper(at + step, _LEAST_SIZE)
