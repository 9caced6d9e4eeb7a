"""The dial-foot placement template at exactly 1:1: where new feet go on the back of a dial, to read and to cut out.

The dial is seen from behind, so it is mirrored: minutes run against the clock.
"""

from collections.abc import Iterator, Sequence

from parts.fit.answer.report import Report
from parts.fit.arithmetic.quantities import missing_of
from parts.fit.checks.feet import FootMark
from parts.fit.drawings.callouts import spread
from parts.fit.drawings.dial import place
from parts.fit.drawings.outline import edge_svg
from parts.fit.drawings.svg import circle, drawing, el, line, path, text
from parts.fit.levels import widths
from parts.fit.pairing import Pairing
from parts.fit.records import FootHole

CONTROL = 20.0
"""Length of each control bar, mm: measured on the print it says whether the printer kept the scale."""
_SIZE = 1.9
"""Height of the letters, mm."""
_RING = 0.5, 1.1, 1.7
"""Where the minute ring begins outside the dial, and ends at a minute and at every fifth, mm."""
_COLUMN = 25.0
"""Width of a column of labels beside the ring, mm."""


def foot_template_svg(report: Report, scale: float = 1) -> str:
    """The template to read: edge, minute ring, centre, stem, foot holes with labels beside them, two control bars.

    Empty where the dial's edge is not measured: it is what the template is laid on by.
    """
    if not_measured(report):
        return ""
    radius = _radius(report.pairing)
    outer = radius + 6.5
    side, low = outer + _COLUMN, outer + 7.0
    return drawing(
        -side,
        -outer - 1.0,
        side,
        low,
        *_dial(report.pairing, radius),
        *_ring(radius),
        *(piece for mark, hole in _holes(report) for piece in _hole(mark, hole)),
        *_labels(report, outer),
        *_control_bars(-side + 1.5, low - 2.0),
        title="Dial-foot placement template",
        description="The dial from behind, at 1:1. The crosses are the movement's foot holes, with a ring of minutes.",
        scale=scale,
        letters=_SIZE,
        name="foot-template",
    )


def foot_marks_svg(report: Report) -> str:
    """The same for the screen, at no scale: the crosses have numbers, and what they are stands beside the drawing."""
    if not_measured(report):
        return ""
    p = report.pairing
    radius = _radius(p)
    side = radius + 4.8
    numbers = [(*_mirrored(mark.angle, mark.radius), str(i)) for i, mark in enumerate(report.foot_marks, 1)]
    return drawing(
        -side,
        -side,
        side,
        side,
        *_dial(p, radius),
        *_ring(radius),
        *(piece for mark, hole in _holes(report) for piece in _hole(mark, hole)),
        *(text(x + 1.2, y - 1.0, number, class_="value") for x, y, number in numbers),
        title="The dial from behind",
        description="The numbered crosses are the movement's foot holes, with a ring of minutes.",
        scale=None,
        letters=_SIZE,
        name="foot-marks",
    )


def foot_cutting_svg(report: Report, scale: float | None = 1) -> str:
    """The copy to cut out along its edge and lay on the dial's back: crosses, minutes inside the edge, stem."""
    if not_measured(report):
        return ""
    p = report.pairing
    side = _radius(p) + 1.0
    radius = float(widths.inner(widths.dial(p.sheet)).value.value)
    marks = [_ray(6 * minute, radius - (1.4 if minute % 15 else 2.4), radius) for minute in range(0, 60, 5)]
    return drawing(
        -side,
        -side,
        side,
        side,
        *_dial(p, side - 1.0),
        path(*(step for mark in marks for step in mark), class_="track"),
        text(0, -radius + 4.6, "12", anchor="middle"),
        text(0, 4.6, "back of the dial", anchor="middle", class_="soft"),
        *(piece for mark, hole in _holes(report) for piece in _hole(mark, hole)),
        title="Copy to cut out",
        description="The same template without labels, at 1:1, to lay on the back of the dial.",
        scale=scale,
        letters=_SIZE,
        name="foot-cutting",
    )


def not_measured(report: Report) -> tuple[str, ...]:
    """The paths of what lacks of the dial's edge."""
    return missing_of(*widths.dial(report.pairing.sheet).numbers)


