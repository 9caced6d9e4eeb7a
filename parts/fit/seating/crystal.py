"""The room under the crystal, flat or domed.

Source: fit model section 5; the dome is a sphere through the centre and edge gaps, its sagitta as in any optics
handbook (SAG = R - sqrt(R^2 - (D/2)^2)).
"""

from math import nan

from parts.fit.arithmetic.elementwise import Number, Truth, is_lost, lower, negation, pick, root
from parts.fit.arithmetic.quantities import SLACK, Quantity, in_hand, through, unknown
from parts.fit.records import Case

FLAT = 1e-6
"""A dome rising less than this (mm) is flat."""


def sphere_radius(rise: Number, edge_radius: Number) -> Number:
    """Radius of the sphere whose cap is `rise` high at `edge_radius` from its axis."""
    return (edge_radius**2 + rise**2) / (2 * rise)


def sagitta(radius: Number, r: Number) -> Number:
    """How far a sphere has fallen away from its apex at the distance r from the axis (all of it beyond its equator)."""
    r = lower(r, radius)
    return radius - root(radius**2 - r**2)


def is_flat(case: Case) -> Truth:
    """Whether the crystal is given by its centre gap alone."""
    edge, radius = case.crystal_gap_edge, case.crystal_edge_radius
    if edge.known and radius.known:
        return is_lost(edge.value) & is_lost(radius.value)
    return not (edge.known or radius.known)


def gap_at(case: Case, reach: Quantity, beyond: Number) -> Quantity:
    """Room from the dial-seat plane to the crystal's underside at the radius `reach`, mm, without the front spacer.

    For a crystal bowed inwards the centre is the tightest place that a hand sweeps, so its gap counts everywhere.
    More than `beyond` outside the radius of its edge gap a dome is not known: the edge gap is missing there.
    """
    alone = is_flat(case)
    if alone is True:
        return case.crystal_gap_centre
    centre, edge, radius = case.crystal_gap_centre, case.crystal_gap_edge, case.crystal_edge_radius
    terms = (1.0, centre), (0.0, edge), (0.0, radius), (0.0, reach)
    waiting = through(lambda *_values: 0.0, *terms)
    if not waiting.known:
        return waiting
    rise = centre.value - edge.value
    flat = alone | (rise <= FLAT)
    rise = pick(flat, 1.0, rise)
    too_far = (reach.value > radius.value + beyond + SLACK) & negation(flat)
    if too_far is True:
        return unknown("case.crystal_gap_edge")
    sphere = sphere_radius(rise, radius.value)
    by_rise = (rise**2 - radius.value**2) / (2 * rise**2)
    by_sphere, by_reach = _sagitta_slopes(sphere, reach.value)
    domed = through(
        lambda c, _e, _big_r, r: c - sagitta(sphere, r),
        (1.0 - by_sphere * by_rise, centre),
        (by_sphere * by_rise, edge),
        (-by_sphere * radius.value / rise, radius),
        (-by_reach, reach),
    )
    lost = too_far | negation(alone | in_hand(centre, edge, radius, reach))
    return pick(lost, Quantity(nan), pick(flat, centre, domed))


def _sagitta_slopes(sphere: Number, r: Number) -> tuple[Number, Number]:
    """The sagitta's derivatives by the sphere's radius and by r; beyond the equator it is the radius itself."""
    beyond = r >= sphere
    height = pick(beyond, 1.0, root(sphere**2 - lower(r, sphere) ** 2))
    return pick(beyond, 1.0, 1.0 - sphere / height), pick(beyond, 0.0, r / height)
