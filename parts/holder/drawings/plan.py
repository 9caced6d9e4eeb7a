"""The piece seen from the dial side, 12 o'clock up: what looks at the dial solid, the back broken."""

from collections.abc import Iterator

from parts.fit.drawings.svg import circle, drawing, line, scale_bar
from parts.holder.body import nubs
from parts.holder.drawings.marks import Labels, across, outline_path
from parts.holder.findings.design import Design
from parts.holder.mesh import Outline, level
from parts.holder.outline import circles_of, trace
from parts.holder.parameters import Piece, Ring
from parts.holder.shapes import direction
from parts.holder.surroundings import Surroundings

_EMS = 46.0
"""Width of the drawing in letter heights."""


def plan_svg(design: Design, around: Surroundings | None = None, scale: float | None = None) -> str:
    """The plan with the dimensions that lie in it."""
    p = design.parameters
    outer = max(p.outside_diameter / 2, *(abs(x) for ring in level(design.solid, p.height / 2) for x in ring.ravel()))
    size = 2 * outer * 1.65 / _EMS
    labels = _labels(p, size, outer)
    bounds = labels.bounds or (-outer, -outer, outer, outer)
    left, right = min(bounds[0] - size, -1.6 * outer), max(bounds[2] + size, 1.6 * outer)
    low = max(bounds[3], outer) + 2.4 * size
    rows = _diameters(p)
    dims = "".join(
        across(-d / 2, d / 2, low + 1.9 * size * i, f"{words} ⌀{d:.2f}", size, foot=0.0)
        for i, (words, d) in enumerate(rows)
    )
    bottom = low + 1.9 * size * len(rows) + 1.4 * size
    return drawing(
        left,
        min(bounds[1], -outer) - size,
        right,
        bottom,
        dims,
        *_pieces(design, around, outer),
        *labels.drawn,
        scale_bar(left + size, bottom - 0.5 * size, 5.0, size),
        title=f"Plan of the {'ring' if isinstance(p, Ring) else 'spacer'} from the dial side",
        description=f"12 o'clock up. Outside {p.outside_diameter:.2f} mm, inside {p.inside_diameter:.2f} mm. "
        "Dashed lines are on the back or inside the wall.",
        scale=scale,
        letters=size,
        name="plan",
    )


def plan_levels(design: Design) -> list[tuple[str, list[Outline]]]:
    """The outlines that a plan is drawn of: (layer, outlines) for the dial side, the back, and the stem's height."""
    p, solid = design.parameters, design.solid
    if not isinstance(p, Ring):
        return [("dial-side", level(solid, p.height / 2))]
    levels = [("dial-side", level(solid, p.chamfer + 0.01)), ("back", level(solid, p.height - p.chamfer - 0.01))]
    if p.channel_open == "closed" and 0 < p.channel_axis < p.height:
        levels.append(("stem-axis", level(solid, p.channel_axis)))
    return levels


def _pieces(design: Design, around: Surroundings | None, outer: float) -> Iterator[str]:
    p, circles = design.parameters, circles_of(design.parameters)
    traced = {name: [trace(ring, circles) for ring in rings] for name, rings in plan_levels(design)}
    if around is not None and around.bore.known and around.bore.value / 2 <= 1.05 * outer:
        yield circle(0, 0, around.bore.value / 2, class_="bore")
    yield outline_path(traced.pop("dial-side"), class_="made dial-side")
    for name, outlines in traced.items():
        yield outline_path(outlines, class_=name)
    for foot_angle, radius, diameter in around.feet if around is not None else ():
        x, y = direction(foot_angle)
        yield circle(x * radius, y * radius, diameter / 2, class_="foot")
    for pin in nubs(p) if isinstance(p, Ring) else ():
        x, y = (pin.radius * part for part in direction(pin.angle))
        yield circle(x, y, pin.diameter / 2, class_="nub")
    for end in ((outer * 1.06, 0.0), (0.0, outer * 1.06)):
        yield line(-end[0], -end[1], *end, class_="centre-line")


def _diameters(p: Piece) -> list[tuple[str, float]]:
    rows = [("inside", p.inside_diameter)]
    if isinstance(p, Ring):
        rows += [("inner step", p.flange_diameter)] if p.flange_diameter else []
        rows += [("outer step", p.nose_diameter)] if p.nose_diameter else []
    return [*rows, ("outside", p.outside_diameter)]


def _labels(p: Piece, size: float, edge: float) -> Labels:
    labels = Labels(size, edge)
    outer, inner = p.outside_diameter / 2, p.inside_diameter / 2

    def at(angle: float, radius: float, words: str, number: str) -> None:
        x, y = direction(angle)
        labels.add(x * radius, y * radius, words, number)

    if not isinstance(p, Ring):
        for notch in p.notches:
            if inner - notch.diameter / 2 < notch.radius < outer + notch.diameter / 2:
                at(notch.angle, notch.radius, notch.name or "notch", f"⌀{notch.diameter:.2f} at {notch.angle:g}°")
        if p.split_width:
            at(p.split_angle, outer, "split", f"{p.split_width:.2f} at {p.split_angle:g}°")
        return labels
    at(p.channel_angle, outer, "stem channel", f"{p.channel_width:.2f} at {p.channel_angle:g}°")
    for pin in list(nubs(p))[:1]:
        at(pin.angle, pin.radius, f"{int(p.nub_count)} nubs", f"⌀{p.nub_diameter:.2f}, first {p.nub_angle:g}°")
    if p.notch_width:
        at(p.notch_angle, outer, "finger notch", f"{p.notch_width:.2f} at {p.notch_angle:g}°")
    for cut in p.cutouts:
        at(cut.angle, inner + cut.depth, cut.name or "cut-out", f"{cut.width:.2f} × {cut.depth:.2f} at {cut.angle:g}°")
    for key in p.keys:
        radius = inner if key.depth < 0 else outer + key.depth
        at(key.angle, radius, key.name or "key", f"{key.width:.2f} × {abs(key.depth):.2f} at {key.angle:g}°")
    return labels
