"""The dial as the customer will see it: hands to scale in shape and colour, numeral in its window, at any time.

On the customer's own dial where a picture of it is there, measured at true scale; else on a drawn one. Lengths in mm.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape

from parts.fit.answer.report import Report
from parts.fit.drawings.dial import small_hands
from parts.fit.drawings.hand_shapes import outline
from parts.fit.drawings.outline import edge_svg
from parts.fit.drawings.svg import circle, drawing, el, line, number, polygon, rect
from parts.fit.drawings.window import numerals
from parts.fit.levels import widths
from parts.fit.levels.widths import Edge
from parts.fit.pairing import Pairing
from parts.fit.records import SMALL_HANDS, Hand, fitted

TEN_PAST_TEN = 10 * 60 + 9
"""The time that dials are shown at, minutes after midnight."""
_NO_DIAL = 28.0
_RIM = 1.4


@dataclass(frozen=True, slots=True)
class HandLook:
    """Shape and colour of a hand, or its own picture."""

    shape: str = "baton"
    colour: str = "steel"
    picture: "HandPicture | None" = None


@dataclass(frozen=True, slots=True)
class DialPicture:
    """A picture of the dial at true scale: its address, half its side, and where the dial's centre lies in it (mm).

    `twelve` is the direction of 12 o'clock in the picture, degrees clockwise from up.
    """

    address: str
    half: float
    x: float
    y: float
    twelve: float = 0.0


@dataclass(frozen=True, slots=True)
class HandPicture:
    """A hand cut out of its picture: the picture's address and half its side, its outline, its hole, where it points.

    `outline` and `hole` in mm from the picture's middle, x right and y down; `points` in degrees clockwise from up.
    """

    address: str
    half: float
    outline: Sequence[tuple[float, float]]
    hole: tuple[float, float]
    points: float


def look_svg(
    report: Report,
    *,
    minutes: float = TEN_PAST_TEN,
    hands: Mapping[str, HandLook] | None = None,
    picture: DialPicture | None = None,
    mark: str = "",
    scale: float | None = None,
) -> str:
    """The dial from the front at a time of day; empty where neither a dial nor a hand is known.

    `mark` tells it from other drawings of the kind on a page; `scale` is that of a paper.
    """
    p = report.pairing
    opening = _seen(p) is not None
    shown = [name for name, hand in fitted(p.hands) if hand.length.known]
    if not opening and not shown:
        return ""
    radius, side = _nearest(p), look_side(report) / 2
    face = [*_edge(p, class_="look-dial"), *(_pictured(picture) if picture else _drawn(p, radius))]
    return drawing(
        -side,
        -side,
        side,
        side,
        el("defs", el("clipPath", *_edge(p), id=f"look-opening{mark}")),
        circle(0, 0, side, class_="look-case"),
        el(
            "g",
            *face,
            *_window(report),
            clip_path=f"url(#look-opening{mark})",
        ),
        *_edge(p, class_="look-rim"),
        *_hands(p, minutes, hands or {}, mark),
        title="The dial as it will be",
        description="Hands, window and opening to scale.",
        name="look",
        scale=scale,
    )


def came_svg(report: Report, picture: DialPicture, *, mark: str = "", scale: float | None = None) -> str:
    """The watch as it came, from its own picture, at the scale of `look_svg`."""
    side = look_side(report) / 2
    return drawing(
        -side,
        -side,
        side,
        side,
        el("defs", el("clipPath", circle(0, 0, side), id=f"came{mark}")),
        el("g", *_pictured(picture), clip_path=f"url(#came{mark})"),
        title="The watch as it came",
        description="Its own picture, at the same scale.",
        name="look",
        scale=scale,
    )


def look_side(report: Report) -> float:
    """Width and height of the drawings, mm."""
    return 2 * (_radius(report.pairing) + _RIM)


def _seen(p: Pairing) -> Edge | None:
    """What bounds the dial that is seen: the opening, else the dial's own edge; None where neither is measured."""
    edges = (widths.opening(p.sheet), widths.dial(p.sheet))
    return next((edge for edge in edges if all(quantity.known for quantity in edge.numbers)), None)


def _edge(p: Pairing, **look: object) -> list[str]:
    seen = _seen(p)
    return edge_svg(seen, **look) if seen else [circle(0, 0, _NO_DIAL / 2, **look)]


