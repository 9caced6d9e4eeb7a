"""The plot of a timing run: readings, the line and its band, over hours."""

from dataclasses import dataclass
from math import ceil, floor, log10

from django.utils.translation import gettext, ngettext

from jobs.language.formats import number
from jobs.rate import NORMAL_T
from parts.fit.drawings.svg import circle, el, line, path, polygon, text

_LEFT, _TOP, _SIZE = 56.0, 22.0, 12.0
_WHOLE, _NARROW = (590.0, 230.0), (230.0, 200.0)
SIZES = ("whole", "narrow")
"""For a desk or paper, and for a telephone: its lettering stays readable there."""


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where hours and offsets lie: width and height in the drawing's units, `last` in s, `low` and `high` in s."""

    width: float
    height: float
    last: float
    low: float
    high: float

    def place(self, at, offset):
        return _LEFT + self.width * at / self.last, self.y(offset)

    def y(self, offset):
        return _TOP + self.height * (self.high - offset) / (self.high - self.low)


def plot_svg(outcome, size="whole"):
    """Watch minus reference in s over hours since the first reading; empty where the run tells no rate."""
    if not outcome.tells_rate:
        return ""
    fit, last = outcome.fit, outcome.points[-1][0]
    bars = [(at, offset, NORMAL_T * error) for (at, offset), error in zip(outcome.points, outcome.errors, strict=True)]
    edges = [fit.offset_at(at) + sign * fit.band_at(at) for at in (0.0, last) for sign in (-1, 1)]
    ends = [offset + sign * bar for _, offset, bar in bars for sign in (-1, 1)] + edges
    frame = _Frame(*(_NARROW if size == "narrow" else _WHOLE), last, min(ends), max(ends))
    description = gettext("{count} readings over {hours} hours; rate {rate} ±{half_width} s/day (95 %)").format(
        count=len(bars),
        hours=number(last / 3600, 1),
        rate=_signed(fit.rate, 2),
        half_width=number(fit.half_width, 2),
    )
    if outcome.off:
        description += ngettext("; {count} off the line", "; {count} off the line", len(outcome.off)).format(
            count=len(outcome.off)
        )
    return el(
        "svg",
        el("title", description),
        *_grid(frame),
        *_band(frame, fit),
        *_readings(frame, bars, outcome.off),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {_LEFT + frame.width + 16:g} {_TOP + frame.height + 44:g}",
        role="img",
        aria_label=description,
        font_size=_SIZE,
        class_=f"drawing drawing-timing drawing-{size}",
    )


def _band(frame, fit):
    times = [frame.last * i / 24 for i in range(25)]
    upper = [frame.place(at, fit.offset_at(at) + fit.band_at(at)) for at in times]
    lower = [frame.place(at, fit.offset_at(at) - fit.band_at(at)) for at in reversed(times)]
    yield polygon(*upper, *lower, class_="band")
    (x1, y1), (x2, y2) = (frame.place(at, fit.offset_at(at)) for at in (0.0, frame.last))
    yield line(x1, y1, x2, y2, class_="line")


def _readings(frame, bars, off):
    """Each reading with its bar; one off the line of the others is a triangle with the words beside it."""
    for place, (at, offset, bar) in enumerate(bars):
        (x, top), (_, bottom) = frame.place(at, offset + bar), frame.place(at, offset - bar)
        yield line(x, top, x, bottom, class_="axis")
        y = frame.y(offset)
        if place not in off:
            yield circle(x, y, 3.5, class_="reading")
            continue
        yield polygon((x, y - 7), (x + 7, y + 5), (x - 7, y + 5), class_="reading-off")
        side = "start" if x < _LEFT + frame.width / 2 else "end"
        yield text(
            x + (11 if side == "start" else -11), y + 4, gettext("off the line"), anchor=side, class_="words-off"
        )


def _grid(frame):
    bottom, right = _TOP + frame.height, _LEFT + frame.width
    for value in _ticks(frame.low, frame.high):
        y = frame.y(value)
        yield line(_LEFT, y, right, y, class_="grid")
        yield text(_LEFT - 8, y + 4, _signed(value, 1) if value else "0", anchor="end", class_="words")
    for value in _ticks(0.0, frame.last / 3600):
        x = _LEFT + frame.width * value * 3600 / frame.last
        yield line(x, bottom, x, bottom + 5, class_="axis")
        yield text(x, bottom + 19, number(value), anchor="middle", class_="words")
    yield path("M", _LEFT, _TOP, "V", bottom, "H", right, class_="axis")
    yield text(_LEFT + frame.width / 2, bottom + 38, gettext("hours since the first reading"), anchor="middle")
    yield text(4, _TOP - 9, gettext("watch ahead, s"))


def _signed(value, places):
    return ("+" if value >= 0 else "") + number(value, places)


def _ticks(low, high):
    """Five or so round numbers between two."""
    raw = (high - low) / 5
    unit = 10 ** floor(log10(raw))
    step = next(unit * factor for factor in (1, 2, 5, 10) if unit * factor >= raw)
    return [round(step * i, 6) for i in range(ceil(low / step), floor(high / step) + 1)]
