"""A still picture of the piece standing in space: what is shown where the browser cannot turn the mesh itself."""

from math import cos, radians, sin

from parts.fit.drawings.svg import drawing, el, text
from parts.holder.drawings.marks import outline_path
from parts.holder.findings.design import Design
from parts.holder.mesh import level
from parts.holder.outline import circles_of, trace

TILT = 55.0
"""How far the piece is tipped towards the eye, degrees from upright."""
_LAYERS = 28


def picture_svg(design: Design, *, layers: int = _LAYERS) -> str:
    """Layers of the piece from the dial side up to the back, tilted, the nearer over the farther."""
    p, circles = design.parameters, circles_of(design.parameters)
    squash, lift = cos(radians(TILT)), sin(radians(TILT))
    reach = p.reach + max((abs(key.depth) for key in getattr(p, "keys", ())), default=0.0)
    drawn = []
    for i in range(layers + 1):
        z = 0.001 + (p.top - 0.002) * i / layers
        traced = [trace(ring, circles) for ring in level(design.solid, z)]
        if not traced:
            continue
        last = i == layers or z >= p.height - p.top / layers
        body = outline_path(traced, class_="made" if last else "made-side")
        drawn.append(el("g", body, transform=f"matrix(-1 0 0 {squash:.4f} 0 {-z * lift:.4f})"))
    edge, size = reach * 1.05, reach / 12
    top, bottom = -edge * squash - p.top * lift, edge * squash
    return drawing(
        -edge,
        top - 1.6 * size,
        edge,
        bottom + 1.6 * size,
        *drawn,
        text(0, top - 0.4 * size, "12 o'clock, behind", anchor="middle", class_="words"),
        text(0, bottom + 1.2 * size, "dial side, below", anchor="middle", class_="words"),
        title="The part, its back up",
        description="Seen from behind at a slant: 12 o'clock is at the far side, 3 o'clock on the left.",
        letters=size,
        name="picture",
    )
