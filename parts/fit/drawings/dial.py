"""The dial seen from the front, to scale: what shows through the opening, and what lies behind it.

Angles clockwise from 12 o'clock; x runs to 3 o'clock, y down to 6 o'clock.
"""

from collections.abc import Iterator
from math import cos, radians, sin
from typing import Any

from parts.fit.answer.report import Report
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.checks.feet import on_dial
from parts.fit.drawings.svg import (
    BRASS,
    HAIR,
    INK,
    PAPER,
    SILVER,
    SOFT,
    STEEL,
    circle,
    drawing,
    el,
    line,
    rect,
    scale_bar,
    text,
)
from parts.fit.drawings.window import numerals
from parts.fit.pairing import Pairing
from parts.fit.records import fitted

_EMS = 37.0
"""Width of the drawing in letter heights: the labels are as large on a small watch as on a large one."""
_HAND_LOOK = {"hour": (304.0, "#274b66", 0.55), "minute": (54.0, "#33617f", 0.4), "seconds": (205.0, "#8c3b2e", 0.12)}
"""Where the drawing shows each hand, its colour and half its width: at eight minutes past ten, out of the way."""


def place(angle: float, radius: float) -> tuple[float, float]:
    """Where an angle and a radius lie on the drawing."""
    x, y = on_dial(angle, radius)
    return x, -y


def dial_svg(report: Report, scale: float | None = None) -> str:
    """Opening, window with its numerals, feet and holes, date disc, stem, reach of the hands; empty with none of it."""
    p = report.pairing
    dial = p.dial.diameter.value or p.case.dial_opening_diameter.value or 30.0
    edge = max(filter(None, (p.case.bore_diameter.value, p.case.dial_seat_diameter.value, dial))) / 2 + 1.2
    out = p.case.crown_seat_radius.value or edge
    side = max(edge, out + 3.2)
    size = 2 * side / _EMS
    pieces = "".join([*_case(p), *_dial(p), *_behind(p), *_window(p), *_hands(p), *_feet(report, size)])
    if not pieces:
        return ""
    return drawing(
        -side,
        -side,
        side,
        side + 2 * size,
        pieces,
        scale_bar(-side + 0.5, side + 1.4 * size, 10.0, size),
        title="Dial from the front",
        description=_told(report),
        scale=scale,
        name="dial",
    )


def _told(report: Report) -> str:
    caught = [mark for mark in report.foot_marks if mark.foot is not None]
    feet = report.pairing.dial.feet
    lines = "Dashed lines lie behind the dial."
    return f"{lines} {len(caught)} of {len(feet)} dial feet line up with a hole." if feet else lines


def _half(diameter: Quantity) -> float | None:
    return diameter.value / 2 if diameter.known else None


def _ring(radius: float | None, **look: Any) -> list[str]:
    return [circle(0, 0, radius, fill="none", **look)] if radius is not None else []


def _case(p: Pairing) -> Iterator[str]:
    case = p.case
    outer = case.crown_seat_radius.value
    if outer:
        yield circle(0, 0, outer, fill="#f4f1ea", stroke=HAIR, stroke_width=0.08, stroke_dasharray="0.5 0.35")
    if case.stem_angle.known and outer:
        turn = f"rotate({case.stem_angle.value - 90:.4f})"
        crown = rect(outer, -1.6, outer + 2.6, 1.6, fill=STEEL, stroke=HAIR, stroke_width=0.08, class_="crown")
        yield el("g", crown, transform=turn)
    yield from _ring(_half(case.bore_diameter), stroke=HAIR, stroke_width=0.08, class_="bore")


def _dial(p: Pairing) -> Iterator[str]:
    radius = _half(p.dial.diameter)
    if radius:
        yield circle(0, 0, radius, fill=SILVER, stroke=INK, stroke_width=0.1, class_="dial")
    yield from _ring(_half(p.case.dial_opening_diameter), stroke=INK, stroke_width=0.16, class_="opening")
    for item in p.dial.furniture:
        if item.inner_radius.known and item.outer_radius.known:
            inner, outer = item.inner_radius.value, item.outer_radius.value
            wash = {"stroke": BRASS, "stroke_width": outer - inner, "stroke_opacity": 0.45}
            yield from _ring((inner + outer) / 2, class_="furniture", **wash)
    if p.dial.minute_track_radius.known:
        yield from _minute_track(p.dial.minute_track_radius.value)
    if p.dial.hour_marker_inner_radius.known:
        look = {"stroke": SOFT, "stroke_width": 0.06, "stroke_dasharray": "0.2 0.25"}
        yield from _ring(p.dial.hour_marker_inner_radius.value, class_="hour-markers", **look)


def _minute_track(radius: float) -> Iterator[str]:
    for minute in range(60):
        half = 0.35 if minute % 5 else 0.6
        (x1, y1), (x2, y2) = (place(6 * minute, radius + by) for by in (-half, half))
        yield line(x1, y1, x2, y2, stroke=SOFT, stroke_width=0.08)


