"""The volume of a piece reckoned from closed forms, to hold the mesh against; only for pieces that are round."""

from dataclasses import replace
from itertools import pairwise
from math import pi, sqrt

from parts.holder.body import named_steps, nubs, profile, steps
from parts.holder.parameters import Piece, Ring, Spacer
from parts.holder.shapes import Point, Strip, Turned

_WITHOUT = {
    "notch_depth",
    "cutouts",
    "keys",
    "tab_count",
    "tongue_length",
    "split_width",
    "mark_width",
    "mark_words",
}


def exact_volume(parameters: Piece) -> float | None:
    """The volume, mm³, from closed forms of the area of every layer; None where features cut into each other.

    A layer of a turned piece is a ring, less the strip between two arcs that the channel or the split takes out of it.
    """
    turned, *others = (step.solid for step in steps(parameters))
    if not isinstance(turned, Turned):
        return None
    if not isinstance(parameters, Ring):
        strips = [solid for solid in others if isinstance(solid, Strip)]
        if len(strips) < len(others):
            return None
        return turned.volume - sum(_within(parameters, strip) for strip in strips)
    pins = list(nubs(parameters))
    if any(key in _WITHOUT for key, _ in named_steps(parameters)):
        return None
    if parameters.channel_open in ("back", "through") and pins:
        return None
    studs = sum(pi * pin.diameter**2 / 4 * parameters.nub_height for pin in pins)
    return turned.volume + studs - _channel_volume(parameters)


def _within(spacer: Spacer, strip: Strip) -> float:
    inner, outer = spacer.inner.width / 2, spacer.outer.width / 2
    return replace(strip, inner=inner, outer=outer).area * spacer.thickness


def _channel_volume(ring: Ring, panels: int = 64) -> float:
    """What the stem channel takes out of the turned ring: Simpson between the levels where it bends."""
    half, axis, h = ring.channel_width / 2, ring.channel_axis, ring.height
    corners = profile(ring)
    bends = {0.0, h, axis, axis - half, axis + half, *(z for _, z in corners)}
    levels = sorted(z for z in bends if 0 <= z <= h)
    total = 0.0
    for low, high in pairwise(levels):
        step = (high - low) / panels
        if step < 1e-9:
            continue
        for i in range(panels + 1):
            weight = 1 if i in (0, panels) else 4 if i % 2 else 2
            inside = min(max(low + i * step, low + 1e-9), high - 1e-9)
            total += weight * step / 3 * _channel_area(ring, corners, inside)
    return total


def _channel_area(ring: Ring, corners: tuple[Point, ...], z: float) -> float:
    beside = ring.channel_axis - z
    half = ring.channel_width / 2
    width = 2 * sqrt(max(0.0, half**2 - beside**2))
    if ring.channel_open in ("through", "dial" if beside > 0 else "back"):
        width = ring.channel_width
    inner, outer = _radii(corners, z)
    return Strip(0.0, width, inner, outer, 0.0, 0.0).area


def _radii(corners: tuple[Point, ...], z: float) -> Point:
    """Inner and outer radius of a profile at the height z, which is no corner's."""
    radii = []
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        if (a[1] - z) * (b[1] - z) < 0:
            radii.append(a[0] + (b[0] - a[0]) * (z - a[1]) / (b[1] - a[1]))
    return min(radii), max(radii)
