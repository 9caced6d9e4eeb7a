"""Whether the words on a ring print, and stand on its land."""

from collections.abc import Iterator
from dataclasses import replace
from math import degrees

import numpy as np
from manifold3d import CrossSection

from parts.fit.answer.listing import in_a_sentence
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.bands import as_it_is, bands, by_work, fits, work
from parts.fit.verdicts import Finding, judge
from parts.holder.edges import narrowest_land, radius_at
from parts.holder.letters import STROKE, engraving, length_of
from parts.holder.mesh import cross_section, solid_of
from parts.holder.parameters import Ring
from parts.holder.process import finest_groove

_HAIR = 1e-3
"""A letter runs out with more than this of its area, mm²; the wall is looked at so far inside its faces, mm."""
_TURN = 5
"""Degrees between the places that are tried for the words."""


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
    yield _whole(ring)


def _whole(ring: Ring) -> Finding:
    """Whether each letter is cut into the wall all round, or runs out into a cut, a channel or over the edge."""
    plain = solid_of(replace(ring, mark_words=""))
    floor = ring.height - ring.mark_depth
    wall = plain.slice(ring.height - _HAIR) ^ plain.slice(floor + _HAIR)
    out = [letter for letter, left in _left_over(ring, wall, ring.mark_angle) if left > _HAIR]
    letters = as_it_is(in_a_sentence([f"“{letter}”" for letter in dict.fromkeys(out)]))
    return judge(
        "mark-whole",
        "Words within the wall",
        Quantity(float(len(out))),
        bands(
            fits("Every letter is cut into the wall all round."),
            0,
            work(f"Not within the wall all round: {letters}.", by_work(_instead(ring, wall))),
        ),
        unit="count",
        must=False,
    )


def _instead(ring: Ring, wall: CrossSection) -> str:
    """The nearest place round the ring where the words are whole, or what else to do."""
    for turned in range(_TURN, 180 + _TURN, _TURN):
        for angle in ((ring.mark_angle + turned) % 360, (ring.mark_angle - turned) % 360):
            if all(left <= _HAIR for _, left in _left_over(ring, wall, angle)):
                return f"Turn the words to {angle:.0f}°, where the wall is whole; or make the letters smaller."
    return "Nowhere on this ring do they find room: make the letters smaller, or leave the words out."


def _left_over(ring: Ring, wall: CrossSection, angle: float) -> Iterator[tuple[str, float]]:
    """Each letter with its area outside the wall, mm², where the words stand at an angle."""
    middle = (radius_at(ring.inner, angle) + radius_at(ring.outer, angle)) / 2
    seen = (letter for letter in ring.mark_words if letter.strip())
    for letter, cut in zip(seen, engraving(ring.mark_words, angle, middle, ring.mark_size, 0.0, 1.0), strict=False):
        yield letter, float((cross_section(map(np.asarray, cut.contours)) - wall).area())
