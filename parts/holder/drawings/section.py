"""The piece in the watch, cut along the stem: the wall through the channel at the right, dial side up."""

from collections.abc import Iterator

from parts.fit.arithmetic.outlines import Outline as Edge
from parts.fit.drawings.svg import drawing, line, rect, scale_bar, text
from parts.holder.drawings.marks import across, has_room, polygon_path
from parts.holder.drawings.round_it import base_of, stands_round
from parts.holder.edges import grown, in_words, of_edge, radius_at
from parts.holder.findings.design import Design
from parts.holder.mesh import Outline, along
from parts.holder.parameters import Piece, Ring
from parts.holder.surroundings import Surroundings

_EMS, _NARROW_EMS = 60.0, 27.0
"""Width of the drawing in letter heights, and of the one for a narrow place."""


def cut_angles(p: Piece) -> tuple[float, float]:
    """The angles of the right and the left half of the section: through the channel, and through what else there is."""
    if not isinstance(p, Ring):
        angle = (p.notches[0].angle if p.notches else p.split_angle) + 90.0
        return angle, angle + 180.0
    if p.notch_width:
        return p.channel_angle, p.notch_angle
    return p.channel_angle, p.nub_angle if p.nub_count else p.channel_angle + 180.0


def halves(design: Design) -> Iterator[tuple[int, list[Outline]]]:
    """Wall sections as (side, outlines): 1 for the right half, -1 for the left one, x counted outwards, y = height."""
    for side, angle in zip((1, -1), cut_angles(design.parameters), strict=True):
        yield side, [ring for ring in along(design.solid, angle) if ring[:, 0].mean() > 0]


def section_svg(
    design: Design, around: Surroundings | None = None, scale: float | None = None, *, narrow: bool = False
) -> str:
    """The whole section with its diameters, and thin outlines of what stands round it; `narrow` in larger letters."""
    p = design.parameters
    bore = of_edge(around.bore) if around is not None else None
    outer = max(radius for edge in (p.outer, bore) if edge for radius in _radii(edge, p))
    size = 2 * outer * 1.12 / (_NARROW_EMS if narrow else _EMS)
    base = base_of(p, around)
    ghosts = list(_ghosts(p, around, outer)) if around is not None else []
    tops = [y for _, ys in ghosts for y in ys] + [base, base + p.top]
    walls = "".join(
        polygon_path(
            [ring * (side, 1) + (0, base) for ring in rings],
            class_="made wall",
        )
        for side, rings in halves(design)
    )
    low = max(tops) + 2.2 * size
    edges = edges_of(p)
    dims, step = "", (3.4 if narrow and any(edge.shape != "round" for _, edge in edges) else 1.9) * size
    for i, (words, edge) in enumerate(edges):
        dims += (_narrow_across if narrow else _across)(words, edge, p, low + step * i, size, base + p.height)
    left, right, bottom = -outer * 1.12, outer * 1.12, low + step * (len(edges) - 1) + 2.9 * size
    return drawing(
        left,
        min(tops) - size,
        right,
        bottom,
        *(markup for markup, _ in ghosts),
        walls,
        dims,
        scale_bar(left + size, bottom - 0.4 * size, 5.0, size),
        title=f"Section of the {'ring' if isinstance(p, Ring) else 'spacer'} in the watch",
        description="Dial side up. At the right the wall through the stem channel; thin outlines are dial, movement "
        "and case back or floor.",
        scale=scale,
        letters=size,
        name="holder-section",
    )


def _radii(edge: Edge, p: Piece) -> tuple[float, float]:
    """Where the section meets an edge: at the right and at the left."""
    right, left = cut_angles(p)
    return radius_at(edge, right), radius_at(edge, left)


def edges_of(p: Piece) -> list[tuple[str, Edge]]:
    """The edges that a drawing dimensions across, the innermost first, in words."""
    lip = grown(p.inner, -p.lip_reach) if isinstance(p, Ring) and p.has_full_lip else None
    return ([("inside the lip", lip)] if lip else []) + [("inside", p.inner), ("outside", p.outer)]


def _across(words: str, edge: Edge, p: Piece, y: float, size: float, foot: float) -> str:
    """The edge's width where it is round, else how far it lies from the middle on either side, with its direction."""
    right, left = _radii(edge, p)
    if edge.shape == "round":
        return across(-left, right, y, f"{words} {in_words(edge)}", size, foot=foot)
    at_right, at_left = (f"{angle % 360:g}°" for angle in cut_angles(p))
    said, middle = f"{words} {left:.2f} from the middle at {at_left}", y - size / 2
    left_half = across(-left, 0.0, y, said, size, foot=foot, foot2=middle)
    return left_half + across(right, 0.0, y, f"{right:.2f} at {at_right}", size, foot=foot, foot2=middle)


def _narrow_across(words: str, edge: Edge, p: Piece, y: float, size: float, foot: float) -> str:
    """The same where there is no room for long words: they stand over the line, or where it is short in its place."""
    right, left = _radii(edge, p)
    if edge.shape == "round":
        said = f"{words} {in_words(edge)}"
        if has_room(said, left + right, size):
            return across(-left, right, y, said, size, foot=foot)
        return text(0.0, y - size / 4, said, anchor="middle", class_="measured")
    at_right, at_left = (f"{angle % 360:g}°" for angle in cut_angles(p))
    over = text(0.0, y - 1.5 * size, f"{words}, from the middle", anchor="middle", class_="measured")
    left_half = across(-left, 0.0, y, f"{left:.2f} at {at_left}", size, foot=foot, foot2=y - size / 2)
    return over + left_half + across(right, 0.0, y, f"{right:.2f} at {at_right}", size, foot=foot, foot2=y - size / 2)


def _ghosts(p: Piece, around: Surroundings, outer: float) -> Iterator[tuple[str, tuple[float, ...]]]:
    """Outlines of what is round it, with the heights that they span; depths count from the dial rest."""
    wide = outer * 1.08
    for standing in stands_round(p, around):
        near, far = standing.near, standing.far
        right, left = _radii(standing.edge, p)
        if standing.name == "bore":
            for side, radius in ((1, right), (-1, left)):
                yield rect(side * radius, near, side * wide, far, class_="case"), (near, far)
        else:
            yield rect(-left, near, right, far, class_=standing.name), (near, far)
    if around.back_room.known:
        room = around.back_room.value
        yield rect(-wide, room, wide, room + 0.5, class_="case"), (room, room + 0.5)
    if around.stem_axis.known and around.stem_thread.known:
        half, axis = around.stem_thread.value / 2, around.stem_axis.value
        yield rect(outer * 0.7, axis - half, outer * 1.1, axis + half, class_="stem"), (axis,)
        yield line(outer * 0.6, axis, outer * 1.12, axis, class_="axis-movement"), (axis,)
