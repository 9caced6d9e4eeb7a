"""Widths between outlines, round or not: how one part lies inside another, seen from the front.

Source: fit model sections 4 and 11.4. Between two round parts a width is a difference of diameters. Otherwise it comes
from the outlines' geometry, with an interval by both ends of each uncertain number.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from parts.fit.arithmetic import outlines
from parts.fit.arithmetic.elementwise import Number, lower, pick, upper
from parts.fit.arithmetic.ends import ends
from parts.fit.arithmetic.quantities import Quantity, in_hand, missing_of, unknown
from parts.fit.records import Sheet
from parts.fit.records.outline import Outline
from parts.fit.verdicts import Span

_LEAST_SIZE = 1e-4


class Edge(NamedTuple):
    """A part's edge: its diameter, or the outline that stands in its place."""

    diameter: Quantity
    outline: Outline | None

    @property
    def numbers(self) -> tuple[Quantity, ...]:
        return (self.diameter,) if self.outline is None else self.outline.numbers

    def shape(self, values: tuple[Number, ...]) -> outlines.Outline:
        """The edge with these numbers, in the order of `numbers`; a corner is no rounder than it can be."""
        if self.outline is None:
            return outlines.circle(*values)
        if self.outline.shape == "polyline":
            return outlines.Outline("polyline", points=self.outline.points or ())
        width, height, *corner = values
        rounds = lower(corner[0], lower(width, height) / 2) if corner else 0.0
        return outlines.Outline(self.outline.shape or "", width, height, rounds)


class Room(NamedTuple):
    """A width with its interval where that is not the value with its half-width to both sides."""

    value: Quantity
    span: Span | None = None

    def times(self, factor: float) -> Room:
        """The width so many times."""
        return Room(self.value * factor, self.span and (self.span[0] * factor, self.span[1] * factor))

    def less(self, other: Quantity | Number) -> Room:
        """The width less a quantity."""
        value = self.value - other
        if self.span is None or not value.known:
            return Room(value)
        if not isinstance(other, Quantity):
            return Room(value, (self.span[0] - other, self.span[1] - other))
        return Room(value, (self.span[0] - other.high, self.span[1] - other.low))


def bore(sheet: Sheet) -> Edge:
    return Edge(sheet.case.bore_diameter, sheet.case.bore_outline)


def seat(sheet: Sheet) -> Edge:
    return Edge(sheet.case.dial_seat_diameter, sheet.case.seat_outline)


def opening(sheet: Sheet) -> Edge:
    return Edge(sheet.case.dial_opening_diameter, sheet.case.opening_outline)


def front(sheet: Sheet) -> Edge:
    return Edge(sheet.case.front_opening_diameter, sheet.case.front_opening_outline)


def dial(sheet: Sheet) -> Edge:
    return Edge(sheet.dial.diameter, sheet.dial.outline)


def movement(sheet: Sheet) -> Edge:
    return Edge(sheet.movement.overall_diameter, sheet.movement.outline)


def gripped(sheet: Sheet) -> Edge:
    """What a holder ring grips."""
    return Edge(sheet.movement.fit_diameter, sheet.movement.fit_outline)


def across(a: Edge, b: Edge) -> Room:
    """2 c(A in B): for two round edges B's diameter less A's."""
    if a.outline is None and b.outline is None:
        return Room(b.diameter - a.diameter)
    return clear(a, b).times(2.0)


def clear(a: Edge, b: Edge) -> Room:
    """c(A in B): half the difference of two diameters, the least distance from edge to edge otherwise."""
    if a.outline is None and b.outline is None:
        return Room(0.5 * (b.diameter - a.diameter))
    first = len(a.numbers)
    return _measured(
        lambda *values: outlines.clear(a.shape(values[:first]), b.shape(values[first:])), (*a.numbers, *b.numbers)
    )


def inner(edge: Edge) -> Room:
    """Least distance from the axis to the edge: half the diameter of a round one."""
    if edge.outline is None:
        return Room(0.5 * edge.diameter)
    return _measured(lambda *values: outlines.inner(edge.shape(values)), edge.numbers)


def outer(edge: Edge) -> Room:
    """Farthest distance from the axis to the edge."""
    if edge.outline is None:
        return Room(0.5 * edge.diameter)
    return _measured(lambda *values: outlines.outer(edge.shape(values)), edge.numbers)


def in_direction(edge: Edge, angle: Quantity) -> Room:
    """Distance from the axis to the edge in a direction."""
    if edge.outline is None:
        return Room(0.5 * edge.diameter)
    return _measured(
        lambda *values: outlines.along_ray(edge.shape(values[1:]), values[0]), (angle, *edge.numbers), turns=1
    )


def _measured(formula: Callable[..., Number], inputs: tuple[Quantity, ...], turns: int = 0) -> Room:
    """The formula of these numbers with both ends of each; the first `turns` of them are angles and not sizes."""
    missing = missing_of(*inputs)
    if missing:
        return Room(unknown(*missing))

    def step_to(i: int, at: Number, step: Number) -> Number:
        return at + step if i < turns else upper(at + step, _LEAST_SIZE)

    value, falls, rises, spread = ends(
        formula, tuple(quantity.value for quantity in inputs), [quantity.spread for quantity in inputs], step_to
    )
    value = pick(in_hand(*inputs), value, float("nan"))
    return Room(Quantity(value, spread), (value + falls, value + rises))
