"""A round cord in its groove: squeeze, fill and stretch, as shares.

Limits: guides of seal makers and trade houses for a face seal at rest, which do not agree: squeeze 20 to 30 %, fill
about 75 % and under 85 %, stretch up to 5 %. For flat gaskets of case backs and crystals no published value is known.
"""

from collections.abc import Iterator
from math import pi

from parts.fit.arithmetic.quantities import Quantity, product, quotient
from parts.fit.bands import bands, by_part, fits, work
from parts.fit.records import Case
from parts.fit.verdicts import Finding, judge

SQUEEZE = 0.20, 0.30
FILL = 0.75, 0.85
STRETCH = 0.0, 0.05


def squeeze(case: Case) -> Quantity:
    """(section - depth) / section."""
    return quotient(case.groove_depth, case.gasket_section) * -1.0 + 1.0


def fill(case: Case) -> Quantity:
    """The cord's area over the groove's."""
    area = product(case.gasket_section, case.gasket_section) * (pi / 4)
    return quotient(area, product(case.groove_depth, case.groove_width))


def stretch(case: Case) -> Quantity:
    """How much longer the ring is drawn round the groove's inside than it is made."""
    return quotient(case.groove_diameter, case.gasket_diameter) - 1.0


def findings(case: Case) -> Iterator[Finding]:
    """What is known of the gasket against the guides."""
    if case.groove_depth.known or case.gasket_section.known:
        yield judge(
            "gasket-squeeze",
            "Gasket squeeze",
            squeeze(case),
            bands(
                work(
                    "The gasket is squeezed by {value} only; guides ask for 20 to 30 %.", by_part("Get a thicker cord.")
                ),
                SQUEEZE[0],
                fits("The gasket is squeezed by {value}; guides ask for 20 to 30 %."),
                SQUEEZE[1],
                work(
                    "The gasket is squeezed by {value}, more than the 30 % of the guides: it takes a set.",
                    by_part("Get a thinner cord."),
                ),
            ),
            unit="share",
            must=False,
        )
    if case.groove_width.known:
        yield judge(
            "gasket-fill",
            "Gasket fill",
            fill(case),
            bands(
                fits("The gasket fills {value} of its groove; guides ask for about 75 %."),
                FILL[0],
                fits("The gasket fills {value} of its groove, more than the usual 75 % but under 85 %."),
                FILL[1],
                work(
                    "The gasket fills {value} of its groove and cannot give way; guides end at 85 %.",
                    by_part("Get a thinner cord."),
                ),
            ),
            unit="share",
            must=False,
        )
    if case.groove_diameter.known or case.gasket_diameter.known:
        yield judge(
            "gasket-stretch",
            "Gasket stretch",
            stretch(case),
            bands(
                work("The gasket is too long for its groove and lies in folds.", by_part("Get a smaller ring.")),
                STRETCH[0],
                fits("The gasket is stretched by {value}; guides allow 5 %."),
                STRETCH[1],
                work(
                    "The gasket is stretched by {value}; guides allow 5 %: it gets thin and tears.",
                    by_part("Get a larger ring."),
                ),
            ),
            unit="share",
            must=False,
        )
