"""The plot of a timing run: readings, the line and its band, over hours."""

from math import ceil, floor, log10

from parts.fit.drawings.svg import HAIR, INK, SOFT, VERDICT_INK, circle, el, line, path, text

_LEFT, _TOP, _WIDTH, _HEIGHT, _SIZE = 64.0, 14.0, 620.0, 230.0, 12.0


def plot_svg(outcome, reading_s):
    """Watch minus reference in s over hours since the first reading; empty for fewer than two readings."""
    if outcome.fit is None:
        return ""
    fit, last = outcome.fit, outcome.points[-1][0]
    offsets = [offset for _, offset in outcome.points]
    edges = [fit.offset_at(at) + sign * fit.band_at(at) for at in (0.0, last) for sign in (-1, 1)]
    low, high = min([*offsets, *edges]) - reading_s, max([*offsets, *edges]) + reading_s

    def place(at, offset):
        return _LEFT + _WIDTH * at / last, _TOP + _HEIGHT * (high - offset) / (high - low)

    parts = [*_grid(last / 3600, low, high)]
    times = [last * i / 24 for i in range(25)]
    upper = [place(at, fit.offset_at(at) + fit.band_at(at)) for at in times]
    lower = [place(at, fit.offset_at(at) - fit.band_at(at)) for at in reversed(times)]
    ring = " ".join(f"{x:.2f},{y:.2f}" for x, y in [*upper, *lower])
    parts.append(el("polygon", points=ring, fill="#0b5566", fill_opacity=0.14, class_="band"))
    (x1, y1), (x2, y2) = place(0.0, fit.offset_at(0.0)), place(last, fit.offset_at(last))
    parts.append(line(x1, y1, x2, y2, stroke="#0b5566", stroke_width=2, class_="line"))
    for at, offset in outcome.points:
        (x, top), (_, bottom) = place(at, offset + reading_s), place(at, offset - reading_s)
        parts.append(line(x, top, x, bottom, stroke=INK, stroke_width=1))
        parts.append(circle(x, place(at, offset)[1], 3.5, fill=VERDICT_INK["unclear"], class_="reading"))
    description = (
        f"{len(offsets)} readings over {last / 3600:.1f} hours; rate {fit.rate:+.2f} ±{fit.half_width:.2f} s/day"
    )
    return el(
        "svg",
        el("title", description),
        *parts,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {_LEFT + _WIDTH + 16:g} {_TOP + _HEIGHT + 44:g}",
        role="img",
        aria_label=description,
        class_="drawing drawing-timing",
    )


def _grid(hours, low, high):
    look = {"stroke": HAIR, "stroke_width": 0.5}
    bottom = _TOP + _HEIGHT
    for value in _ticks(low, high):
        y = _TOP + _HEIGHT * (high - value) / (high - low)
        yield line(_LEFT, y, _LEFT + _WIDTH, y, **look)
        yield text(_LEFT - 8, y + 4, f"{value:+.1f}" if value else "0", _SIZE, "end", fill=SOFT)
    for value in _ticks(0.0, hours):
        x = _LEFT + _WIDTH * value / hours
        yield line(x, bottom, x, bottom + 5, stroke=INK, stroke_width=1)
        yield text(x, bottom + 19, f"{value:g}", _SIZE, fill=SOFT)
    yield path("M", _LEFT, _TOP, "V", bottom, "H", _LEFT + _WIDTH, fill="none", stroke=INK, stroke_width=1)
    yield text(_LEFT + _WIDTH / 2, bottom + 38, "hours since the first reading", _SIZE)
    yield text(_LEFT, _TOP - 3, "watch ahead, s", _SIZE, "start")


def _ticks(low, high):
    """Five or so round numbers between two."""
    raw = (high - low) / 5
    unit = 10 ** floor(log10(raw))
    step = next(unit * factor for factor in (1, 2, 5, 10) if unit * factor >= raw)
    return [round(step * i, 6) for i in range(ceil(low / step), floor(high / step) + 1)]
