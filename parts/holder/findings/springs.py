"""What bends in a holder: spring tongues under the case back, and a split ring that springs in; mm, N, N/mm².

Sources: a cantilever with a force at its end, k = E b t³ / (4 L³) and strain 3 t d / (2 L²) at its root for a travel d;
a split ring under even pressure all round, whose gap closes by g: strain 4 g t / (3 pi (D - t)²) opposite the gap, from
its end opening 3 pi p r⁴ / (E I) and its greatest moment 2 p r².
"""

from dataclasses import dataclass
from math import pi

from parts.holder.body import nubs
from parts.holder.edges import radius_at
from parts.holder.limits import STIFFNESS
from parts.holder.parameters import Ring


@dataclass(frozen=True, slots=True)
class Tongue:
    """A cantilever of that length, width and thickness, of a stiffness in N/mm²."""

    length: float
    width: float
    thickness: float
    modulus: float

    @property
    def rate(self) -> float:
        """Force for each mm of travel, N/mm."""
        return self.modulus * self.width * self.thickness**3 / (4 * self.length**3)

    def strain(self, travel: float) -> float:
        """Strain at its root where its end gives way by so much."""
        return 3 * self.thickness * travel / (2 * self.length**2)


def tongue_of(ring: Ring) -> Tongue:
    """The narrowest of a ring's tongues."""
    widths = [radius_at(ring.outer, pin.angle) - radius_at(ring.inner, pin.angle) for pin in nubs(ring)]
    width = min(widths, default=ring.wall)
    return Tongue(ring.tongue_length, width, ring.tongue_thickness, STIFFNESS[ring.process])


def split_closes(ring: Ring) -> float:
    """By how much the diameter of a split ring gets smaller once its gap is closed, mm."""
    return ring.split_width / pi


def split_strain(ring: Ring, smaller: float) -> float:
    """Strain in a split ring that is sprung to a diameter smaller by so much."""
    return 4 * pi * smaller * ring.wall / (3 * pi * (2 * ring.reach - ring.wall) ** 2)
