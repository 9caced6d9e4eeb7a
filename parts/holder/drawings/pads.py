"""Where dial pads may lie, and the pads to cut, at exactly 1:1; the dial seen from behind, so mirrored."""

from collections.abc import Iterable, Iterator

from parts.fit.answer.report import Report
from parts.fit.drawings.dial import place
from parts.fit.drawings.svg import circle, drawing, el, number, path, text
from parts.fit.records import Window
from parts.holder.drawings.marks import polygon_path
from parts.holder.edges import polygon
from parts.holder.mesh import Outline
from parts.holder.pads import Pad, PadMap

_SIZE = 1.9
"""Height of the letters, mm."""
_APART = 4.0
"""Between two pads to cut, mm."""
_MARGIN = 4.5
"""Round the dial, mm."""


def pad_map_svg(report: Report, free: PadMap, scale: float | None = 1) -> str:
    """The dial's back with the free area, what must stay clear of it, and the pads in their places."""
    dial = free.dial
    [around] = _mirrored([polygon(dial)])
    (left, top), (right, bottom) = around.min(axis=0), around.max(axis=0)
    return drawing(
        float(left) - _MARGIN,
        float(top) - _MARGIN,
        float(right) + _MARGIN,
        float(bottom) + _MARGIN,
        circle(0, 0, dial.width / 2, class_="outline")
        if dial.shape == "round"
        else polygon_path([around], class_="outline"),
        polygon_path(_mirrored(free.outlines), class_="pad-room"),
        *_in_the_way(report),
        polygon_path(_mirrored(pad.outline for pad in free.pads), class_="made"),
        *(_number(pad, str(i)) for i, pad in enumerate(free.pads, 1)),
        text(0, float(top) - 0.8 * _SIZE, "12", anchor="middle"),
        title="Where dial pads may lie",
        description=f"The dial from behind, at 1:1. {len(free.pads)} pads, clear of the date disc, the feet, the foot "
        "holes, the windows and the middle.",
        scale=scale,
        letters=_SIZE,
        name="pad-map",
    )


def pads_svg(free: PadMap, scale: float | None = 1) -> str:
    """The pads side by side, each with its middle up, to cut out; empty where there are none."""
    drawn, x, low = [], _APART, 0.0
    for i, pad in enumerate(free.pads, 1):
        [upright] = _mirrored([_turned(pad)])
        (left, top), (right, bottom) = upright.min(axis=0), upright.max(axis=0)
        wide, high = float(right - left), float(bottom - top)
        middle, low = x + wide / 2, max(low, high)
        drawn.append(polygon_path([upright - (left - x, top)], class_="made"))
        drawn.append(text(middle, high + 1.3 * _SIZE, f"pad {i}", anchor="middle"))
        drawn.append(text(middle, high + 2.5 * _SIZE, f"{pad.area:.1f} mm²", anchor="middle", class_="soft"))
        x += wide + _APART
    if not drawn:
        return ""
    return drawing(
        0.0,
        -0.5,
        x,
        low + 3.2 * _SIZE,
        *drawn,
        title="Dial pads to cut",
        description="Each pad as it lies on the back of the dial, its middle up, at 1:1.",
        scale=scale,
        letters=_SIZE,
        name="pads",
    )


def _mirrored(outlines: Iterable[Outline]) -> list[Outline]:
    return [outline * (-1.0, 1.0) for outline in outlines]


def _turned(pad: Pad) -> Outline:
    """The pad's outline turned about the dial's middle until its own middle is at 12 o'clock."""
    across, down = place(90.0 - pad.angle, 1.0), place(180.0 - pad.angle, 1.0)
    return pad.outline @ [across, down]


def _number(pad: Pad, words: str) -> str:
    x, y = pad.centre
    return text(-x, y + 0.35 * _SIZE, words, anchor="middle")


def _in_the_way(report: Report) -> Iterator[str]:
    p = report.pairing
    if p.movement.date:
        for size in (p.movement.date.disc_inner_radius, p.movement.date.disc_outer_radius):
            if size.known:
                yield circle(0, 0, size.value, class_="date-disc")
    if p.dial.centre_hole_diameter.known:
        yield circle(0, 0, p.dial.centre_hole_diameter.value / 2, class_="outline")
    for foot in p.dial.feet or ():
        if foot.angle.known and foot.radius.known and foot.diameter.known:
            x, y = place(foot.angle.value, foot.radius.value)
            yield circle(-x, y, foot.diameter.value / 2, class_="foot")
    for mark, hole in zip(report.foot_marks, p.movement.foot_holes or (), strict=False):
        x, y = place(mark.angle, mark.radius)
        if hole.diameter.known:
            yield circle(-x, y, hole.diameter.value / 2, class_="foot-hole")
        yield path("M", -x - 1.0, y, "h", 2.0, "M", -x, y - 1.0, "v", 2.0, class_="foot-mark")
    yield from map(_window, p.dial.placed_windows)


def _window(window: Window) -> str:
    half = window.radial.value / 2, window.tangential.value / 2
    box = path("M", -half[0], -half[1], "h", 2 * half[0], "v", 2 * half[1], "h", -2 * half[0], "Z", class_="window")
    turn = f"scale(-1 1) rotate({number(window.angle.value - 90)}) translate({number(float(window.radius.value))} 0)"
    return el("g", box, transform=turn)
