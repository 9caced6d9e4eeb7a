"""A dome as a cap of a sphere: how far it has fallen away from its middle.

Source: the sagitta as in any optics handbook (SAG = R - sqrt(R^2 - (D/2)^2)); fit model sections 5 and 11.
"""

from parts.fit.arithmetic.elementwise import Number, lower, pick, root
from parts.fit.arithmetic.quantities import Quantity, through

FLAT = 1e-6
"""A dome rising less than this (mm) is flat."""


def sphere_radius(rise: Number, edge_radius: Number) -> Number:
    """Radius of the sphere whose cap is `rise` high at `edge_radius` from its axis."""
    return (edge_radius**2 + rise**2) / (2 * rise)


def sagitta(radius: Number, r: Number) -> Number:
    """How far a sphere has fallen away from its apex at the distance r from the axis (all of it beyond its equator)."""
    r = lower(r, radius)
    return radius - root(radius**2 - r**2)


def fall(rise: Quantity, edge: Quantity, reach: Quantity) -> Quantity:
    """How far a dome, `rise` high over its `edge` radius, has fallen at the radius `reach`; 0 where it is flat."""
    waiting = through(lambda *_values: 0.0, (0.0, rise), (0.0, edge), (0.0, reach))
    if not waiting.known:
        return waiting
    flat = rise.value <= FLAT
    if flat is True:
        return waiting
    height = pick(flat, 1.0, rise.value)
    sphere = sphere_radius(height, edge.value)
    by_sphere, by_reach = _slopes(sphere, reach.value)
    by_rise = by_sphere * (height**2 - edge.value**2) / (2 * height**2)
    domed = through(
        lambda _rise, _edge, r: sagitta(sphere, r),
        (by_rise, rise),
        (by_sphere * edge.value / height, edge),
        (by_reach, reach),
    )
    return pick(flat, waiting, domed)


def _slopes(sphere: Number, r: Number) -> tuple[Number, Number]:
    """The sagitta's derivatives by the sphere's radius and by r; beyond the equator it is the radius itself."""
    beyond = r >= sphere
    height = pick(beyond, 1.0, root(sphere**2 - lower(r, sphere) ** 2))
    return pick(beyond, 1.0, 1.0 - sphere / height), pick(beyond, 0.0, r / height)
