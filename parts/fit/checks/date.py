"""The date and the day in their windows: how what shows leans, sits and is cut, and what shows of its neighbours.

Source: fit model sections 6 and 11.8.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from parts.fit.arithmetic.elementwise import Number, cosine, hypotenuse, pick, sine, upper
from parts.fit.arithmetic.quantities import SLACK, Quantity, greatest, missing_of, through, unknown
from parts.fit.bands import bands as line
from parts.fit.bands import by_accepting, by_part, fits, no, work
from parts.fit.checks.height import put_behind
from parts.fit.checks.window import NUMERALS, RADIAN, by_ends, cut_share, sliver, turn_between, view
from parts.fit.pairing import DateView
from parts.fit.records import DateDisc, DayDisc, Window
from parts.fit.verdicts import Finding, Span, judge, weakest

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing


class Shown(NamedTuple):
    """What a window shows ("date" or "day"): the disc's steps a round, what it depends on, and where it stands."""

    word: str
    steps: int
    inputs: tuple[Quantity, ...]
    view: DateView | None


def date_shown(p: Pairing) -> Shown | None:
    """The date in its window; None unless dial and movement both have one."""
    window, date = p.dial.window, p.movement.date
    if not (window and date):
        return None
    inputs = _inputs(p, window, date)
    return Shown("date", NUMERALS, inputs, view(inputs))


def day_shown(p: Pairing) -> Shown | None:
    """The day in its window; None unless both are measured, and not only said to be there."""
    window, day = p.dial.day_window, p.movement.day
    if not (isinstance(window, Window) and isinstance(day, DayDisc)):
        return None
    inputs = _inputs(p, window, day)
    return Shown("day", day.steps, inputs, view(inputs, day.steps))


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
    """Lean, place, cut and neighbours of what shows in each window; only where dial and movement both have it."""
    for shown in filter(None, (p.date, p.day)):
        yield _tilt(p, shown)
        yield _position(p, shown)
        yield _cut(p, shown)
        yield _neighbours(p, shown)
        if shown.word == "date" and p.dial.window and p.movement.date:
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


def _tilt(p: Pairing, shown: Shown) -> Finding:
    word, pitch = shown.word, 360 / shown.steps
    value = through(lambda turn: abs(turn_between(turn, 0.0, shown.steps)[0]) * pitch, (0.0, shown.inputs[0]))
    return judge(
        f"{word}-tilt",
        f"{word.capitalize()} tilt",
        value,
        line(
            fits(f"The {word} is upright in its window."),
            0.0,
            work(
                f"The {word} is tilted by {{value}} in its window.",
                by_accepting(f"The {word} will be tilted by {{value}} in its window."),
            ),
            p.rules.date_tilt_max,
            work(
                f"The {word} would tilt by {{value}}: movement and dial have it in different places. "
                "Without another disc the answer is no.",
                by_part(f"Get a {word} disc printed for this window, where the movement's maker sells one."),
            ),
        ),
        unit="deg",
    )


def _position(p: Pairing, shown: Shown) -> Finding:
    """Length of the offset between the numeral's and the window's middle; straight in each of its two parts."""
    word, (turn, numeral_radius, _, _, window_radius, *_) = shown.word, shown.inputs
    x: Number
    y: Number
    by_turn: Number
    by_numeral: Number
    by_window: Number
    x = y = by_turn = by_numeral = by_window = 0.0
    if not missing_of(turn, numeral_radius, window_radius):
        a = turn_between(turn.value, 0.0, shown.steps)[1] * RADIAN
        radius, c, s = numeral_radius.value, cosine(a), sine(a)
        x, y = radius * c - window_radius.value, radius * s
        off = hypotenuse(x, y)
        centred = off <= SLACK
        off = pick(centred, 1.0, off)
        by_x, by_y = pick(centred, 1.0, x / off), pick(centred, 1.0, y / off)
        by_turn = (by_y * radius * c - by_x * radius * s) * RADIAN
        by_numeral, by_window = by_x * c + by_y * s, -by_x
    value = through(
        lambda *_values: hypotenuse(x, y), (by_turn, turn), (by_numeral, numeral_radius), (by_window, window_radius)
    )
    return judge(
        f"{word}-position",
        f"{word.capitalize()} centring",
        value,
        line(
            fits(f"The {word} sits {{value}} off the centre of its window."),
            p.rules.date_offset_fits,
            work(
                f"The {word} sits {{value}} off the centre of its window.",
                by_accepting(f"The {word} will sit {{value}} off the centre of its window."),
            ),
            p.rules.date_offset_max,
            no(f"The {word} sits {{value}} off centre: too far to read."),
        ),
        span=(upper(0.0, value.low), value.high) if value.known else None,
    )


def _cut(p: Pairing, shown: Shown) -> Finding:
    word, (value, span) = shown.word, by_ends(cut_share, shown.view, shown.inputs, numeral=0, most=1.0)
    return judge(
        f"{word}-cut",
        f"{word.capitalize()} cut off",
        value,
        line(
            fits(f"The window shows the whole {word} ({{value}} cut off)."),
            p.rules.date_cut_fits,
            work(
                f"The window's edge cuts off {{value}} of the {word}.",
                by_accepting(f"The window's edge will hide {{value}} of the {word}."),
            ),
            p.rules.date_cut_max,
            no(f"The window's edge cuts off {{value}} of the {word}."),
        ),
        unit="share",
        span=span,
    )


def _neighbours(p: Pairing, shown: Shown) -> Finding:
    before, after = (
        by_ends(partial(sliver, j, pitch=360 / shown.steps), shown.view, shown.inputs, numeral=j) for j in (-1, 1)
    )
    return weakest(
        [_sliver(p, shown.word, value, span, before[0], after[0]) for value, span in (before, after)],
        small_is_bad=False,
    )


def _sliver(p: Pairing, word: str, value: Quantity, span: Span | None, before: Quantity, after: Quantity) -> Finding:
    return judge(
        f"{word}-neighbours",
        f"Neighbouring {word}s",
        value,
        line(
            fits(f"The neighbouring {word}s stay hidden (widest sliver {{value}})."),
            p.rules.date_sliver_fits,
            work(
                f"A sliver of a neighbouring {word} shows: {{before}} of the day before, {{after}} of the day after.",
                by_accepting("A sliver of the day before or after, {value} wide, will show in the window."),
            ),
            p.rules.date_sliver_max,
            no(f"{{value}} of a neighbouring {word} shows: it would read as two {word}s."),
        ),
        span=span,
        before=before,
        after=after,
    )


def _inputs(p: Pairing, window: Window, disc: DateDisc | DayDisc) -> tuple[Quantity, ...]:
    """What the view depends on: the turn from window to meant numeral, then sizes in the order of DateView.measures."""
    turn = p.case.stem_angle + disc.angle - window.angle
    numeral = (disc.numeral_radius, disc.numeral_radial, disc.numeral_tangential)
    return (turn, *numeral, window.radius, window.radial, window.tangential)
