"""The piece seen from the dial side, 12 o'clock up: what looks at the dial solid, the back broken."""

from collections.abc import Iterator

from parts.fit.arithmetic import outlines
from parts.fit.drawings.outline import edge_svg
from parts.fit.drawings.svg import circle, drawing, line, scale_bar, text
from parts.holder.body import nubs
from parts.holder.drawings.marks import LETTER, Labels, across, has_room, outline_path
from parts.holder.drawings.section import edges_of
from parts.holder.edges import apart, direction, in_words, of_edge, radius_at, span_of
from parts.holder.findings.design import Design
from parts.holder.mesh import Outline, level
from parts.holder.outline import circles_of, trace
from parts.holder.parameters import Piece, Ring
from parts.holder.surroundings import Surroundings

_EMS, _NARROW_RING = 46.0, 22.0
"""Letter heights: the width of the drawing, and that of the piece in one for a narrow place."""


def plan_svg(
    design: Design, around: Surroundings | None = None, scale: float | None = None, *, narrow: bool = False
) -> str:
    """The plan with the dimensions that lie in it.

    `narrow`, for a telephone, numbers what it labels and says it below, in letters that can be read there.
    """
    p = design.parameters
    outer = max(p.reach, *(abs(x) for ring in level(design.solid, p.height / 2) for x in ring.ravel()))
    size = 2 * outer / _NARROW_RING if narrow else 2 * outer * 1.65 / _EMS
    labels = _labels(p, size, outer, numbered=narrow)
    bounds = labels.bounds or (-outer, -outer, outer, outer)
    margin = outer + 2.5 * size if narrow else 1.6 * outer
    left, right = min(bounds[0] - size, -margin), max(bounds[2] + size, margin)
    low = max(bounds[3], outer) + 2.4 * size
    across_it = [(f"{words} {measures}", span) for words, span, measures in _sizes(p)]
    rows = [(words, span) for words, span in across_it if not narrow or has_room(words, span, size)]
    below = [words for words, span in across_it if (words, span) not in rows] + labels.listed
    dims = "".join(
        across(-span / 2, span / 2, low + 1.9 * size * i, words, size, foot=0.0) for i, (words, span) in enumerate(rows)
    )
    said = [(span, LETTER * len(words) * size) for words, span in rows]
    right = max([right, *(span / 2 + wide + 2 * size for span, wide in said if wide > span)])
    end = low + 1.9 * size * len(rows)
    dims += "".join(
        text(left + size, end + 1.4 * size * i, words, anchor="start", class_="measured")
        for i, words in enumerate(below)
    )
    right = max([right, *(left + (LETTER * len(words) + 1.5) * size for words in below)])
    bottom = end + 1.4 * size * (len(below) + 1)
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
        description=f"12 o'clock up. Outside {in_words(p.outer)} mm, inside {in_words(p.inner)} mm. "
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
    bore = of_edge(around.bore) if around is not None else None
    if around is not None and bore is not None and outlines.outer(bore) <= 1.05 * outer:
        yield from edge_svg(around.bore, class_="bore")
    yield outline_path(traced.pop("dial-side"), class_="made dial-side")
    for name, lines in traced.items():
        yield outline_path(lines, class_=name)
    for foot_angle, radius, diameter in around.feet if around is not None else ():
        x, y = direction(foot_angle)
        yield circle(x * radius, y * radius, diameter / 2, class_="foot")
    for pin in nubs(p) if isinstance(p, Ring) else ():
        x, y = (pin.radius * part for part in direction(pin.angle))
        yield circle(x, y, pin.diameter / 2, class_="nub")
    for end in ((outer * 1.06, 0.0), (0.0, outer * 1.06)):
        yield line(-end[0], -end[1], *end, class_="centre-line")


def _sizes(p: Piece) -> list[tuple[str, float, str]]:
    """Each edge in words, its width along 9 to 3 o'clock, and its measures."""
    edges = dict(edges_of(p)[:-1])
    if isinstance(p, Ring):
        edges |= {name: edge for name, edge in (("inner step", p.step), ("outer step", p.nose)) if edge}
    edges["outside"] = p.outer
    return [(name, span_of(edge), in_words(edge)) for name, edge in edges.items()]


def _labels(p: Piece, size: float, edge: float, *, numbered: bool) -> Labels:
    labels = Labels(size, edge, numbered=numbered)

    def outer(angle: float) -> float:
        return radius_at(p.outer, angle)

    def inner(angle: float) -> float:
        return radius_at(p.inner, angle)

    def at(angle: float, radius: float, words: str, number: str) -> None:
        x, y = direction(angle)
        labels.add(x * radius, y * radius, words, number)

    if not isinstance(p, Ring):
        for notch in p.notches:
            if (
                -notch.diameter / 2 < notch.radius - inner(notch.angle)
                and notch.radius - outer(notch.angle) < notch.diameter / 2
            ):
                at(notch.angle, notch.radius, notch.name or "notch", f"⌀{notch.diameter:.2f} at {notch.angle:g}°")
        if p.split_width:
            at(p.split_angle, outer(p.split_angle), "split", f"{p.split_width:.2f} at {p.split_angle:g}°")
        return labels
    at(p.channel_angle, outer(p.channel_angle), "stem channel", f"{p.channel_width:.2f} at {p.channel_angle:g}°")
    if p.mark_width:
        at(0.0, outer(0.0), "12 o'clock mark", f"{p.mark_width:.2f} × {p.mark_depth:.2f}")
    if p.mark_words:
        middle = (inner(p.mark_angle) + outer(p.mark_angle)) / 2
        at(p.mark_angle, middle, f"“{p.mark_words}” in the back", f"{p.mark_size:.2f} high at {p.mark_angle:g}°")
    if p.split_width:
        at(p.split_angle, outer(p.split_angle), "split", f"{p.split_width:.2f} at {p.split_angle:g}°")
    for pin in sorted(nubs(p), key=lambda pin: apart(pin.angle, 60.0))[:1]:  # clear of the dimensions below
        at(pin.angle, pin.radius, f"{int(p.nub_count)} nubs", f"⌀{p.nub_diameter:.2f}, first {p.nub_angle:g}°")
    if p.notch_width:
        at(p.notch_angle, outer(p.notch_angle), "finger notch", f"{p.notch_width:.2f} at {p.notch_angle:g}°")
    for cut in p.cutouts:
        at(
            cut.angle,
            inner(cut.angle) + cut.depth,
            cut.name or "cut-out",
            f"{cut.width:.2f} × {cut.depth:.2f} at {cut.angle:g}°",
        )
    for key in p.keys:
        radius = inner(key.angle) if key.depth < 0 else outer(key.angle) + key.depth
        at(key.angle, radius, key.name or "key", f"{key.width:.2f} × {abs(key.depth):.2f} at {key.angle:g}°")
    return labels