def _behind(p: Pairing) -> Iterator[str]:
    """Movement and date disc, in broken lines."""
    look = {"stroke": "#0b5566", "stroke_width": 0.07, "stroke_dasharray": "0.6 0.35"}
    yield from _ring(_half(p.movement.overall_diameter), class_="movement", **look)
    if p.movement.date:
        for radius in (p.movement.date.disc_inner_radius, p.movement.date.disc_outer_radius):
            yield from _ring(radius.value, class_="date-disc", **(look | {"stroke": "#7a4f00"}))
    if p.case.stem_angle.known and p.movement.stem_reference_radius.known:
        (x1, y1), (x2, y2) = (
            place(p.case.stem_angle.value, r)
            for r in (p.movement.stem_reference_radius.value, p.case.crown_seat_radius.value or 18.0)
        )
        yield line(x1, y1, x2, y2, class_="stem", **(look | {"stroke_width": 0.25}))


def _window(p: Pairing) -> Iterator[str]:
    window = p.dial.window
    if not window or not all(q.known for q in (window.angle, window.radius, window.radial, window.tangential)):
        return
    half_x, half_y = window.radial.value / 2, window.tangential.value / 2
    frame = {"stroke": INK, "stroke_width": 0.1}
    inside = [rect(-half_x, -half_y, half_x, half_y, fill=PAPER, class_="window", **frame)]
    if p.date and p.movement.date:
        inside.append(numerals(p.date, p.movement.date, half_x, half_y))
        inside.append(rect(-half_x, -half_y, half_x, half_y, fill="none", **frame))
    turn = f"rotate({window.angle.value - 90:.4f}) translate({window.radius.value:.4f} 0)"
    yield el("g", *inside, transform=turn)


def _feet(report: Report, size: float) -> Iterator[str]:
    p = report.pairing
    for i, foot in enumerate(p.dial.feet or ()):
        if foot.angle.known and foot.radius.known and foot.diameter.known:
            x, y = place(foot.angle.value, foot.radius.value)
            half = foot.diameter.value / 2
            look = {"fill": "#8a5a00", "fill_opacity": 0.55, "stroke": "#7a4f00", "stroke_width": 0.08}
            yield circle(x, y, half, class_="foot", **look)
            yield _beside(
                foot.angle.value, foot.radius.value - 0.7 * size, f"foot {i + 1}", size, "#7a4f00", outwards=False
            )
    for mark, hole in zip(report.foot_marks, p.movement.foot_holes or (), strict=False):
        x, y = place(mark.angle, mark.radius)
        ink = "#a0221a" if mark.foot is None else "#1c6637"
        look = {"stroke": ink, "stroke_width": 0.09}
        if hole.diameter.known:
            yield circle(x, y, hole.diameter.value / 2, fill="none", class_="foot-hole", **look)
        yield el("g", line(x - 0.7, y, x + 0.7, y, **look), line(x, y - 0.7, x, y + 0.7, **look))
        yield _beside(mark.angle, mark.radius + 0.9 * size, f"hole {mark.minute:.1f} min", size, ink, outwards=True)


def _beside(angle: float, radius: float, words: str, size: float, ink: str, *, outwards: bool) -> str:
    """A label beside a place, running away from the dial's middle or towards it."""
    x, y = place(angle, radius)
    anchor = "start" if (x >= 0) is outwards else "end"
    return text(x, y + 0.35 * size, words, size, anchor, fill=ink, halo=0.3 * size)


def _hands(p: Pairing) -> Iterator[str]:
    for name, hand in fitted(p.hands):
        if not hand.length.known:
            continue
        angle, ink, half = _HAND_LOOK[name]
        tail = hand.tail.value if hand.tail.known else 0.0
        dx, dy = half * cos(radians(angle)), half * sin(radians(angle))
        tip, end = place(angle, hand.length.value), place(angle, -tail)
        points = (tip, (dx, dy), end, (-dx, -dy))
        corners = " ".join(f"{x:.4f},{y:.4f}" for x, y in points)
        yield el(
            "polygon", points=corners, fill=ink, fill_opacity=0.75, stroke=INK, stroke_width=0.03, class_=f"hand-{name}"
        )
        yield from _ring(
            hand.length.value, stroke=ink, stroke_width=0.06, stroke_dasharray="0.15 0.5", class_=f"reach-{name}"
        )
    hole = _half(p.dial.centre_hole_diameter)
    if hole:
        yield circle(0, 0, hole, fill=PAPER, stroke=INK, stroke_width=0.08, class_="centre-hole")
    post = _half(p.movement.posts.hour.diameter)
    if post:
        yield circle(0, 0, post, fill=BRASS, stroke=INK, stroke_width=0.05, class_="hour-post")
