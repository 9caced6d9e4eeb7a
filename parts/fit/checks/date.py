"""The date in its window: which numeral shows, how it leans, sits and is cut, and what shows of its neighbours.

Source: fit model section 6. In the window's frame x runs outwards along the window's radius and y across it, clockwise
positive; the origin is the window's middle.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import inf, nan, radians
from typing import TYPE_CHECKING

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
    somewhere,
    upper,
)
from parts.fit.arithmetic.polygon import Point, area_inside, is_apart, is_inside, width_inside
from parts.fit.arithmetic.quantities import SLACK, Quantity, Spread, greatest, in_hand, missing_of, through, unknown
from parts.fit.bands import bands as line
from parts.fit.bands import by_accepting, by_part, fits, no, work
from parts.fit.checks.height import put_behind
from parts.fit.pairing import DateView
from parts.fit.records import DateDisc, Window
from parts.fit.verdicts import Finding, Span, judge, weakest

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing

NUMERALS = 31
PITCH = 360 / NUMERALS
"""Degrees from one numeral to the next: 31 teeth, one step a day."""
_RADIAN = radians(1.0)
_LEAST_SIZE = 1e-4
"""What a size or a radius, mm, keeps of itself however wide its plus-minus is."""


def turn_between(meant: Number, shown: Number) -> tuple[Number, Number]:
    """The whole steps and the rest, in degrees, from the angle `shown` to the angle `meant`."""
    delta = (meant - shown) % 360
    delta = pick(delta > 180, delta - 360, delta)
    steps = nearest(delta * NUMERALS / 360)
    return steps, delta - steps * PITCH


def view(p: Pairing) -> DateView | None:
    """The date as it stands in the dial's window; None where one of the two is lacking or not measured."""
    quantities = _inputs(p)
    if not quantities or not through(lambda *_values: 0.0, *((0.0, q) for q in quantities)).known:
        return None
    turn, *sizes = (q.value for q in quantities)
    steps, offset = turn_between(turn, 0.0)
    return DateView(steps, offset, *sizes)


def box(
    j: int, offset: Number, numeral_radius: Number, radial: Number, tangential: Number, window_radius: Number
) -> list[Point]:
    """Corners of numeral j's printed box in the window's frame (0 is the shown one, +1 the next clockwise)."""
    a = (offset + j * PITCH) * _RADIAN
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
) -> Number:
    """Width, across the radius, of what shows of neighbour j in the window, mm."""
    whole = box(j, offset, radius, radial, tangential, window_radius)
    return width_inside(whole, window_radial / 2, window_tangential / 2)


def present(p: Pairing) -> Iterator[Finding]:
    """Whether the movement shows what the dial has windows for; open while nobody looked at window or date."""
    window, date = p.dial.window, p.movement.date
    missing = ("dial.window",) if window is None else ("movement.date",) if window and date is None else ()
    wants_date, wants_day = bool(window), p.dial.day_window
    lacks = [
        word
        for word, wants, has in (("date", wants_date, date), ("day", wants_day, p.movement.day))
        if wants and not has
    ]
    spare = bool(date) and not wants_date
    yield judge(
        "date-present",
        "Date and day",
        unknown(*missing) if missing else Quantity(0.0 if lacks else 1.0),
        line(
            work(
                "The dial has a {lacks} window, the movement no {lacks}.",
                by_accepting("The {lacks} window will stay blank."),
            ),
            1.0,
            fits(
                "The movement's date stays hidden; one crown position does nothing."
                if spare
                else "The movement has what the dial shows."
                if wants_date or wants_day
                else "The dial has no window and the movement no date."
                if date is False
                else "The dial has no window."
            ),
        ),
        unit="count",
        lacks=" or ".join(lacks),
    )


def in_window(p: Pairing) -> Iterator[Finding]:
    """Lean, place, cut and neighbours of the numeral in the window; only where dial and movement both have a date."""
    inputs = _inputs(p)
    if not inputs:
        return
    yield _tilt(p, inputs)
    yield _position(p, inputs)
    yield _cut(p, inputs)
    yield _neighbours(p, inputs)
    if p.dial.window and p.movement.date:
        yield _disc(p, p.dial.window, p.movement.date)


