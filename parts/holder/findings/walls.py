"""Walls and webs against what the process can make; shared by ring and spacer."""

from collections.abc import Iterator
from dataclasses import replace
from math import atan2, degrees, inf

import numpy as np
from manifold3d import Manifold

from parts.fit.arithmetic.quantities import SLACK, Quantity
from parts.fit.bands import bands, by_work, fits, no, work
from parts.fit.verdicts import Finding, judge
from parts.holder.mesh import solid_of
from parts.holder.parameters import Made, Piece, Ring
from parts.holder.process import THINNEST, thinnest
from parts.holder.thin import thinner_than

BY = {"filament": "this nozzle", "resin": "resin", "turned": "turning"}
FINER = {
    "resin": "print it in resin, which holds a thinner wall",
    "turned": "have it turned or milled in brass, which holds a thinner wall",
}


def wall(parameters: Made, key: str, title: str, thickness: float, most: float = inf) -> Finding:
    """The finding about one wall or web, mm thick; `most` is how thick it may get between case and movement."""
    least, plain = thinnest(parameters)
    cure, limit = f"Make it {plain:.2f} mm, or choose a finer process.", ""
    if most < plain - SLACK:
        cure = _instead(parameters, most)
        limit = f" Case and movement leave no more than {max(0.0, most):.2f} mm there."
    by = BY[parameters.process]
    instead = f" {cure}" if limit else ""
    row = bands(
        no(f"{title}: {{value}} is thinner than {by} can make; {least:.2f} mm needed.{limit}{instead}"),
        least,
        work(f"{title}: {{value}}. Delicate below {plain:.2f} mm.{limit}", by_work(cure)),
        plain,
        fits(f"{title}: {{value}}; {plain:.2f} mm would do."),
    )
    check = judge(key, title, Quantity(thickness), row)
    check.subject = "Walls"
    return check


def webs(piece: Piece, solid: Manifold) -> Iterator[Finding]:
    """The largest place where cuts leave something thinner than the process makes; nothing where the wall itself is.

    Letters are told of elsewhere, and what they leave inside them is no web.
    """
    least, _ = thinnest(piece)
    walls = (piece.wall, piece.front_wall) if isinstance(piece, Ring) else (piece.wall,)
    if min(walls) < least:
        return
    plain = solid_of(replace(piece, mark_words="")) if isinstance(piece, Ring) and piece.mark_words else solid
    places = list(thinner_than(plain, least))
    if not places:
        return
    z, part = max(places, key=lambda place: round(place[1].area(), 3))
    x, y = np.concatenate(part.to_polygons()).mean(axis=0)
    at = f"At {degrees(atan2(x, -y)) % 360:.0f}°, {z:.2f} mm above the dial side,"
    text = f"{at} what is left is under {least:.2f} mm thick: {BY[piece.process]} cannot make it, or it breaks off."
    remedy = by_work("Move the cuts there apart, or let them meet so that nothing thin is left.")
    row = bands(fits("Nothing thin is left between the cuts."), 0, work(text, remedy))
    check = judge("thin-webs", "Between the cuts", Quantity(float(len(places))), row, unit="count")
    check.subject = "Walls"
    yield check


def _instead(parameters: Made, most: float) -> str:
    """What there is where a wall cannot be thicker: a finer process, no wall at that place, a smaller movement."""
    least, _ = thinnest(parameters)
    ways = [words for name, words in FINER.items() if THINNEST[name][0] < least and THINNEST[name][0] <= most]
    ways.append("leave the wall out there and hold the movement by tongues or clamps where the case is wider")
    ways.append("choose a movement with a smaller fit diameter")
    text = "; or ".join(ways)
    return f"{text[:1].upper()}{text[1:]}."
