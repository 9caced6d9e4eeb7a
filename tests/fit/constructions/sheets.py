"""The base sheet in the other constructions; all numbers are invented. Each is a set of changes to it, by path."""

FRONT = {
    "case.loading": None,
    "case.construction": "front",
    "case.stem_axis_depth": None,
    "case.back_depth": None,
    "case.crystal_gap_centre": None,
    "case.dial_seat_diameter": None,
    "case.floor_stem": 1.9,
    "case.floor_ring": 3.9,
    "case.floor_crystal_centre": 6.3,
    "case.ring": "rehaut",
    "case.front_opening_diameter": 28.8,
}
"""A one-piece case: the stem lies 1.90 over its floor, where the bare movement's lies 3.5 - 1.6; the dial's face is at
1.9 + 1.6 + 0.4 = 3.90, so that the rehaut lies on it and the crystal 2.40 over it, as in the base sheet."""
TENSION = FRONT | {"case.ring": "tension", "case.floor_ring": 3.85}
SPLIT = {"stem.length": None, "stem.joint": {"inner_length": 10.0, "outer_length": 6.0, "overlap": 0.9}}
"""10 + 6 - 0.9 = 15.10, where 15.05 is needed; the stub ends at 4 + 10 = 14.00 of 14.35."""
CARRIED = {
    "dial.rests_on": "movement",
    "movement.ring_rise": 0.5,
    "case.dial_seat_diameter": None,
    "case.stem_axis_depth": 1.1,
    "case.back_depth": 3.2,
    "case.crystal_gap_centre": 3.3,
}
"""On a ledge: s = 1.1 + 0.5 - 1.6 = 0; the dial rest lies 0.50 in front of it, the face 0.90, the crystal 3.30."""
RIM = {"case.rim": [[13.5, 0.6], [12.6, 1.8], [12.4, 2.4]]}
DOMED = {"dial.rise": 0.4, "dial.thickness": 0.4}
SMALL = {
    "movement.subsidiary": [{"name": "small seconds", "angle": 90, "radius": 5.0, "diameter": 0.25, "height": 1.0}],
    "dial.subdials": [{"name": "small seconds", "angle": 180, "radius": 5.0, "hole_diameter": 0.65, "depth": 0.1}],
    "hands.subsidiary": {
        "small seconds": {
            "hole_diameter": 0.24,
            "length": 2.5,
            "tail": 0.8,
            "thickness": 0.1,
            "hub_height": 0.4,
            "hub_diameter": 0.8,
        }
    },
}
DAY = {
    "dial.day_window": {"angle": 0, "radius": 8.0, "radial": 2.0, "tangential": 3.0},
    "movement.day": {
        "angle": -90,
        "numeral_radius": 8.0,
        "numeral_radial": 1.5,
        "numeral_tangential": 2.5,
        "pitch": 360 / 7,
    },
}
RECTANGLE = {
    "case.bore_diameter": None,
    "case.dial_seat_diameter": None,
    "case.dial_opening_diameter": None,
    "dial.diameter": None,
    "movement.overall_diameter": None,
    "movement.fit_diameter": None,
    "case.bore_outline": {"shape": "rectangle", "width": 27.0, "height": 30.4, "corner": 2.0},
    "case.seat_outline": {"shape": "rectangle", "width": 26.8, "height": 30.2, "corner": 2.0},
    "case.opening_outline": {"shape": "rectangle", "width": 25.8, "height": 29.2, "corner": 1.6},
    "dial.outline": {"shape": "rectangle", "width": 26.7, "height": 30.1, "corner": 2.0},
    "movement.outline": {"shape": "oval", "width": 26.0, "height": 29.0},
    "movement.fit_outline": {"shape": "oval", "width": 25.0, "height": 28.0},
}
"""A rectangular case 27.0 by 30.4 with an oval movement."""
ALL = {
    "front": FRONT,
    "tension": TENSION,
    "split": SPLIT,
    "carried": CARRIED,
    "holder to be made": CARRIED | {"movement.ring_rise": None},
    "rim": {"case.rim": [{"radius": r, "height": h} for r, h in RIM["case.rim"]]},
    "domed": DOMED,
    "bent": {"hands.hour.tip_drop": 0.1, "hands.minute.tip_drop": 0.2},
    "small": SMALL,
    "day": DAY,
    "rectangle": RECTANGLE,
}
