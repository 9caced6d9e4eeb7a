"""Where adhesive pads may lie between dial and movement, and three pads to cut; seen from the dial side.

Inside the dial and the movement, clear of holder ring, date disc, both windows, centre, dial feet and foot holes.
Coordinates are those of the drawings: x to 3 o'clock, y to 6 o'clock, mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

import numpy as np
from manifold3d import CrossSection, JoinType

from parts.fit.answer.report import Report
from parts.fit.arithmetic.outlines import Outline as Edge
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.levels import widths
from parts.holder.edges import direction, exists, grown, polygon
from parts.holder.mesh import Outline, cross_section, disc

CENTRE = 2.0
"""Distance from the dial's centre hole that the hour wheel and its washer take, mm. Common practice, no source."""
SPAN = 40.0
"""Degrees that one pad covers. Common practice, no source."""
PADS = 3
"""Pads, evenly spread: fewer let the dial rock. Common practice, no source."""
LEAST = 2.0
"""Area of the smallest pad worth cutting, mm². Common practice, no source."""
_STEP = 3
"""Degrees between the places that are tried for the first pad."""
_ROUND = 180
"""Facets of a rounded corner's full circle."""


@dataclass(frozen=True, slots=True)
class Pad:
    """One pad: its outline where it lies, its area in mm², the angle of its middle clockwise from 12 o'clock."""

    outline: Outline
    area: float
    angle: float

    @property
    def centre(self) -> tuple[float, float]:
        """Its centre of area."""
        x, y = self.outline.T
        across, down = np.roll(x, -1), np.roll(y, -1)
        crossed = x * down - across * y
        six = 3 * crossed.sum()
        return float(((x + across) * crossed).sum() / six), float(((y + down) * crossed).sum() / six)

    @property
    def hold(self) -> float:
        """How hard it keeps a dial from turning, mm³: its area times the distance of its centre from the axis."""
        return self.area * hypot(*self.centre)


@dataclass(frozen=True, slots=True)
class PadMap:
    """Where pads may lie, that area in mm², pads to cut, and what was not measured and so is not kept clear."""

    dial: Edge
    outlines: tuple[Outline, ...]
    area: float
    pads: tuple[Pad, ...]
    missing: tuple[str, ...]
    inside_disc: bool
    """Whether a pad lies inside the date disc."""


def pad_map(report: Report) -> PadMap | None:
    """The map of a report's pairing; None where the dial's edge or the movement's is not measured."""
    p = report.pairing
    gap, width = p.rules.pad_disc_gap, p.rules.pad_width_min
    dial = _measured(widths.dial(p.sheet))
    movement = [edge for of in (widths.gripped, widths.movement) if (edge := _measured(of(p.sheet)))]
    if dial is None or not movement:
        return None
    free = _inside(dial, gap)
    for edge in movement:
        free ^= _inside(edge, gap)
    for kept_clear in _kept_clear(report, gap):
        free -= kept_clear
    free = _opened(free, width / 2)
    pads = tuple(_pads(free, width / 2))
    disc_inner = p.movement.date.disc_inner_radius if p.movement.date else None
    inside = disc_inner is not None and disc_inner.known and any(hypot(*pad.centre) < disc_inner.value for pad in pads)
    return PadMap(dial, _outlines(free), free.area(), pads, tuple(_missing(report)), inside)


def _measured(edge: widths.Edge) -> Edge | None:
    if not all(number.known for number in edge.numbers):
        return None
    return edge.shape(tuple(number.value for number in edge.numbers))


def _inside(edge: Edge, gap: float) -> CrossSection:
    """What lies at least so far inside an edge."""
    inner = grown(edge, -gap)
    return cross_section([polygon(inner)]) if exists(inner) else CrossSection()


def _kept_clear(report: Report, gap: float) -> Iterator[CrossSection]:
    p = report.pairing
    hole = p.dial.centre_hole_diameter
    yield disc(0, 0, (hole.value / 2 if hole.known else 0.0) + CENTRE)
    date = p.movement.date
    if date and date.disc_inner_radius.known and date.disc_outer_radius.known:
        yield disc(0, 0, date.disc_outer_radius.value + gap) - disc(0, 0, date.disc_inner_radius.value - gap)
    for foot in p.dial.feet or ():
        if foot.angle.known and foot.radius.known and foot.diameter.known:
            yield _spot(foot.angle.value, foot.radius.value, foot.diameter, gap)
    for mark, foot_hole in zip(report.foot_marks, p.movement.foot_holes or (), strict=False):
        yield _spot(mark.angle, mark.radius, foot_hole.diameter, gap)
    for window in p.dial.placed_windows:
        size = window.radial.value + 2 * gap, window.tangential.value + 2 * gap
        box = CrossSection.square(size, center=True).translate((window.radius.value, 0.0))
        yield box.rotate(window.angle.value - 90.0)


def _spot(angle: float, radius: float, diameter: Quantity, gap: float) -> CrossSection:
    x, y = direction(angle)
    return disc(x * radius, y * radius, (diameter.value / 2 if diameter.known else 0.0) + gap)


def _missing(report: Report) -> Iterator[str]:
    p = report.pairing
    date = p.movement.date
    if date is None or (date and not (date.disc_inner_radius.known and date.disc_outer_radius.known)):
        yield "date disc"
    if p.dial.feet is None:
        yield "dial feet"
    if p.movement.foot_holes is None or (p.movement.foot_holes and not report.foot_marks):
        yield "foot holes"


def _opened(area: CrossSection, by: float) -> CrossSection:
    """The area without what is narrower than twice `by`; its corners are as round."""
    return area.offset(-by, JoinType.Round, 2.0, _ROUND).offset(by, JoinType.Round, 2.0, _ROUND)


def _pads(free: CrossSection, least: float) -> Iterator[Pad]:
    """The evenly spread places at which the worst pad holds best."""
    every = {angle: _pad_at(free, angle, least) for angle in range(0, 360, _STEP)}
    turn = 360 // PADS
    places = [[every[first + i * turn] for i in range(PADS)] for first in range(0, turn, _STEP)]
    best = max(places, key=lambda pads: min(_hold(pad) for pad in pads))
    yield from (pad for pad in best if pad is not None)


def _hold(pad: Pad | None) -> float:
    """Rounded, so that of places as good as each other the first is taken."""
    return round(pad.hold, 2) if pad is not None else 0.0


def _pad_at(free: CrossSection, angle: int, least: float) -> Pad | None:
    """The pad in the sector about an angle: the part of the free area there that holds best, without holes."""
    reach = 100.0
    ends = [direction(angle + turn) for turn in (-SPAN / 2, SPAN / 2)]
    sector = CrossSection([np.array([(0.0, 0.0), *((x * reach, y * reach) for x, y in ends)])])
    parts = [part for part in _opened(free ^ sector, least).decompose() if part.num_contour() == 1]
    pads = [Pad(_outlines(part)[0], part.area(), float(angle)) for part in parts if part.area() >= LEAST]
    return max(pads, key=_hold, default=None)


def _outlines(area: CrossSection) -> tuple[Outline, ...]:
    return tuple(np.asarray(ring) for ring in area.to_polygons())
