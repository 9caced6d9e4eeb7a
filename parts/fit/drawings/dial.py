"""The dial seen from the front, to scale: what shows through the opening, and what lies behind it.

Angles clockwise from 12 o'clock; x runs to 3 o'clock, y down to 6 o'clock.
"""

from collections.abc import Collection, Iterator
from math import cos, radians, sin

from parts.fit.answer.report import Report
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.checks.feet import on_dial
from parts.fit.drawings.outline import edge_svg
from parts.fit.drawings.svg import circle, drawing, el, line, number, path, polygon, rect, scale_bar, text
from parts.fit.drawings.window import numerals
from parts.fit.levels import widths
from parts.fit.pairing import Pairing
from parts.fit.records import SMALL_HANDS, Hand, SubHand, fitted

_EMS = 28.0
"""Width of the drawing in letter heights: the labels are as large on a small watch as on a large one."""
_LABELLED = 0.47
"""Share of the drawing's half width beyond which a hole's label would run over its edge."""
_HAND_AT = {"hour": (304.0, 0.55), "minute": (54.0, 0.4), "seconds": (205.0, 0.12)}
"""Where the drawing shows each hand and half its width: at eight minutes past ten, out of the way."""


def place(angle: float, radius: float) -> tuple[float, float]:
    """Where an angle and a radius lie on the drawing."""
    x, y = on_dial(angle, radius)
    return x, -y


def dial_svg(report: Report, scale: float | None = None, *, staying: Collection[str] = ()) -> str:
    """Opening, window with its numerals, feet and holes, date disc, stem, reach of the hands; empty with none of it.

    `staying` names the hands that stay with the watch.
    """
    p = report.pairing
    edges = (widths.dial, widths.opening, widths.bore, widths.seat)
    reaches = [widths.outer(edge_of(p.sheet)).value.value for edge_of in edges]
    edge = max((reach for reach in reaches if reach is not None), default=15.0) + 1.2
    out = p.case.crown_seat_radius.value or edge
    side = max(edge, out + 3.2, *(abs(place(mark.angle, mark.radius)[0]) / _LABELLED for mark in report.foot_marks))
    size = 2 * side / _EMS
    pieces = "".join([*_case(p), *_dial(p), *_behind(p), *_windows(p), *_hands(p, staying), *_feet(report, size)])
    if not pieces:
        return ""
    crown = abs(cos(radians(p.case.stem_angle.value or 90.0))) * (out + 2.6) + 1.9
    high = max(edge, out + 0.3, crown)
    return drawing(
        -side,
        -high,
        side,
        high + 2 * size,
        pieces,
        scale_bar(-side + 0.3 * size, high + 1.4 * size, 10.0, size),
        title="Dial from the front",
        description=_told(report),
        scale=scale,
        letters=size,
        name="dial",
    )


def _told(report: Report) -> str:
    caught = [mark for mark in report.foot_marks if mark.foot is not None]
    feet = report.pairing.dial.feet
    lines = "Dashed lines lie behind the dial."
    return f"{lines} {len(caught)} of {len(feet)} dial feet line up with a hole." if feet else lines


def _half(diameter: Quantity) -> float | None:
    return diameter.value / 2 if diameter.known else None


def _ring(radius: float | None, look: str, width: float | None = None) -> list[str]:
    return [circle(0, 0, radius, stroke_width=width, class_=look)] if radius is not None else []


def _case(p: Pairing) -> Iterator[str]:
    case = p.case
    outer = case.crown_seat_radius.value
    is_round = not (case.bore_outline or case.seat_outline or case.opening_outline)
    if outer and is_round:
        yield circle(0, 0, outer, class_="case-outside")
    if case.stem_angle.known and outer:
        crown = rect(outer, -1.6, outer + 2.6, 1.6, class_="crown unknown")
        yield el("g", crown, transform=f"rotate({number(case.stem_angle.value - 90)})")
    yield from edge_svg(widths.bore(p.sheet), class_="bore")


def _dial(p: Pairing) -> Iterator[str]:
    yield from edge_svg(widths.dial(p.sheet), class_="dial")
    yield from edge_svg(widths.opening(p.sheet), class_="opening")
    for subdial in p.dial.subdials:
        if subdial.angle.known and subdial.radius.known and subdial.hole_diameter.known:
            x, y = place(subdial.angle.value, subdial.radius.value)
            yield circle(x, y, subdial.hole_diameter.value / 2, class_="centre-hole subdial")
    for item in p.dial.furniture:
        if item.inner_radius.known and item.outer_radius.known:
            inner, outer = item.inner_radius.value, item.outer_radius.value
            yield from _ring((inner + outer) / 2, "markers", float(outer - inner))
    if p.dial.minute_track_radius.known:
        yield _minute_track(p.dial.minute_track_radius.value)
    if p.dial.hour_marker_inner_radius.known:
        yield from _ring(p.dial.hour_marker_inner_radius.value, "hour-markers")


def _minute_track(radius: float) -> str:
    """The sixty strokes as one path."""
    steps: list[str | float] = []
    for minute in range(60):
        half = 0.35 if minute % 5 else 0.6
        ends = (place(6 * minute, radius + by) for by in (-half, half))
        steps += [
            step for letter, (x, y) in zip("ML", ends, strict=True) for step in (letter, round(x, 2), round(y, 2))
        ]
    return path(*steps, class_="track")


