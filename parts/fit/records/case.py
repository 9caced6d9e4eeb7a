"""The case as it was measured.

Depths count from the dial seat towards the case back; in a case loaded from the front heights count from its floor
towards the crystal.
"""

from dataclasses import dataclass

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.inputs import a_length, a_size, an_amount, an_angle
from parts.fit.records.kinds import choice, pairs
from parts.fit.records.materials import BACKS, CRYSTALS
from parts.fit.records.outline import Outline
from parts.fit.records.outline import outline as outline_of


@dataclass(frozen=True, slots=True)
class RimPoint:
    """A point of the inner rim's profile."""

    radius: Quantity = a_size("radius", "from the centre to the rim at this height")
    height: Quantity = a_length("height", "over the dial seat, or over the ring's underside, towards the crystal")


@dataclass(frozen=True, slots=True)
class Case:
    bore_diameter: Quantity = a_size(
        "bore diameter", "inside of the case behind the dial seat, where the holder ring goes"
    )
    seat_wall: Quantity = a_length(
        "seat wall", "depth of the recess that holds the dial's edge sideways, from the seat towards the back"
    )
    dial_seat_diameter: Quantity = a_size("dial seat diameter", "diameter of the recess the dial lies in")
    dial_opening_diameter: Quantity = a_size(
        "dial opening diameter", "visible opening in front of the dial", bounded=True
    )
    stem_axis_depth: Quantity = a_length("stem axis depth", "from the dial seat back to the axis of the stem hole")
    back_depth: Quantity = a_length(
        "back depth",
        "from the dial seat to the inside of the closed case back, least over the movement's area",
        bounded=True,
    )
    crystal_gap_centre: Quantity = a_length(
        "crystal gap at the centre", "from the dial seat forward to the crystal", bounded=True
    )
    crystal_gap_edge: Quantity = a_length(
        "crystal gap at the edge", "the same near the rim; blank for a flat crystal", bounded=True
    )
    crystal_edge_radius: Quantity = a_size(
        "radius of the edge gap", "distance from the centre where the edge gap was measured"
    )
    rim: tuple[RimPoint, ...] = pairs(RimPoint, "inner rim point")
    stem_angle: Quantity = an_angle("stem angle", "direction of the crown: 90 is 3 o'clock")
    tube_bore_diameter: Quantity = a_size("tube bore diameter", "inside of the case tube, round the stem", bounded=True)
    tube_outer_diameter: Quantity = a_size("tube outer diameter", "outside of the case tube, under the crown")
    crown_seat_radius: Quantity = a_length(
        "crown seat radius", "from the case's centre to the face where the crown stops"
    )
    construction: str | None = choice("construction", ("back", "front"))
    loading: str | None = choice("loading", ("back", "front"))
    floor_stem: Quantity = a_length("floor to stem axis", "from the case floor forward to the axis of the stem hole")
    floor_ring: Quantity = a_length(
        "floor to ring", "from the case floor to the underside of the rehaut or tension ring, case closed"
    )
    floor_crystal_centre: Quantity = a_length(
        "floor to crystal at the centre", "from the case floor forward to the crystal's underside", bounded=True
    )
    floor_crystal_edge: Quantity = a_length(
        "floor to crystal at the edge", "the same near the rim; blank for a flat crystal", bounded=True
    )
    ring: str | None = choice("ring on the dial", ("rehaut", "tension"))
    front_opening_diameter: Quantity = a_size(
        "front opening diameter", "narrowest passage from the front, crystal and ring out", bounded=True
    )

    stated_pressure: Quantity = an_amount(
        "stated pressure", "bar", "what the case is marked for: 10 m by convention 1 bar", most=200.0, above=True
    )
    crystal_thickness: Quantity = a_size("crystal thickness", "in its middle")
    crystal_span: Quantity = a_size("crystal's free diameter", "inside of the shoulder or gasket that it rests on")
    crystal_material: str | None = choice("crystal material", tuple(CRYSTALS))
    back_thickness: Quantity = a_size("back thickness", "where the case back is thinnest")
    back_span: Quantity = a_size("back's free diameter", "inside of the rim that the case back rests on")
    back_material: str | None = choice("back material", tuple(BACKS))
    gasket_section: Quantity = a_size("gasket section", "thickness of the round cord, not stretched")
    gasket_diameter: Quantity = a_size("gasket inside diameter", "inside of the ring, lying free")
    groove_diameter: Quantity = a_size("groove inside diameter", "inside of the groove, which the gasket lies round")
    groove_depth: Quantity = a_size("groove depth", "from the groove's floor to the face that presses on the gasket")
    groove_width: Quantity = a_size("groove width", "from wall to wall")

    bore_outline: Outline | None = outline_of("bore outline")
    seat_outline: Outline | None = outline_of("dial seat outline")
    opening_outline: Outline | None = outline_of("dial opening outline")
    front_opening_outline: Outline | None = outline_of("front opening outline")

    @property
    def is_front_loaded(self) -> bool:
        """Whether the movement goes in through the front and stands on the case floor; `loading` is the older key."""
        return self.construction == "front" or self.loading == "front"

    @property
    def crystal(self) -> tuple[Quantity, Quantity]:
        """What the crystal's underside is measured by, at the centre and at its edge."""
        if self.is_front_loaded:
            return self.floor_crystal_centre, self.floor_crystal_edge
        return self.crystal_gap_centre, self.crystal_gap_edge
