"""Threads by their names: a thread is measured over its crests, where a good one measures less than its name.

Source: fit model section 8a; sizes and limits of the miniature series by ISO 1501:2009 and ASME B1.10M (check values,
section 2a): an external thread D x p has a major diameter from D - (0.12 p + 0.006) to D.
"""

from typing import NamedTuple

from parts.fit.arithmetic.elementwise import Number, Truth, is_column, pick, somewhere
from parts.fit.arithmetic.quantities import SLACK, Quantity


class Thread(NamedTuple):
    """A size of the miniature series: nominal diameter and pitch, mm."""

    diameter: float
    pitch: float

    @property
    def least(self) -> float:
        """Least major diameter of an external thread of this size."""
        return self.diameter - (0.12 * self.pitch + 0.006)


MINIATURE = tuple(
    Thread(diameter, pitch)
    for diameter, pitch in (
        (0.30, 0.080),
        (0.35, 0.090),
        (0.40, 0.100),
        (0.45, 0.100),
        (0.50, 0.125),
        (0.55, 0.125),
        (0.60, 0.150),
        (0.70, 0.175),
        (0.80, 0.200),
        (0.90, 0.225),
        (1.00, 0.250),
        (1.10, 0.250),
        (1.20, 0.250),
        (1.40, 0.300),
    )
)


def named(measured: Quantity) -> tuple[Quantity, Truth]:
    """The thread's name in place of its measured diameter, and whether it may be one of two.

    A number that no name covers stays as it is.
    """
    if not measured.known:
        return measured, False
    low, high = measured.low, measured.high
    sizes: Number = 0
    name: Number = 0.0
    for size in MINIATURE:
        meets = (low <= size.diameter + SLACK) & (high >= size.least - SLACK)
        if not somewhere(meets):
            continue
        sizes, name = sizes + meets * 1, pick(meets, size.diameter, name)
    if not is_column(sizes) and not sizes:
        return measured, False
    exact = Quantity(name, dict.fromkeys(measured.spread, 0.0))
    return pick(sizes == 1, exact, measured), sizes > 1