def across(report: Report) -> tuple[float, float]:
    """How far the dial reaches from 9 to 3 and from 12 to 6 o'clock, mm; its edge is measured."""
    edge = widths.dial(report.pairing.sheet)
    outline = edge.shape(tuple(quantity.value for quantity in edge.numbers))
    if outline.shape != "polyline":
        return float(outline.width), float(outline.height)
    along_x, along_y = zip(*outline.points, strict=True)
    return max(along_x) - min(along_x), max(along_y) - min(along_y)


def _radius(p: Pairing) -> float:
    """The farthest that the dial's edge is from the middle, mm."""
    return float(widths.outer(widths.dial(p.sheet)).value.value)


def _holes(report: Report) -> list[tuple[FootMark, FootHole]]:
    return list(zip(report.foot_marks, report.pairing.movement.foot_holes or (), strict=False))


def _mirrored(angle: float, radius: float) -> tuple[float, float]:
    x, y = place(angle, radius)
    return -x, y


def _ray(angle: float, inner: float, outer: float) -> list[str | float]:
    return ["M", *_mirrored(angle, inner), "L", *_mirrored(angle, outer)]


def _dial(p: Pairing, radius: float) -> Iterator[str]:
    yield el("g", *edge_svg(widths.dial(p.sheet), class_="outline"), transform="scale(-1 1)")
    for x, y in ((radius, 0.0), (0.0, radius)):
        yield line(-x, -y, x, y, class_="centre-line")
    hole = p.dial.centre_hole_diameter
    if hole.known:
        yield circle(0, 0, hole.value / 2, class_="outline")
    if p.case.stem_angle.known:
        yield path(*_ray(p.case.stem_angle.value, radius - 3.0, radius), class_="stem-line")


def _ring(radius: float) -> Iterator[str]:
    """Sixty strokes outside the dial, with their numbers every five minutes."""
    start, short, long = (radius + by for by in _RING)
    strokes = [_ray(6 * minute, start, short if minute % 5 else long) for minute in range(60)]
    yield path(*(step for stroke in strokes for step in stroke), class_="track")
    for minute in range(5, 61, 5):
        x, y = _mirrored(6 * minute, long + 1.4)
        yield text(x, y + 0.35 * _SIZE, str(minute), anchor="middle")


def _hole(mark: FootMark, hole: FootHole) -> Iterator[str]:
    x, y = _mirrored(mark.angle, mark.radius)
    if hole.diameter.known:
        yield circle(x, y, hole.diameter.value / 2, class_="foot-hole")
    yield path("M", x - 1.5, y, "h", 3.0, "M", x, y - 1.5, "v", 3.0, class_="foot-mark")


def _labels(report: Report, outer: float) -> Iterator[str]:
    """Labels in a column on either side, off the dial and its ring, each with a line to its cross."""
    spots = [
        (*_mirrored(mark.angle, mark.radius), f"hole {i}", f"{mark.minute:.2f} min, r {mark.radius:.2f} mm")
        for i, mark in enumerate(report.foot_marks, 1)
    ]
    if report.pairing.case.stem_angle.known:
        spots.append((*_mirrored(report.pairing.case.stem_angle.value, _radius(report.pairing)), "stem", ""))
    for sign in (-1, 1):
        column = sorted((spot for spot in spots if (spot[0] >= 0) == (sign > 0)), key=lambda spot: spot[1])
        heights = spread([spot[1] for spot in column], 3.0 * _SIZE, -outer + _SIZE, outer - 2 * _SIZE)
        yield from _column(column, heights, sign, outer)


def _column(
    spots: Sequence[tuple[float, float, str, str]], heights: Sequence[float], sign: int, outer: float
) -> Iterator[str]:
    anchor = "start" if sign > 0 else "end"
    for (x, y, name, numbers), height in zip(spots, heights, strict=True):
        yield path("M", x, y, "L", sign * (outer + 0.3), height, class_="lead")
        at = sign * (outer + 0.7)
        yield text(at, height + (0.35 if not numbers else -0.2) * _SIZE, name, anchor=anchor, class_="value")
        if numbers:
            yield text(at, height + 0.95 * _SIZE, numbers, anchor=anchor, class_="words")


def _control_bars(x: float, y: float) -> Iterator[str]:
    """One bar across the sheet and one along it: a printer may stretch either."""
    yield path("M", x, y - CONTROL, "V", y, "H", x + CONTROL, class_="control-bar")
    yield path("M", x - 1.0, y - CONTROL, "h", 2.0, "M", x + CONTROL, y - 1.0, "v", 2.0, class_="dim")
    yield text(x + 1.5, y - 0.8 * _SIZE, f"{CONTROL:.2f} mm each way", anchor="start")