def _radius(p: Pairing) -> float:
    """Half the width of what is seen of the dial at its widest, mm."""
    seen = _seen(p)
    return float(widths.outer(seen).value.value) if seen else _NO_DIAL / 2


def _nearest(p: Pairing) -> float:
    """Where the edge of what is seen is nearest to the middle, mm."""
    seen = _seen(p)
    return float(widths.inner(seen).value.value) if seen else _NO_DIAL / 2


def _pictured(picture: DialPicture) -> Iterator[str]:
    place = {"x": -picture.half - picture.x, "y": -picture.half - picture.y}
    whole = {"width": 2 * picture.half, "height": 2 * picture.half}
    yield el("image", href=picture.address, transform=_turned(-picture.twelve), **place, **whole)


def _drawn(p: Pairing, radius: float) -> Iterator[str]:
    """A plain dial with the marks that were measured: none of a dial that has none."""
    track, inner = p.dial.minute_track_radius, p.dial.hour_marker_inner_radius
    for minute in range(60) if track.known else ():
        turn, outer = f"rotate({6 * minute})", track.value
        if minute % 5 or not inner.known:
            yield line(0, -outer, 0, -outer + 0.04 * radius, transform=turn, class_="look-minute")
        else:
            yield rect(-0.025 * radius, -outer, 0.025 * radius, -inner.value, transform=turn, class_="look-hour")
    yield circle(0, 0, (p.dial.centre_hole_diameter.value or 0.0) / 2, class_="look-hole")


def _window(report: Report) -> Iterator[str]:
    """The numeral in its window, where it is computed."""
    p = report.pairing
    seen, date, window = p.date and p.date.view, p.movement.date, p.dial.window
    if seen is None or not date or not window:
        return
    half_x, half_y = seen.window_radial / 2, seen.window_tangential / 2
    turn = window.angle.value - 90
    place = f"rotate({number(float(turn))}) translate({number(float(seen.window_radius))} 0)"
    frame = rect(-half_x, -half_y, half_x, half_y, class_="look-window")
    yield el(
        "g",
        rect(-half_x, -half_y, half_x, half_y, class_="plate"),
        numerals(seen, date, half_x, half_y),
        frame,
        transform=place,
    )


def turns(minutes: float) -> dict[str, float]:
    """Where each hand points, in degrees clockwise from 12, at minutes after midnight; the seconds hand rests at 35."""
    return {"hour": minutes % 720 / 2, "minute": minutes % 60 * 6, "seconds": 210.0}


def _turned(degrees: float) -> str:
    return f"rotate({number(float(degrees))})"


def _cut_out(picture: HandPicture, name: str) -> Iterator[str]:
    """The picture of a hand inside its outline, pointing up, its hole in the middle."""
    x, y = picture.hole
    place = f"{_turned(-picture.points)} translate({number(float(-x))} {number(float(-y))})"
    whole = {"x": -picture.half, "y": -picture.half, "width": 2 * picture.half, "height": 2 * picture.half}
    yield el("defs", el("clipPath", polygon(*picture.outline), id=name))
    yield el("g", el("image", href=picture.address, clip_path=f"url(#{name})", **whole), transform=place)


def _hands(p: Pairing, minutes: float, looks: Mapping[str, HandLook], mark: str) -> Iterator[str]:
    at = turns(minutes)
    small = looks.get(SMALL_HANDS, HandLook())
    for (x, y), small_hand in small_hands(p):
        turn = f"translate({number(float(x))} {number(float(y))}) {_turned(at['seconds'])}"
        yield _hand("seconds", small_hand, small, data_hand=SMALL_HANDS, transform=turn)
    for name, hand in fitted(p.hands):
        if not hand.length.known:
            continue
        look = looks.get(name, HandLook())
        if look.picture:
            yield el(
                "g", *_cut_out(look.picture, f"look-cut-{name}{mark}"), data_hand=name, transform=_turned(at[name])
            )
            continue
        yield _hand(name, hand, look, data_hand=name, transform=_turned(at[name]))


def _hand(name: str, hand: Hand, look: HandLook, **place: object) -> str:
    tail = hand.tail.value if hand.tail.known else 0.0
    corners = [(x, -y) for x, y in outline(look.shape, name, hand.length.value, tail)]
    hub = (hand.hub_diameter.value if hand.hub_diameter.known else 0.09 * hand.length.value) / 2
    return el("g", polygon(*corners), circle(0, 0, hub), **place, class_=f"look-hand look-{escape(look.colour)}")
