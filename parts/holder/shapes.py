"""The few solids that holder and spacer are put together from; every way to build a body reads the same list of them.

Angles in degrees clockwise from 12 o'clock seen from the dial side, lengths in mm, heights along z.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import asin, pi, sqrt
from typing import TypeAlias

from parts.fit.arithmetic.outlines import Outline

Point: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Turned:
    """A closed profile of (radius, z) corners, turned round the axis."""

    corners: tuple[Point, ...]

    @property
    def volume(self) -> float:
        """Pappus: the sum over the profile's edges of the truncated cones below them."""
        pairs = zip(self.corners, self.corners[1:] + self.corners[:1], strict=True)
        return abs(sum(pi / 3 * (b[1] - a[1]) * (a[0] ** 2 + a[0] * b[0] + b[0] ** 2) for a, b in pairs))


@dataclass(frozen=True, slots=True)
class Strip:
    """A straight strip of that width along the radius at `angle`, between two arcs about the axis."""

    angle: float
    width: float
    inner: float
    outer: float
    low: float
    high: float

    @property
    def area(self) -> float:
        """Closed form: the strip's share of the outer disc less that of the inner one, one side of the axis."""
        return _half_strip(self.outer, self.width) - _half_strip(self.inner, self.width)


@dataclass(frozen=True, slots=True)
class Pin:
    """An upright cylinder with its middle at (angle, radius)."""

    angle: float
    radius: float
    diameter: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Bore:
    """A cylinder along the radius at `angle` and height `axis`, from `inner` to `outer`."""

    angle: float
    diameter: float
    axis: float
    inner: float
    outer: float


@dataclass(frozen=True, slots=True)
class Prism:
    """What an outline encloses from the first to the last of its levels, (z, by) upwards, straight in between.

    At each level its edge lies farther out by `by`, or in below zero; an outline that is drawn in somewhere goes
    straight up.
    """

    outline: Outline
    levels: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Engraving:
    """What one letter's contours enclose, the inner ones left standing."""

    contours: tuple[tuple[Point, ...], ...]
    low: float
    high: float


Shape: TypeAlias = Turned | Strip | Pin | Bore | Prism | Engraving


@dataclass(frozen=True, slots=True)
class Step:
    """One step of building: add the solid, or cut it away."""

    cut: bool
    solid: Shape

    @classmethod
    def adding(cls, solid: Shape) -> Step:
        """A step that adds the solid."""
        return cls(cut=False, solid=solid)

    @classmethod
    def removing(cls, solid: Shape) -> Step:
        """A step that cuts the solid away."""
        return cls(cut=True, solid=solid)


def set_off(step: Step, off: float) -> Step:
    """The step with its solid larger where it cuts and smaller where it is added, by `off` to each side, mm.

    The body that all begins with stays as it is, turned or between outlines.
    """
    more = off if step.cut else -off
    match step.solid:
        case Strip(_, width, inner, outer, low, high) as strip:
            inner = max(0.0, inner - more)
            moved: Shape = replace(
                strip, width=width + more, inner=inner, outer=outer + more, low=low - more, high=high + more
            )
        case Pin(_, _, diameter, _, _) as pin:
            moved = replace(pin, diameter=diameter + more)
        case Bore(_, diameter, _, _, _) as bore:
            moved = replace(bore, diameter=diameter + more)
        case _:
            moved = step.solid
    return Step(step.cut, moved)


def _half_strip(radius: float, width: float) -> float:
    half = width / 2
    if half >= radius:
        return pi * radius**2 / 2
    return half * sqrt(radius**2 - half**2) + radius**2 * asin(half / radius)
