"""The dial-foot placement template: where new feet go on the back of a dial, for printing at exactly 1:1."""

from collections.abc import Iterator

from parts.fit.answer.report import Report
from parts.fit.checks.feet import FootMark
from parts.fit.drawings.dial import place
from parts.fit.drawings.svg import circle, drawing, line, path, text
from parts.fit.pairing import Pairing
from parts.fit.records import FootHole

CONTROL = 20.0
"""Length of the control bar, mm: measured on the print it says whether the printer kept the scale."""


def foot_template_svg(report: Report, scale: float | None = 1) -> str:
    """The dial seen from behind, so mirrored: edge, centre, stem, and the movement's foot holes with their numbers."""
    p = report.pairing
    radius = (p.dial.diameter.value or 30.0) / 2
    side = radius + 9.0
    holes = zip(report.foot_marks, p.movement.foot_holes or (), strict=False)
    return drawing(
        -side,
        -side,
        side,
        side + 8.0,
        *_dial(p, radius),
        *(piece for mark, hole in holes for piece in _hole(mark, hole)),
        *_control_bar(-CONTROL / 2, side + 5.0),
        title="Dial-foot placement template",
        description="The dial from behind, at 1:1. The crosses are the movement's foot holes.",
        scale=scale,
        letters=1.8,
        name="foot-template",
    )


def _mirrored(angle: float, radius: float) -> tuple[float, float]:
    x, y = place(angle, radius)
    return -x, y


def _dial(p: Pairing, radius: float) -> Iterator[str]:
    yield circle(0, 0, radius, class_="outline")
    yield line(-radius - 1.5, 0, radius + 1.5, 0, class_="centre-line")
    yield line(0, -radius - 1.5, 0, radius + 1.5, class_="centre-line")
    hole = p.dial.centre_hole_diameter
    if hole.known:
        yield circle(0, 0, hole.value / 2, class_="outline")
    yield text(0, -radius - 2.2, "12", 2.2, "middle")
    if p.case.stem_angle.known:
        (x1, y1), (x2, y2) = (_mirrored(p.case.stem_angle.value, r) for r in (radius, radius + 4.0))
        yield line(x1, y1, x2, y2, class_="stem-line")
        x, y = _mirrored(p.case.stem_angle.value, radius + 6.5)
        yield text(x, y + 0.7, "stem", 2.0, "middle")


def _hole(mark: FootMark, hole: FootHole) -> Iterator[str]:
    x, y = _mirrored(mark.angle, mark.radius)
    if hole.diameter.known:
        yield circle(x, y, hole.diameter.value / 2, class_="foot-hole")
    yield path("M", x - 1.5, y, "h", 3.0, "M", x, y - 1.5, "v", 3.0, class_="foot-mark")
    yield text(x, y + 3.6, f"{mark.minute:.2f} min, r {mark.radius:.2f}", anchor="middle")


def _control_bar(x: float, y: float) -> Iterator[str]:
    yield line(x, y, x + CONTROL, y, class_="control-bar")
    yield from (line(at, y - 1.0, at, y + 1.0, class_="dim") for at in (x, x + CONTROL))
    yield text(0, y - 1.2, f"{CONTROL:g} mm: measure this on the print before you use it", anchor="middle")
