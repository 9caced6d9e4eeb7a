"""The movement's cell. Source: fit model section 4."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from parts.fit.arithmetic.quantities import measured, product, quotient
from parts.fit.bands import bands as line
from parts.fit.bands import by_accepting, fits, work
from parts.fit.units import MONTH_DAYS
from parts.fit.verdicts import Finding, judge

if TYPE_CHECKING:
    from parts.fit.arithmetic.quantities import Quantity
    from parts.fit.pairing import Pairing

MONTH = 24 * MONTH_DAYS
"""Hours in a mean month."""
SELF_DISCHARGE = measured("cell.self_discharge", 0.01, 0.01)
"""The share of its capacity that a cell loses by itself in a year: none to 2 %; common practice, no source."""


def months_running(capacity: Quantity, current: Quantity, self_discharge: Quantity | None = None) -> Quantity:
    """How long a cell of `capacity` in mAh runs at a mean `current` in µA, in months of 30.4375 days.

    What it loses by itself in a year, as a share, counts as a current beside the movement's.
    """
    lost = product(capacity, self_discharge) * (1000 / (12 * MONTH)) if self_discharge else None
    return quotient(capacity, current + lost if lost else current) * (1000 / MONTH)


def cell_life(p: Pairing) -> Iterator[Finding]:
    """How long a cell lasts at the movement's mean current, in months of 30.4375 days."""
    yield judge(
        "cell-life",
        "Cell life",
        months_running(p.movement.cell_capacity, p.movement.current),
        line(
            work(
                "The cell should last about {value}.",
                by_accepting("The battery will need changing after about {value}."),
            ),
            p.rules.cell_life_min,
            fits("The cell should last about {value}."),
        ),
        unit="months",
        must=False,
    )
