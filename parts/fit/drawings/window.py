"""The date window close up, turned as the customer will see it, with the slivers of the neighbouring numerals."""

from math import cos, radians, sin

from parts.fit.answer.report import Report
from parts.fit.checks.date import PITCH, box
from parts.fit.drawings.svg import INK, PAPER, SILVER, VERDICT_INK, circle, drawing, el, rect, scale_bar, text
from parts.fit.pairing import DateView
from parts.fit.records import DateDisc

_SHOWN = 17
"""The numeral drawn in the window; the neighbours follow from it."""
_DIGIT_HEIGHT, _DIGITS_WIDTH = 0.7, 1.2
"""Height and width of two digits of the sans face, in em."""


def window_svg(report: Report, scale: float | None = None) -> str:
    """The window with its numerals; empty where dial and movement do not both have a date that is fully measured."""
    p = report.pairing
    seen, date, window = p.date, p.movement.date, p.dial.window
    if seen is None or not date or not window:
        return ""
    half_x, half_y = seen.window_radial / 2, seen.window_tangential / 2
    reach = max(half_x, half_y) * 1.55
    turn = window.angle.value - 90
    frame = {"stroke": INK, "stroke_width": 0.03}
    picture = el(
        "g",
        rect(-half_x, -half_y, half_x, half_y, fill=PAPER),
        numerals(seen, date, half_x, half_y),
        _ghosts(seen),
        rect(-half_x, -half_y, half_x, half_y, fill="none", class_="window", **frame),
        circle(0, 0, 0.05, fill=VERDICT_INK["no"]),
        transform=f"rotate({turn:.4f})",
    )
    size = 0.12 * reach
    place = {"x": -reach, "y": -reach, "width": 2 * reach, "height": 2 * reach}
    frame_of_view = f"{-reach:.4f} {-reach:.4f} {2 * reach:.4f} {2 * reach:.4f}"
    return drawing(
        -reach,
        -reach,
        reach,
        reach + 2 * size,
        circle(0, 0, reach * 0.98, fill=SILVER),
        el("svg", picture, viewBox=frame_of_view, overflow="hidden", **place),
        scale_bar(-reach + 0.1, reach + 1.7 * size, 1.0, size),
        title="The date as it will show",
        description=_told(report),
        scale=scale,
        name="window",
    )


def _told(report: Report) -> str:
    keys = ("date-tilt", "date-position", "date-cut", "date-neighbours")
    return " ".join(report[key].sentence for key in keys)


def numerals(seen: DateView, date: DateDisc, half_x: float, half_y: float) -> str:
    """The shown numeral and its neighbours in the window's frame, cut off at the window's edge."""
    inside = "".join(_numeral(seen, date, j) for j in (-1, 0, 1))
    view = f"{-half_x:.4f} {-half_y:.4f} {2 * half_x:.4f} {2 * half_y:.4f}"
    edge = {"x": -half_x, "y": -half_y, "width": 2 * half_x, "height": 2 * half_y}
    return el("svg", inside, viewBox=view, overflow="hidden", **edge)


def _numeral(seen: DateView, date: DateDisc, j: int) -> str:
    a = seen.offset + j * PITCH
    x = seen.numeral_radius * cos(radians(a)) - seen.window_radius
    y = seen.numeral_radius * sin(radians(a))
    printed = -date.angle.value
    wide, high = seen.numeral_radial, seen.numeral_tangential
    if abs(sin(radians(printed))) > cos(radians(45)):
        wide, high = high, wide
    fit = f"scale({wide / _DIGITS_WIDTH:.4f} {high / _DIGIT_HEIGHT:.4f})"
    digits = text(0, _DIGIT_HEIGHT / 2, str(_SHOWN + j), 1.0, transform=fit, class_="numeral", font_weight="600")
    return el("g", digits, transform=f"translate({x:.4f} {y:.4f}) rotate({a + printed:.4f})")


def _ghosts(seen: DateView) -> str:
    """The outlines of the printed boxes, also where the dial hides them."""
    outlines = []
    for j in (-1, 0, 1):
        corners = box(
            j, seen.offset, seen.numeral_radius, seen.numeral_radial, seen.numeral_tangential, seen.window_radius
        )
        points = " ".join(f"{x:.4f},{y:.4f}" for x, y in corners)
        look = {"fill": "none", "stroke": VERDICT_INK["unclear"], "stroke_width": 0.02, "stroke_dasharray": "0.08 0.06"}
        outlines.append(el("polygon", points=points, class_="numeral-box", **look))
    return "".join(outlines)
