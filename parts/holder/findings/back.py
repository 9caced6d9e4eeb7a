"""A ring under the case back, and its nubs; the bands are common practice, no source."""

from collections.abc import Iterator

from manifold3d import CrossSection, Manifold

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import bands, by_work, fits, no, work
from parts.fit.verdicts import Finding, judge
from parts.holder import limits
from parts.holder.body import nubs
from parts.holder.edges import direction, land_at
from parts.holder.findings.heights import judge_made
from parts.holder.layers import printed
from parts.holder.mesh import cross_section, disc, level
from parts.holder.parameters import Ring
from parts.holder.shapes import Pin
from parts.holder.surroundings import Surroundings


def findings(ring: Ring, around: Surroundings, solid: Manifold) -> Iterator[Finding]:
    """Heights count as they print."""
    if around.built == "floor":
        return
    height = printed(ring.height, ring)
    gap = around.back_room - (ring.start + height)
    yield judge_made(
        "ring-gap",
        "Ring below the case back",
        gap,
        bands(
            no("The ring is {size} too tall for the case back."),
            0.0,
            work("Only {value} of clearance to the case back.", by_work("Make the ring lower.")),
            limits.BACK_SNUG,
            fits("{value} of clearance to the case back."),
        ),
        made=ring,
        to_fit="Measure the ring once it is made, and file its back down until the case back closes.",
    )
    stood = list(nubs(ring))
    if not stood:
        return
    if not ring.tongue_length:
        yield _press(ring, Quantity(printed(ring.top, ring) - height) - gap)
    yield judge(
        "nub-land",
        "Nubs on the back face",
        Quantity(
            min(land_at(ring.inner, ring.outer, pin.angle) for pin in stood) - 2 * ring.chamfer - ring.nub_diameter
        ),
        bands(
            work("The nubs are {size} wider than the flat face below them.", by_work("Make the nubs narrower.")),
            0.0,
            fits("The flat face is {value} wider than the nubs."),
        ),
    )
    face = cross_section(level(solid, ring.height - ring.chamfer - 0.01))
    hanging = sum(_hangs(pin, face) for pin in stood)
    yield judge(
        "nub-stand",
        "Nubs on full material",
        Quantity(float(hanging)),
        bands(
            fits("Every nub has full material below it."),
            0,
            no("{value} nubs are over the channel, the notch or a cut-out."),
        ),
        unit="count",
    )


def _press(ring: Ring, pressed: Quantity) -> Finding:
    return judge_made(
        "nub-press",
        "Nubs pressed by the case back",
        pressed,
        bands(
            work("The case back clears the nubs by {size}: they do not hold.", by_work("Make the nubs higher.")),
            limits.NUB_MISSES,
            fits("The case back presses the nubs by {value}."),
            limits.NUB_FIRM,
            work("The case back would press the nubs by {value}.", by_work("Make the nubs lower, or file them.")),
            limits.NUB_BLOCKS,
            no("The nubs are {value} too tall: the case back would not close."),
        ),
        made=ring,
        to_fit="File the nubs until the case back closes on them and they still hold.",
    )


def _hangs(pin: Pin, face: CrossSection) -> bool:
    x, y = direction(pin.angle)
    foot = disc(x * pin.radius, y * pin.radius, pin.diameter / 2)
    return bool((foot ^ face).area() < 0.995 * foot.area())
