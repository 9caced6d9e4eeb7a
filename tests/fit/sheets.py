"""One complete pairing sheet in which everything fits but the stem, which is to be trimmed; all numbers are invented.

Each test changes what it is about, by path: sheet({"case.back_depth": 4.0, "dial.feet.0.angle": None}).
"""

from copy import deepcopy

from parts.fit import check_sheet

ABSENT = object()
"""Take the key out altogether."""

SHEET = {
    "case": {
        "bore_diameter": 28.7,
        "dial_seat_diameter": 28.6,
        "dial_opening_diameter": 27.6,
        "stem_axis_depth": 2.0,
        "back_depth": 4.1,
        "crystal_gap_centre": 2.4,
        "stem_angle": 90,
        "tube_bore_diameter": 2.0,
        "tube_outer_diameter": 2.5,
        "crown_seat_radius": 17.0,
        "loading": "back",
    },
    "dial": {
        "diameter": 28.5,
        "thickness": 0.4,
        "centre_hole_diameter": 1.8,
        "minute_track_radius": 12.0,
        "hour_marker_inner_radius": 8.5,
        "feet": [{"angle": 45, "radius": 11.0, "diameter": 0.7}, {"angle": 200, "radius": 11.0, "diameter": 0.7}],
        "window": {"angle": 90, "radius": 10.0, "radial": 1.6, "tangential": 2.0},
        "day_window": False,
        "furniture": [{"name": "applied index", "inner_radius": 9.0, "outer_radius": 10.5, "height": 0.2}],
    },
    "movement": {
        "fit_diameter": 28.6,
        "overall_diameter": 28.65,
        "stem_axis_depth": 1.6,
        "back_height": 3.5,
        "stem_thread": 0.9,
        "stem_reference_radius": 4.0,
        "posts": {
            "hour": {"diameter": 1.5, "height": 1.2},
            "minute": {"diameter": 0.9, "height": 1.9},
            "seconds": {"diameter": 0.25, "height": 2.6},
        },
        "foot_holes": [
            {"angle": 315, "radius": 11.0, "diameter": 0.8},
            {"angle": 110, "radius": 11.0, "diameter": 0.8},
        ],
        "date": {
            "angle": 0,
            "numeral_radius": 10.0,
            "numeral_radial": 1.2,
            "numeral_tangential": 1.5,
            "disc_inner_radius": 9.0,
            "disc_outer_radius": 11.0,
        },
        "day": False,
        "unbalance_limits": {"hour": 1.0, "minute": 0.8, "seconds": 0.1},
        "cell_capacity": 45,
        "current": 1.5,
    },
    "hands": {
        "hour": {
            "hole_diameter": 1.49,
            "length": 8.0,
            "tail": 2.0,
            "thickness": 0.15,
            "hub_height": 0.5,
            "hub_diameter": 2.2,
            "mass": 12.0,
            "centre_of_mass": 2.0,
        },
        "minute": {
            "hole_diameter": 0.89,
            "length": 11.5,
            "tail": 2.5,
            "thickness": 0.15,
            "hub_height": 0.45,
            "hub_diameter": 1.6,
            "mass": 10.0,
            "centre_of_mass": 3.0,
        },
        "seconds": {
            "hole_diameter": 0.24,
            "length": 12.0,
            "tail": 4.0,
            "thickness": 0.1,
            "hub_height": 0.4,
            "hub_diameter": 0.8,
            "mass": 2.0,
            "centre_of_mass": 1.0,
        },
    },
    "stem": {"thread": 0.9, "length": 16.0},
    "crown": {"thread": 0.9, "bore_depth": 2.0, "tube_bore_diameter": 2.6, "style": "push"},
    "spacer": {"placement": "auto"},
    "rules": {},
}


def sheet(changes=None):
    """A copy of the base sheet with the value at each path (dots, list items by number) replaced."""
    made = deepcopy(SHEET)
    for path, value in (changes or {}).items():
        *way, last = path.split(".")
        node = made
        for step in way:
            node = node[int(step)] if isinstance(node, list) else node[step]
        if value is ABSENT:
            del node[last]
        elif isinstance(node, list):
            node[int(last)] = value
        else:
            node[last] = value
    return made


def report(changes=None):
    return check_sheet(sheet(changes))


def judged(key, changes=None):
    """The check with this key for the changed sheet."""
    return report(changes)[key]


def kinds(check):
    """The kinds of its remedies, in order."""
    return [remedy.kind for remedy in check.remedies]


def keys(found):
    return [check.key for check in found.checks]


def numbers(node=None, path=""):
    """Every path of the base sheet that holds one measured number."""
    node = SHEET if node is None else node
    items = node.items() if isinstance(node, dict) else enumerate(node)
    for name, value in items:
        here = f"{path}.{name}" if path else str(name)
        if isinstance(value, (dict, list)):
            yield from numbers(value, here)
        elif isinstance(value, (int, float)) and not isinstance(value, bool):
            yield here