def depth(p: Pairing) -> Iterator[Finding]:
    """How deep behind the dial the date lies, by what is put between dial and movement; only with a window."""
    if not p.dial.window:
        return
    yield judge(
        "date-depth",
        "Date below the dial",
        put_behind(p),
        line(
            fits("The date lies as close behind the dial as the movement has it."),
            p.rules.date_depth_max,
            work(
                "The date lies {value} deeper behind the dial.",
                by_accepting("The date will lie {value} deeper in its window."),
            ),
        ),
        must=False,
    )


def _disc(p: Pairing, window: Window, date: DateDisc) -> Finding:
    """How far the window reaches past the date disc, along its own radius."""
    half = 0.5 * window.radial
    past = greatest(window.radius + half - date.disc_outer_radius, date.disc_inner_radius - (window.radius - half))
    return judge(
        "date-disc",
        "Date disc behind the window",
        past,
        line(
            fits("The date disc fills the window."),
            p.rules.date_disc_bare,
            work(
                "The window reaches {value} past the date disc.",
                by_accepting("A strip of the movement's plate, {value} wide, will show beside the date."),
            ),
        ),
        must=False,
    )


def _tilt(p: Pairing, inputs: tuple[Quantity, ...]) -> Finding:
    value = through(lambda turn: abs(turn_between(turn, 0.0)[0]) * PITCH, (0.0, inputs[0]))
    return judge(
        "date-tilt",
        "Date tilt",
        value,
        line(
            fits("The date is upright in its window."),
            0.0,
            work(
                "The date is tilted by {value} in its window.",
                by_accepting("The date will be tilted by {value} in its window."),
            ),
            p.rules.date_tilt_max,
            work(
                "The date would tilt by {value}: movement and dial have it in different places. "
                "Without another disc the answer is no.",
                by_part("Get a date disc printed for this window, where the movement's maker sells one."),
            ),
        ),
        unit="deg",
    )


def _position(p: Pairing, inputs: tuple[Quantity, ...]) -> Finding:
    """Length of the offset between the numeral's and the window's middle; straight in each of its two parts."""
    turn, numeral_radius, window_radius = inputs[0], inputs[1], inputs[4]
    x: Number
    y: Number
    by_turn: Number
    by_numeral: Number
    by_window: Number
    x = y = by_turn = by_numeral = by_window = 0.0
    if not missing_of(turn, numeral_radius, window_radius):
        a = turn_between(turn.value, 0.0)[1] * _RADIAN
        radius, c, s = numeral_radius.value, cosine(a), sine(a)
        x, y = radius * c - window_radius.value, radius * s
        off = hypotenuse(x, y)
        centred = off <= SLACK
        off = pick(centred, 1.0, off)
        by_x, by_y = pick(centred, 1.0, x / off), pick(centred, 1.0, y / off)
        by_turn = (by_y * radius * c - by_x * radius * s) * _RADIAN
        by_numeral, by_window = by_x * c + by_y * s, -by_x
    value = through(
        lambda *_values: hypotenuse(x, y), (by_turn, turn), (by_numeral, numeral_radius), (by_window, window_radius)
    )
    return judge(
        "date-position",
        "Date centring",
        value,
        line(
            fits("The date sits {value} off the centre of its window."),
            p.rules.date_offset_fits,
            work(
                "The date sits {value} off the centre of its window.",
                by_accepting("The date will sit {value} off the centre of its window."),
            ),
            p.rules.date_offset_max,
            no("The date sits {value} off centre: too far to read."),
        ),
        span=(upper(0.0, value.low), value.high) if value.known else None,
    )


def _cut(p: Pairing, inputs: tuple[Quantity, ...]) -> Finding:
    value, span = _by_ends(cut_share, p.date, inputs, numeral=0, most=1.0)
    return judge(
        "date-cut",
        "Date cut off",
        value,
        line(
            fits("The window shows the whole date ({value} cut off)."),
            p.rules.date_cut_fits,
            work(
                "The window's edge cuts off {value} of the date.",
                by_accepting("The window's edge will hide {value} of the date."),
            ),
            p.rules.date_cut_max,
            no("The window's edge cuts off {value} of the date."),
        ),
        unit="share",
        span=span,
    )