def _behind(p: Pairing) -> Iterator[str]:
    """Movement and date disc, in broken lines."""
    yield from edge_svg(widths.movement(p.sheet), class_="movement-outside")
    for post in p.movement.subsidiary:
        if p.case.stem_angle.known and post.angle.known and post.radius.known and post.diameter.known:
            x, y = place(p.case.stem_angle.value + post.angle.value, post.radius.value)
            yield circle(x, y, post.diameter.value / 2, class_="hour-post small-post")
    if p.movement.date:
        for radius in (p.movement.date.disc_inner_radius, p.movement.date.disc_outer_radius):
            yield from _ring(radius.value, "date-disc")
    if p.case.stem_angle.known and p.movement.stem_reference_radius.known:
        (x1, y1), (x2, y2) = (
            place(p.case.stem_angle.value, r)
            for r in (p.movement.stem_reference_radius.value, p.case.crown_seat_radius.value or 18.0)
        )
        yield line(x1, y1, x2, y2, class_="stem-behind")


def _windows(p: Pairing) -> Iterator[str]:
    """Date window with its numerals, and day window."""
    for window in p.dial.placed_windows:
        half_x, half_y = window.radial.value / 2, window.tangential.value / 2
        is_date = window is p.dial.window
        inside = [rect(-half_x, -half_y, half_x, half_y, class_="plate")] if is_date or not p.movement.day else []
        if is_date and p.date and p.date.view and p.movement.date:
            inside.append(numerals(p.date.view, p.movement.date, half_x, half_y))
        inside.append(rect(-half_x, -half_y, half_x, half_y, class_="window"))
        turn = f"rotate({number(window.angle.value - 90)}) translate({number(float(window.radius.value))} 0)"
        yield el("g", *inside, transform=turn)


def _feet(report: Report, size: float) -> Iterator[str]:
    p = report.pairing
    for i, foot in enumerate(p.dial.feet or ()):
        if foot.angle.known and foot.radius.known and foot.diameter.known:
            x, y = place(foot.angle.value, foot.radius.value)
            yield circle(x, y, foot.diameter.value / 2, class_="foot")
            yield _beside(foot.angle.value, foot.radius.value - 0.7 * size, f"foot {i + 1}", size, outwards=False)
    for mark, hole in zip(report.foot_marks, p.movement.foot_holes or (), strict=False):
        x, y = place(mark.angle, mark.radius)
        if hole.diameter.known:
            yield circle(x, y, hole.diameter.value / 2, class_="foot-hole free" if mark.foot is None else "foot-hole")
        yield path("M", x - 0.7, y, "h", 1.4, "M", x, y - 0.7, "v", 1.4, class_="cross")
        yield _beside(mark.angle, mark.radius + 0.9 * size, f"hole {mark.minute:.1f} min", size, outwards=True)


def _beside(angle: float, radius: float, words: str, size: float, *, outwards: bool) -> str:
    """A label beside a place, running away from the dial's middle or towards it."""
    x, y = place(angle, radius)
    return text(x, y + 0.35 * size, words, anchor="start" if (x >= 0) is outwards else "end", class_="words")


def _small_hands(p: Pairing, staying: Collection[str]) -> Iterator[str]:
    """Each in its subdial, pointing where the seconds hand of the centre does."""
    stays = " kept" if SMALL_HANDS in staying else ""
    for (x, y), hand in small_hands(p):
        corners = needle(hand, *_HAND_AT["seconds"])
        yield polygon(*((x + dx, y + dy) for dx, dy in corners), class_=f"hand hand-small{stays}")
        yield circle(x, y, hand.length.value, class_="reach reach-small")


def small_hands(p: Pairing) -> Iterator[tuple[tuple[float, float], SubHand]]:
    """Where each small hand turns on the drawing, and the hand; only those whose place and length are measured."""
    for small in p.small.values():
        hand, dial = small.hand, small.subdial
        if hand and dial and hand.length.known and dial.angle.known and dial.radius.known:
            yield place(dial.angle.value, dial.radius.value), hand


def needle(hand: Hand, angle: float, half: float) -> tuple[tuple[float, float], ...]:
    """The corners of a hand that points to an angle, its hole in the middle; `half` its width there, mm."""
    tail = hand.tail.value if hand.tail.known else 0.0
    dx, dy = half * cos(radians(angle)), half * sin(radians(angle))
    return place(angle, hand.length.value), (dx, dy), place(angle, -tail), (-dx, -dy)


def _hands(p: Pairing, staying: Collection[str]) -> Iterator[str]:
    yield from _small_hands(p, staying)
    for name, hand in fitted(p.hands):
        if not hand.length.known:
            continue
        corners = needle(hand, *_HAND_AT[name])
        yield polygon(*corners, class_=f"hand hand-{name}{' kept' if name in staying else ''}")
        yield from _ring(hand.length.value, f"reach reach-{name}")
    yield from _ring(_half(p.dial.centre_hole_diameter), "centre-hole")
    yield from _ring(_half(p.movement.posts.hour.diameter), "hour-post")
