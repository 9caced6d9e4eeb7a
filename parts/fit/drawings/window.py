"""The date window close up, turned as the customer will see it: numerals, disc edges, what the dial hides."""

from collections.abc import Iterator
from math import cos, radians, sin

from parts.fit.answer.report import Report
from parts.fit.checks.window import PITCH, box
from parts.fit.drawings.callouts import Callout, Press, draw_list
from parts.fit.drawings.svg import circle, drawing, el, number, polygon, rect, scale_bar, text
from parts.fit.pairing import DateView
from parts.fit.records import DateDisc
from parts.fit.units import with_unit

_SHOWN = 17
"""The numeral drawn in the window; the neighbours follow from it."""
_DIGIT_HEIGHT, _DIGITS_WIDTH = 0.7, 1.2
"""Height and width of two digits of the sans face, in em."""
_EMS = 28.0
_LABELS = {
    "date-position": "off the window's centre",
    "date-tilt": "tilt",
    "date-cut": "hidden by the edge",
    "date-neighbours": "sliver of a neighbour",
    "date-disc": "plate beside the disc",
}
"""The checks that are told beside the window."""


def window_svg(report: Report, scale: float | None = None, *, press: Press | None = None, plain: bool = False) -> str:
    """The window with its numerals; empty where dial and movement do not both have a date that is fully measured.

    `plain` is for the customer: what will be seen, without outlines of what is hidden, without numbers.
    """
    p = report.pairing
    seen, date, window = p.date and p.date.view, p.movement.date, p.dial.window
    if seen is None or not date or not window:
        return ""
    half_x, half_y = seen.window_radial / 2, seen.window_tangential / 2
    reach = max(half_x, half_y) * (1.25 if plain else 1.55)
    size = 2 * reach / (_EMS - 13.0)
    turn = window.angle.value - 90
    picture = el(
        "g",
        rect(-half_x, -half_y, half_x, half_y, class_="plate"),
        numerals(seen, date, half_x, half_y),
        "" if plain else el("g", *_outlines(seen, date)),
        rect(-half_x, -half_y, half_x, half_y, class_="window"),
        "" if plain else circle(0, 0, 0.05, class_="dot"),
        transform=f"rotate({number(float(turn))})",
    )
    place = {"x": -reach, "y": -reach, "width": 2 * reach, "height": 2 * reach}
    frame_of_view = " ".join(number(float(end)) for end in (-reach, -reach, 2 * reach, 2 * reach))
    face = rect(-reach, -reach, reach, reach, class_="face")
    close_up = el("svg", face, picture, viewBox=frame_of_view, overflow="hidden", **place)
    beside = (
        draw_list(_labels(report), reach + size, -0.9 * reach, size, press),
        scale_bar(-reach + 0.1, reach + 1.6 * size, 1.0, size),
    )
    return drawing(
        -reach,
        -reach,
        reach + (0.0 if plain else 13.0 * size),
        reach + (0.0 if plain else 2 * size),
        close_up,
        *(() if plain else beside),
        title="The date as it will show",
        description="" if plain else _told(report),
        scale=scale,
        letters=size,
        pressable=press is not None,
        name="window",
    )


def _labels(report: Report) -> list[Callout]:
    """The numbers that stand beside the window: four at most, the worst of them."""
    checks = {check.key: check for check in report.checks if check.key in _LABELS and check.value.known}
    worst = sorted(checks.values(), key=lambda check: -check.rank)[:4]
    named = [check for check in checks.values() if check in worst]
    return [
        Callout(
            0.0, 0.0, _LABELS[check.key], with_unit(check.value.value, check.unit), str(check.verdict), key=check.key
        )
        for check in named
    ]


def _told(report: Report) -> str:
    keys = ("date-tilt", "date-position", "date-cut", "date-neighbours")
    return " ".join(report[key].sentence for key in keys)


def numerals(seen: DateView, date: DateDisc, half_x: float, half_y: float) -> str:
    """The disc with the shown numeral and its neighbours in the window's frame, cut off at the window's edge."""
    inside = _disc(seen, date) + "".join(_numeral(seen, date, j) for j in (-1, 0, 1))
    view = " ".join(number(float(end)) for end in (-half_x, -half_y, 2 * half_x, 2 * half_y))
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
    fit = f"scale({number(wide / _DIGITS_WIDTH)} {number(high / _DIGIT_HEIGHT)})"
    digits = text(0, _DIGIT_HEIGHT / 2, str(_SHOWN + j), 1.0, "middle", transform=fit, class_="numeral")
    return el("g", digits, transform=f"translate({number(x)} {number(y)}) rotate({number(a + printed)})")


def _disc(seen: DateView, date: DateDisc) -> str:
    """The disc between its edges, as a ring about the dial's centre; empty where an edge is not measured."""
    inner, outer = date.disc_inner_radius, date.disc_outer_radius
    if not (inner.known and outer.known):
        return ""
    width = float(outer.value - inner.value)
    return circle(-seen.window_radius, 0, (inner.value + outer.value) / 2, stroke_width=width, class_="disc")


def _outlines(seen: DateView, date: DateDisc) -> Iterator[str]:
    """What the dial hides: the edges of the disc and the outlines of the printed boxes."""
    for radius in (date.disc_inner_radius, date.disc_outer_radius):
        if radius.known:
            yield circle(-seen.window_radius, 0, radius.value, class_="disc-edge")
    for j in (-1, 0, 1):
        corners = box(
            j, seen.offset, seen.numeral_radius, seen.numeral_radial, seen.numeral_tangential, seen.window_radius
        )
        yield polygon(*corners, class_="numeral-box")
