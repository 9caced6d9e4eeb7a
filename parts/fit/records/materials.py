"""What crystals and case backs are made of, with what the plate formula needs of it.

All figures are common practice, no source: they differ from maker to maker by some 5 %, acrylic more.
"""

from typing import NamedTuple


class Material(NamedTuple):
    """Young's modulus in N/mm² and Poisson's ratio."""

    modulus: float
    poisson: float
    source: str = "common practice, no source"


CRYSTALS = {
    "acrylic": Material(3000.0, 0.37),
    "mineral": Material(70_000.0, 0.22),
    "sapphire": Material(345_000.0, 0.27),
}
BACKS = {
    "steel": Material(193_000.0, 0.30),
    "titanium": Material(110_000.0, 0.34),
    "brass": Material(100_000.0, 0.35),
    **CRYSTALS,
}
"""A display back is a crystal."""
