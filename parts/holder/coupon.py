"""A piece to print first: three outsides, two insides and three heights in one, to see what a printer makes of each.

Steps that stand on each other, the widest below, so that nothing hangs; heights are whole layers as they are printed.
"""

from manifold3d import Manifold

from parts.holder.layers import printed
from parts.holder.mesh import solid_in
from parts.holder.parameters import Made
from parts.holder.shapes import Turned

OUTSIDES = (30.0, 22.0, 14.0)
"""Diameters of the steps from the plate upwards, mm: from a spacer's to a hand's reach."""
INSIDES = (8.0, 11.0)
"""Diameters of the bore, below and in the uppermost step, mm."""
_HEIGHTS = (1.2, 2.4, 4.2)


def heights(made: Made) -> tuple[float, float, float]:
    """Heights of the steps over the plate, mm, in the whole layers that they come out as."""
    low, middle, high = (printed(height, made) for height in _HEIGHTS)
    return low, middle, high


def coupon(made: Made) -> Manifold:
    """The piece, as it lies on the plate."""
    low, middle, high = heights(made)
    first, second, third = (diameter / 2 for diameter in OUTSIDES)
    below, above = (diameter / 2 for diameter in INSIDES)
    return solid_in(
        Turned(
            (
                (below, 0.0),
                (first, 0.0),
                (first, low),
                (second, low),
                (second, middle),
                (third, middle),
                (third, high),
                (above, high),
                (above, middle),
                (below, middle),
            )
        )
    )
