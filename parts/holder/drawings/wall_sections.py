"""Both cut walls close up with their heights; what lies between them is left out."""

from collections.abc import Iterator

from parts.fit.drawings.svg import drawing, path, scale_bar, text
from parts.holder.body import nubs
from parts.holder.drawings.marks import across, polygon_path, upright
from parts.holder.drawings.section import cut_angles, halves
from parts.holder.edges import radius_at
from parts.holder.findings.design import Design
from parts.holder.mesh import Outline
from parts.holder.parameters import Piece, Ring

_EMS = 36.0


def walls_svg(design: Design, scale: float | None = None, *, only: int = 0) -> str:
    """The two walls of the section, dial side up, dimensioned in height and thickness.

    `only` leaves the right one (1), with the stem channel, or the left one (-1), for a narrow place.
    """
    p = design.parameters
    cut = list(halves(design))
    right, left = cut_angles(p)
    near, far = radius_at(p.inner, right), radius_at(p.outer, right)
    inner = min((ring[:, 0].min() for _, rings in cut for ring in rings), default=near)
    wall = max((ring[:, 0].max() for _, rings in cut for ring in rings), default=far) - inner
    size = max(2 * wall + 2.6 * p.top, 7.0) / _EMS * (0.8 if only else 1.6)
    gap = 8.8 * size
    outer, face = gap / 2 + wall, far - inner + gap / 2
    sides = (only,) if only else (1, -1)
    walls = "".join(_wall(design, side, rings, inner - gap / 2) for side, rings in cut if side in sides)
    dims = "".join(_left_heights(p, outer, face, size)) if -1 in sides else ""
    thick = far - near
    start = near - inner + gap / 2
    low = p.top + 2.4 * size
    if 1 in sides:
        dims += "".join(_right_heights(p, outer, gap / 2, face, size))
        dims += across(start, start + thick, low, f"{thick:.2f}", size, foot=p.height)
    words = [(1, f"cut at {right % 360:g}°"), (-1, f"cut at {left % 360:g}°")]
    labels = "".join(
        text(side * (gap / 2 + wall / 2), -1.9 * size, said, anchor="middle", class_="words")
        for side, said in words
        if side in sides
    )
    edge, bottom = outer + 10.8 * size, low + 2.4 * size
    left, right = -edge if -1 in sides else 0.2 * size, edge if 1 in sides else -0.2 * size
    return drawing(
        left,
        -3.4 * size,
        right,
        bottom,
        "" if only else _break(p.top, size),
        walls,
        dims,
        labels,
        scale_bar(left + size, bottom - 0.5 * size, 1.0, size),
        title="Wall section, close up" if only else "Wall sections, close up",
        description="Dial side up." if only else "Dial side up. What is between the walls is left out.",
        scale=scale,
        letters=size,
        name="walls",
    )


def _wall(design: Design, side: int, rings: list[Outline], shift: float) -> str:
    p = design.parameters
    behind = ""
    for pin in list(nubs(p, root=0.0))[:1] if isinstance(p, Ring) else ():
        near, far = side * (pin.radius - pin.diameter / 2 - shift), side * (pin.radius + pin.diameter / 2 - shift)
        corners = [[(near, p.height), (far, p.height), (far, p.top), (near, p.top)]]
        stands_here = any(ring[:, 0].min() < pin.radius < ring[:, 0].max() for ring in rings)
        behind = polygon_path(corners, class_="nub") if stands_here else ""
    placed = [(ring - (shift, 0)) * (side, 1) for ring in rings]
    return behind + polygon_path(placed, class_="made wall")


def _left_heights(p: Piece, outer: float, face: float, size: float) -> Iterator[str]:
    yield upright(-outer - 7.6 * size, 0, p.height, f"{p.height:.2f}", size, foot=-face, side=-1)
    if not isinstance(p, Ring):
        return
    if p.nub_count and p.nub_height:
        yield upright(-outer - 1.5 * size, p.height, p.top, f"{p.nub_height:.2f}", size, foot=-face, side=-1, beyond=1)
    if p.notch_width:
        high = p.height - p.notch_height
        yield upright(-outer - 1.5 * size, high, p.height, "", size, foot=-face, side=-1)
        yield text(
            -outer - 1.9 * size, high - 0.2 * size, f"notch {p.notch_height:.2f}", anchor="end", class_="measured"
        )


def _right_heights(p: Piece, outer: float, inner: float, face: float, size: float) -> Iterator[str]:
    if not isinstance(p, Ring):
        return
    half = p.channel_width / 2
    ends = {"dial": (0.0, p.channel_axis + half), "back": (p.channel_axis - half, p.height)}
    ends["through"] = (0.0, p.height)
    low, high = ends.get(p.channel_open, (p.channel_axis - half, p.channel_axis + half))
    axis = f"axis {p.channel_axis:.2f}"
    yield upright(outer + 1.5 * size, 0, p.channel_axis, axis, size, foot=face, beyond=-1)
    yield upright(outer + 8.0 * size, low, high, f"{high - low:.2f}", size, foot=face, beyond=1)
    if p.step:
        yield upright(inner - 1.2 * size, 0, p.flange_depth, f"{p.flange_depth:.2f}", size, foot=inner, side=-1)
    if p.lip_reach:
        words = f"lip {p.lip_height:.2f}"
        yield upright(outer + 1.5 * size, p.height - p.lip_height, p.height, words, size, foot=face, beyond=1)


def _break(high: float, size: float) -> str:
    """Two wavy lines where the middle is left out."""
    waves = ""
    for side in (-1, 1):
        x = side * size * 0.35
        steps: list[str | float] = ["M", x, -0.4 * size]
        for i in range(4):
            y = -0.4 * size + (high + 0.8 * size) * (i + 1) / 4
            steps += ["Q", x + (size / 3 if i % 2 else -size / 3), y - (high + 0.8 * size) / 8, x, y]
        waves += path(*steps, class_="lead")
    return waves
