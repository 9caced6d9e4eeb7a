"""The room under the crystal, flat or domed.

Source: fit model sections 5 and 11; a dome is a sphere through the centre and the edge.
"""

from math import nan

from parts.fit.arithmetic.dome import FLAT, fall
from parts.fit.arithmetic.elementwise import Number, Truth, is_lost, negation, pick
from parts.fit.arithmetic.quantities import SLACK, Quantity, in_hand, missing_of, unknown
from parts.fit.records import Case


def is_flat(case: Case) -> Truth:
    """Whether the crystal is given by its centre alone."""
    (_, edge), radius = case.crystal, case.crystal_edge_radius
    if edge.known and radius.known:
        return is_lost(edge.value) & is_lost(radius.value)
    return not (edge.known or radius.known)


def gap_at(case: Case, reach: Quantity, beyond: Number) -> Quantity:
    """The crystal's underside at the radius `reach`, mm in front of what it is measured from: seat, ledge or floor.

    For a crystal bowed inwards the centre is the tightest place that a hand sweeps, so it counts everywhere. More than
    `beyond` outside the radius of its edge a dome is not known: the edge is missing there.
    """
    (centre, edge), radius = case.crystal, case.crystal_edge_radius
    alone = is_flat(case)
    if alone is True:
        return centre
    missing = missing_of(centre, edge, radius, reach)
    if missing:
        return unknown(*missing)
    rise = centre - edge
    flat = alone | (rise.value <= FLAT)
    too_far = (reach.value > radius.value + beyond + SLACK) & negation(flat)
    if too_far is True:
        return unknown("case.floor_crystal_edge" if case.is_front_loaded else "case.crystal_gap_edge")
    domed = centre - fall(rise, radius, reach)
    lost = too_far | negation(alone | in_hand(centre, edge, radius, reach))
    return pick(lost, Quantity(nan), pick(flat, centre, domed))
