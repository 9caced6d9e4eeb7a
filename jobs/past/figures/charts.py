"""Plain charts as SVG: horizontal bars, and ranges with their middle.

A row's words stand over it, its numbers beside it. They are as wide as a telephone's column, where
their letters are still read.
"""

from collections.abc import Sequence

from django.utils.safestring import mark_safe

from parts.fit.drawings.svg import el, line, rect, text

_WIDTH, _VALUE, _WORDS, _ROW, _BAR, _SIZE = 230.0, 130.0, 18.0, 24.0, 12.0, 13.0
_BARS = ("first", "second")
_LONGEST = 48


def bars(
    title: str,
    description: str,
    rows: Sequence[tuple[str, Sequence[tuple[float, str]]]],
    *,
    names: Sequence[str] = ("",),
) -> str:
    """A chart of bars: `rows` are (label, ((value, words), ...)), a bar for each name; empty for no rows."""
    most = max((value for _, values in rows for value, _ in values), default=0) or 1
    high = _ROW if len(names) == 1 else _ROW + _BAR
    parts, top = _legend(names)
    for label, values in rows:
        parts.append(_label(label, top))
        top += _WORDS
        start = top + (high - _BAR * len(values) - 2 * (len(values) - 1)) / 2
        for i, (value, words) in enumerate(values):
            y, x = start + i * (_BAR + 2), _WIDTH * value / most
            parts.append(rect(0, y, x, y + _BAR, class_=_BARS[i]))
            parts.append(text(x + 6, y + _BAR - 2, words, _SIZE - 1))
        top += high
    return _chart(title, description, parts, top)


def ranges(title, description, rows):
    """A chart of ranges: `rows` are (label, low, middle, high, words); empty for no rows."""
    most = max((high for *_, high, _ in rows), default=0) or 1
    parts, top = [], 6.0
    for label, low, middle, high, words in rows:
        left, mid, right = (_WIDTH * value / most for value in (low, middle, high))
        parts.append(_label(label, top))
        top += _WORDS
        y = top + _ROW / 2
        parts.append(rect(left, y - _BAR / 2, max(right, left + 1), y + _BAR / 2, class_="range"))
        parts.append(line(mid, y - _BAR, mid, y + _BAR, class_="middle"))
        parts.append(text(max(right, mid) + 8, y + 4, words, _SIZE - 1))
        top += _ROW
    return _chart(title, description, parts, top)


def _label(words, top):
    short = words if len(words) <= _LONGEST else f"{words[: _LONGEST - 1]}…"
    return text(0, top + _WORDS - 4, short)


def _legend(names):
    if len(names) == 1:
        return [], 6.0
    parts = []
    for i, name in enumerate(names):
        left = 150 * i
        parts += [rect(left, 4, left + _BAR, 4 + _BAR, class_=_BARS[i])]
        parts += [text(left + _BAR + 6, 15, name, class_="words")]
    return parts, 26.0


def _chart(title, description, parts, bottom):
    if not parts:
        return ""
    return mark_safe(
        el(
            "svg",
            el("title", title),
            el("desc", description),
            *parts,
            xmlns="http://www.w3.org/2000/svg",
            viewBox=f"0 0 {_WIDTH + _VALUE:g} {bottom + 6:g}",
            role="img",
            aria_label=f"{title}. {description}",
            font_size=_SIZE,
            class_="drawing chart",
        )
    )
