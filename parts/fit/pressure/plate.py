"""A flat round plate under even pressure.

Source: plate theory, w = q a⁴ / (64 D) in the middle with the edge held fast, times (5 + nu) / (1 + nu) where it only
rests, D = E t³ / (12 (1 - nu²)). It holds while w stays under half the thickness; a thinner plate gives way less.
"""

from parts.fit.arithmetic.quantities import Quantity, through
from parts.fit.records.materials import Material

BAR = 0.1
"""N/mm² in a bar."""
HOLDS_TO = 0.5
"""Share of its thickness up to which a plate gives way as the formula says; a textbook's usual limit."""


def gives_way(pressure: Quantity, across: Quantity, thickness: Quantity, material: Material) -> Quantity:
    """By how much the middle gives way where the edge is held fast, mm; `across` is the free diameter, mm, bar."""

    def middle(bar: float, wide: float, thick: float) -> float:
        stiffness = material.modulus * thick**3 / (12 * (1 - material.poisson**2))
        return bar * BAR * (wide / 2) ** 4 / (64 * stiffness)

    if not (pressure.known and across.known and thickness.known):
        return through(middle, (0.0, pressure), (0.0, across), (0.0, thickness))
    at = middle(pressure.value, across.value, thickness.value)
    return through(
        middle,
        (at / pressure.value, pressure),
        (4 * at / across.value, across),
        (-3 * at / thickness.value, thickness),
    )


def resting(fast: Quantity, material: Material) -> Quantity:
    """The same where the edge only rests, mm."""
    return fast * ((5 + material.poisson) / (1 + material.poisson))
