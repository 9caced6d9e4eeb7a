"""The dial-foot placement template: where new feet go on the back of a dial, for printing at exactly 1:1."""

from parts.fit.drawings.dial import place
from parts.fit.drawings.svg import HAIR, INK, circle, drawing, el, line, text

CONTROL = 20.0
"""Length of the control bar, mm: measured on the print it says whether the printer kept the scale."""


def foot_template_svg(report, scale=1):
    """The dial seen from behind, so mirrored: edge, centre, stem, and the movement's foot holes with their numbers."""
    p = report.pairing
    radius = (p.dial.diameter.value or 30.0) / 2
    side = radius + 9.0
    return drawing(
        -side,
        -side,
        side,
        side + 8.0,
        *_dial(p, radius),
        *(piece for i, mark in enumerate(report.foot_marks) for piece in _hole(p, i, mark)),
        *_control_bar(-CONTROL / 2, side + 5.0),
        title="Dial-foot placement template",
        description="The dial from behind, at 1:1. The crosses are the movement's foot holes.",
        scale=scale,
        name="foot-template",
    )


def _mirrored(angle, radius):
    x, y = place(angle, radius)
    return -x, y


def _dial(p, radius):
    thin = {"stroke": INK, "stroke_width": 0.12}
    yield circle(0, 0, radius, fill="none", class_="dial", **thin)
    yield line(-radius - 1.5, 0, radius + 1.5, 0, stroke=HAIR, stroke_width=0.08)
    yield line(0, -radius - 1.5, 0, radius + 1.5, stroke=HAIR, stroke_width=0.08)
    hole = p.dial.centre_hole_diameter
    if hole.known:
        yield circle(0, 0, hole.value / 2, fill="none", **thin)
    yield text(0, -radius - 2.2, "12", 2.2)
    if p.case.stem_angle.known:
        (x1, y1), (x2, y2) = (_mirrored(p.case.stem_angle.value, r) for r in (radius, radius + 4.0))
        yield line(x1, y1, x2, y2, stroke=INK, stroke_width=0.5)
        x, y = _mirrored(p.case.stem_angle.value, radius + 6.5)
        yield text(x, y + 0.7, "stem", 2.0)


def _hole(p, i, mark):
    x, y = _mirrored(mark.angle, mark.radius)
    look = {"stroke": INK, "stroke_width": 0.1}
    diameter = p.movement.foot_holes[i].diameter
    if diameter.known:
        yield circle(x, y, diameter.value / 2, fill="none", class_="foot-hole", **look)
    yield el("g", line(x - 1.5, y, x + 1.5, y, **look), line(x, y - 1.5, x, y + 1.5, **look), class_="foot-mark")
    yield text(x, y + 3.6, f"{mark.minute:.2f} min, r {mark.radius:.2f}", 1.7, halo=0.4)


def _control_bar(x, y):
    look = {"stroke": INK, "stroke_width": 0.15}
    yield line(x, y, x + CONTROL, y, class_="control-bar", **look)
    yield from (line(at, y - 1.0, at, y + 1.0, **look) for at in (x, x + CONTROL))
    yield text(0, y - 1.2, f"{CONTROL:g} mm: measure this on the print before you use it", 1.8)
