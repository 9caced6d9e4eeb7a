"""Labels with leader lines: upright ones above and below a drawing, level ones in a column beside it; none cross."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html import escape
from typing import TypeAlias

from parts.fit.drawings.svg import circle, el, line, number, path, rect, text, verdict_mark

Press: TypeAlias = Callable[[str], str]
"""The address that a press on the number of a check leads to, by the check's key."""


@dataclass(frozen=True, slots=True)
class Callout:
    """Words about a spot of the drawing at (x, y), mm. `key` is the check whose number it tells, `verdict` its verdict.

    A gap across the drawing has a `span`: its two ends along y, dimensioned between ticks.
    """

    x: float
    y: float
    words: str
    number: str
    verdict: str = ""
    span: tuple[()] | tuple[float, float] = ()
    key: str = ""

    @property
    def marked(self) -> bool:
        """Whether it carries a verdict's mark: what fits is drawn quietly."""
        return self.verdict not in ("", "fits")

    def width(self, size: float) -> float:
        """Room that its label takes beside its leader."""
        return (max(_WIDE * len(self.words), _BOLD * len(self.number) + 1.25 * self.marked) + 1.0) * size


@dataclass(frozen=True, slots=True)
class Upright:
    """A label with an upright leader at `x`, its box beside it, or over its end where the sides have no room for it.

    `row` counts away from the drawing.
    """

    item: Callout
    x: float
    row: int
    left: float
    right: float


ROW = 2.9
"""Height of a row of labels, in em."""
_WIDE, _BOLD = 0.5, 0.56
"""Mean width of a letter of the sans face, plain and bold, on the safe side, in em."""
_APART = 0.7
"""Least distance of two leaders, in em."""


def deal(callouts: Sequence[Callout], left: float, right: float, size: float) -> list[Upright]:
    """The labels in as few rows as hold them, so that no leader and no label runs through another label."""
    ordered = sorted(callouts, key=lambda item: item.x)
    leaders = _leaders(ordered, left, right, size)
    for anywhere in (False, True):
        for rows in range(1, len(ordered) + 1):
            if (placed := _placed(ordered, leaders, left, right, size, rows, [], anywhere=anywhere)) is not None:
                return placed
    return [_beside(item, x, i, 1, size) for i, (item, x) in enumerate(zip(ordered, leaders, strict=True))]


def rows_of(placed: Sequence[Upright]) -> int:
    """How many rows the labels take."""
    return 1 + max((label.row for label in placed), default=-1)


def _leaders(ordered: Sequence[Callout], left: float, right: float, size: float) -> list[float]:
    """Where the leaders stand: over their spots, moved as little as keeps them apart."""
    apart = _APART * size
    places: list[float] = []
    for item in ordered:
        places.append(max(item.x, places[-1] + apart if places else left + 0.2 * size))
    edge = right - 0.2 * size
    for i in reversed(range(len(places))):
        places[i] = min(places[i], edge)
        edge = places[i] - apart
    return places


def _over(item: Callout, x: float, row: int, left: float, right: float, size: float) -> Upright:
    """The box over the leader's end, as far to the right as it may reach."""
    end = min(max(x + item.width(size) / 2, left + item.width(size)), right)
    return Upright(item, x, row, end - item.width(size), end)


def _beside(item: Callout, x: float, row: int, side: int, size: float) -> Upright:
    return Upright(item, x, row, *((x, x + item.width(size)) if side > 0 else (x - item.width(size), x)))


def _placed(
    ordered: Sequence[Callout],
    leaders: Sequence[float],
    left: float,
    right: float,
    size: float,
    rows: int,
    done: list[Upright],
    *,
    anywhere: bool,
) -> list[Upright] | None:
    """All labels within that many rows, or None: each tried on both sides of its leader, row by row.

    `anywhere` tries it over its leader's end as well, and short of the next leader.
    """
    if len(done) == len(ordered):
        return done
    item, x = ordered[len(done)], leaders[len(done)]
    following = leaders[len(done) + 1] - 0.2 * size if len(done) + 1 < len(ordered) else right
    for row in range(rows):
        sides = [_beside(item, x, row, side, size) for side in ((1, -1) if x + item.width(size) <= right else (-1, 1))]
        over = [_over(item, x, row, left, end, size) for end in (following, right)] if anywhere else []
        for label in (*sides, *over):
            if left <= label.left and label.right <= right and not any(_clash(label, other) for other in done):
                rest = _placed(ordered, leaders, left, right, size, rows, [*done, label], anywhere=anywhere)
                if rest is not None:
                    return rest
    return None


