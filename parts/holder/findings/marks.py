"""Whether the words on a ring print, and stand on its land."""

from collections.abc import Iterator
from math import degrees

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import bands, by_work, fits, work
from parts.fit.verdicts import Finding, judge
from parts.holder.edges import narrowest_land, radius_at
from parts.holder.letters import STROKE, length_of
from parts.holder.parameters import Ring
from parts.holder.process import finest_groove


def findings(ring: Ring) -> Iterator[Finding]:
    """Nothing where no words are engraved."""
    if not ring.mark_words:
        return
    finest = finest_groove(ring)
    larger = by_work(f"Make the letters {finest / STROKE:.2f} mm high, or leave the words out.")
    yield judge(
        "mark-print",
        "Words as they are made",
        Quantity(STROKE * ring.mark_size),
        bands(
            work(f"The strokes of the letters are {{value}} wide: under {finest:.2f} mm they run closed.", larger),
            finest,
            fits("The strokes of the letters are {value} wide."),
        ),
        must=False,
    )
    inner, outer = radius_at(ring.inner, ring.mark_angle), radius_at(ring.outer, ring.mark_angle)
    half = degrees(length_of(ring.mark_words, ring.mark_size) / (inner + outer))
    land = narrowest_land(ring.inner, ring.outer, ring.mark_angle, half) - 2 * ring.chamfer
    yield judge(
        "mark-land",
        "Words on the back",
        Quantity(land - ring.mark_size),
        bands(
            work("The letters are {size} higher than the land.", by_work("Turn the words, or make them smaller.")),
            0.0,
            fits("The land is {value} wider than the letters."),
        ),
        must=False,
    )
