"""The movement's cell. Source: fit model section 4."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from parts.fit.arithmetic.quantities import quotient
from parts.fit.bands import bands as line
from parts.fit.bands import by_accepting, fits, work
from parts.fit.units import MONTH_DAYS
from parts.fit.verdicts import Finding, judge

if TYPE_CHECKING:
    from parts.fit.pairing import Pairing

MONTH = 24 * MONTH_DAYS
"""Hours in a mean month."""


def cell_life(p: Pairing) -> Iterator[Finding]:
    """How long a cell lasts at the movement's mean current, in months of 30.4375 days."""
    yield judge(
        "cell-life",
        "Cell life",
        quotient(p.movement.cell_capacity, p.movement.current) * (1000 / MONTH),
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