def _clash(upright: Upright, other: Upright) -> bool:
    """Whether two labels of a row overlap, or the leader of the farther one runs through the nearer one."""
    if upright.row == other.row:
        return upright.left < other.right and other.left < upright.right
    near, far = (upright, other) if upright.row < other.row else (other, upright)
    return near.left <= far.x <= near.right


def draw_upright(placed: Sequence[Upright], edge: float, size: float, *, above: bool, press: Press | None) -> str:
    """The labels above or below a drawing whose room ends at `edge`."""
    return "".join(_upright(label, edge, size, above=above, press=press) for label in placed)


def _upright(label: Upright, edge: float, size: float, *, above: bool, press: Press | None) -> str:
    step = ROW * size
    top = edge - step * (label.row + 1) if above else edge + step * label.row
    inside = label.left < label.x < label.right
    near, far = top + 2.5 * size if above else top, top + 0.1 * size if above else top + 2.35 * size
    end, x = near if inside else far, label.left + 0.45 * size
    leader = line(label.x, end, label.item.x, label.item.y, class_="lead")
    return _group(label.item, leader, x, top, label.right - label.left - 0.4 * size, size, press)


def draw_level(
    callouts: Sequence[Callout], bend: float, x: float, top: float, bottom: float, size: float, press: Press | None
) -> str:
    """The labels in a column at `x`, in the order of their spots' heights; leaders leave level and bend once."""
    ordered = sorted(callouts, key=lambda item: (item.y, item.x))
    places = spread([item.y - 1.25 * size for item in ordered], 2.75 * size, top, bottom - 2.5 * size)
    labels = []
    for item, y in zip(ordered, places, strict=True):
        points = f"{number(item.x)},{number(item.y)} {number(bend)},{number(item.y)} {number(x)},{number(y + size)}"
        leader = el("polyline", points=points, class_="lead")
        labels.append(_group(item, leader, x + 0.35 * size, y, item.width(size), size, press))
    return "".join(labels)


def draw_list(callouts: Sequence[Callout], x: float, top: float, size: float, press: Press | None) -> str:
    """Labels one below the other that point nowhere: the whole drawing shows what they tell."""
    return "".join(
        el("g", _label(item, x, top + ROW * size * i, item.width(size), size, press), class_=_look(item))
        for i, item in enumerate(callouts)
    )


def spread(wanted: Sequence[float], apart: float, low: float, high: float) -> list[float]:
    """Places in the order given, each as near to where it is wanted as its neighbours and the two ends allow."""
    places: list[float] = []
    for place in wanted:
        places.append(max(place, places[-1] + apart if places else low))
    edge = high
    for i in reversed(range(len(places))):
        places[i] = min(places[i], edge)
        edge = places[i] - apart
    return places


def _group(item: Callout, leader: str, x: float, top: float, width: float, size: float, press: Press | None) -> str:
    return el("g", leader, _spot(item, size), _label(item, x, top, width, size, press), class_=_look(item))


def _look(item: Callout) -> str:
    return f"callout {item.verdict}".strip()


def _label(item: Callout, x: float, top: float, width: float, size: float, press: Press | None) -> str:
    """Two lines of words, a link where they can be pressed."""
    shift = 1.25 * size if item.marked else 0.0
    words = text(x, top + 0.9 * size, item.words) + verdict_mark(x, top + 1.28 * size, 0.95 * size, item.verdict)
    if not press or not item.key:
        return words + text(x + shift, top + 2.1 * size, item.number, class_="value")
    field = rect(x - 0.2 * size, top - 0.1 * size, x + width, top + 2.6 * size, class_="hit")
    number = el("text", el("tspan", escape(item.number)), x=x + shift, y=top + 2.1 * size, class_="value")
    return el("a", field, words, number, href=press(item.key))


def _spot(item: Callout, size: float) -> str:
    if not item.span:
        return circle(item.x, item.y, size / 9, class_="dot")
    low, high = item.span
    steps = (("M", item.x - size / 3, y, "h", 2 * size / 3) for y in (low, high))
    return path(*(step for tick in steps for step in tick), "M", item.x, low, "V", high, class_="dim")