def _neighbours(p: Pairing, inputs: tuple[Quantity, ...]) -> Finding:
    before, after = (_by_ends(lambda *measures, j=j: sliver(j, *measures), p.date, inputs, numeral=j) for j in (-1, 1))
    return weakest(
        [_sliver(p, value, span, before[0], after[0]) for value, span in (before, after)], small_is_bad=False
    )


def _sliver(p: Pairing, value: Quantity, span: Span | None, before: Quantity, after: Quantity) -> Finding:
    return judge(
        "date-neighbours",
        "Neighbouring dates",
        value,
        line(
            fits("The neighbouring dates stay hidden (widest sliver {value})."),
            p.rules.date_sliver_fits,
            work(
                "A sliver of a neighbouring date shows: {before} of the day before, {after} of the day after.",
                by_accepting("A sliver of the day before or after, {value} wide, will show in the window."),
            ),
            p.rules.date_sliver_max,
            no("{value} of a neighbouring date shows: it would read as two dates."),
        ),
        span=span,
        before=before,
        after=after,
    )


def _inputs(p: Pairing) -> tuple[Quantity, ...]:
    """What the view depends on: the turn from window to meant numeral, then sizes in the order of DateView.measures."""
    window, date = p.dial.window, p.movement.date
    if not (window and date):
        return ()
    turn = p.case.stem_angle + date.angle - window.angle
    numeral = (date.numeral_radius, date.numeral_radial, date.numeral_tangential)
    return (turn, *numeral, window.radius, window.radial, window.tangential)


def _play(view: DateView, inputs: tuple[Quantity, ...]) -> Number:
    """How far a numeral's corner and the window's edge can come nearer by all their plus-minus together, mm."""
    turn, radius, radial, tangential, *window = (quantity.half_width for quantity in inputs)
    corner = view.numeral_radius + hypotenuse(view.numeral_radial, view.numeral_tangential) / 2
    return turn * _RADIAN * corner + radius + (radial + tangential) / 2 + window[0] + (window[1] + window[2]) / 2


def _is_clear(view: DateView, inputs: tuple[Quantity, ...], j: int) -> Truth:
    """Whether a numeral surely lies as it should whatever its numbers are: the shown one inside, a neighbour apart."""
    play, corners = _play(view, inputs), box(j, *view.measures[:5])
    half_x, half_y = view.window_radial / 2, view.window_tangential / 2
    if j:
        return is_apart(corners, half_x + play, half_y + play)
    return is_inside(corners, half_x - play, half_y - play)


def _by_ends(
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
    value, falls, rises, spread = _ends(formula, at, parts)
    spread = {name: in_rows(part, rows) for name, part in spread.items()}
    value = pick(in_hand(*inputs), in_rows(value, rows), nan)
    low, high = upper(0.0, value + in_rows(falls, rows)), lower(most, value + in_rows(rises, rows))
    return Quantity(value, spread), (low, high)


def _ends(
    formula: Callable[..., Number], at: tuple[Number, ...], parts: list[Spread]
) -> tuple[Number, Number, Number, Spread]:
    """The formula's value, the sum of its falls and of its rises, and what each input does to it at most."""
    value = formula(*at)
    falls: Number = 0.0
    rises: Number = 0.0
    spread: Spread = {}
    for i, of_input in enumerate(parts):
        for name, part in of_input.items():
            fall: Number = 0.0
            rise: Number = 0.0
            if somewhere(part != 0):
                for step in (part, -part):
                    end = at[i] + step if i == 0 else upper(at[i] + step, _LEAST_SIZE)
                    there = formula(*at[:i], end, *at[i + 1 :]) - value
                    fall, rise = lower(fall, there), upper(rise, there)
            falls, rises = falls + fall, rises + rise
            spread[name] = upper(-fall, rise)
    return value, falls, rises, spread
