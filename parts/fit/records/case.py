"""The case as it was measured. Depths count from the dial seat towards the case back."""

from dataclasses import dataclass

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.inputs import a_length, a_size, an_angle
from parts.fit.records.kinds import choice


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
    stem_angle: Quantity = an_angle("stem angle", "direction of the crown: 90 is 3 o'clock")
    tube_bore_diameter: Quantity = a_size("tube bore diameter", "inside of the case tube, round the stem", bounded=True)
    tube_outer_diameter: Quantity = a_size("tube outer diameter", "outside of the case tube, under the crown")
    crown_seat_radius: Quantity = a_length(
        "crown seat radius", "from the case's centre to the face where the crown stops"
    )
    loading: str = choice("loading", ("back", "front"), "back")
