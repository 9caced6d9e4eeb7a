"""Invented pairings that go together: three hands, with or without a date, flat or domed, of every usual size.

Nothing is stored: a seed makes the same pairings each time. Each is built from the dial outwards the way real parts
hang together, then kept only if the check of its exact numbers says that it goes, as it is or with work.
"""

import json
import random

from parts.fit import SheetError, check_sheet

HANDS = ("hour", "minute", "seconds")


def pairings(count, seed, more=None):
    """That many pairing sheets of exact numbers, each with the verdict fits or work, `more(sheet, chance)` added."""
    chance, made = random.Random(seed), []
    while len(made) < count:
        data = _pairing(chance)
        if more:
            more(data, chance)
        data = _rounded(data)
        try:
            found = check_sheet(data)
        except SheetError:
            continue
        if found.verdict in ("fits", "work"):
            made.append(data)
    return made


def add_optional(data, chance):
    """Put in the numbers for which something else stands where they are not measured.

    The dial is as thick at the hub as elsewhere, or thicker; a dial sunk there is seen, and has to be measured. Pads
    are left out: where they were not measured the rule's thickness stands for them, which another may differ from.
    """
    of = chance.uniform
    data["dial"] |= {"centre_thickness": data["dial"]["thickness"] + of(0.0, 0.15)}
    for hand in filter(None, data["hands"].values()):
        hand |= {"cap_thickness": chance.choice([0.0, of(0.02, 0.15)]), "blade_step": of(0.0, 0.1)}
    for post in data["movement"]["posts"].values():
        post["end_play"] = of(0.0, 0.05)
    data["hands"]["hour"]["boss_diameter"] = data["hands"]["hour"]["hub_diameter"] + of(0.0, 1.0)
    data["stem"]["diameter"] = of(0.9, 1.2)


def measured(data, chance, low=0.02, high=0.03):
    """The sheet as a calliper tells it: every length known to ±0.02 to 0.03 mm, every angle to ±0.5 degrees.

    What nobody measures with a calliper stays exact: masses and currents, and threads that are known by name. A hole
    and its post are told by pins and by trying, to ±0.005.
    """
    return _each(data, lambda path, value: [value, _width(path, chance, low, high)])


def _width(path, chance, low, high):
    last = path.rpartition(".")[2]
    if last in ("mass", "centre_of_mass", "cell_capacity", "current", "thread", "stem_thread") or "unbalance" in path:
        return 0.0
    if last in ("angle", "stem_angle"):
        return 0.5
    if last == "hole_diameter" or ("posts" in path and last == "diameter"):
        return 0.005
    return round(chance.uniform(low, high), 4)


def without_each(data):
    """The sheet with each of its numbers taken away in turn, as (path, sheet)."""
    paths = []
    _each(data, lambda path, value: paths.append(path))
    for lost in paths:
        yield lost, _each(data, lambda path, value, lost=lost: None if path == lost else value)


def _each(node, change, path=""):
    """A copy with change(path, number) in place of each number."""
    if isinstance(node, dict):
        return {name: _each(value, change, f"{path}.{name}" if path else name) for name, value in node.items()}
    if isinstance(node, list):
        return [_each(item, change, f"{path}[{i}]") for i, item in enumerate(node)]
    if isinstance(node, bool) or not isinstance(node, (int, float)):
        return node
    return change(path, node)


def _rounded(data):
    return json.loads(json.dumps(_each(data, lambda _path, value: round(value, 3))))


def _pairing(chance):
    of = chance.uniform
    dial = of(20.0, 33.0)
    seat = dial + of(-0.1, 0.35)
    opening = dial - of(0.5, 1.4)
    bore = dial + of(0.0, 1.5)
    overall = of(17.0, min(bore - 0.01, 30.0))
    fit = overall - of(0.0, 0.4)
    thick, deep, back = of(0.3, 0.6), of(1.0, 2.2), of(2.4, 4.8)
    back = max(back, deep + 0.8)
    spacer = chance.choice([0.0, of(-0.08, 0.08), of(0.12, 0.8)])
    axis = thick + deep + spacer
    tops = [thick + of(0.5, 1.0)]
    tops += [tops[0] + of(0.45, 0.8)]
    tops += [tops[1] + of(0.4, 0.7)]
    reach = opening / 2 - of(0.3, 2.5)
    lengths = {"hour": reach * of(0.6, 0.75), "minute": reach * of(0.9, 1.0), "seconds": reach * of(0.9, 1.0)}
    posts = {"hour": of(1.0, 2.0), "minute": of(0.6, 0.95), "seconds": of(0.17, 0.3)}
    two = chance.random() < 0.2
    crystal = tops[1 if two else 2] - thick + of(0.1, 0.6)
    case = {
        "bore_diameter": bore,
        "dial_seat_diameter": seat,
        "dial_opening_diameter": opening,
        "stem_axis_depth": axis,
        "back_depth": thick + max(spacer, 0.0) + back + of(0.02, 0.8),
        "crystal_gap_centre": crystal,
        "stem_angle": chance.choice([90.0, 90.0, 120.0]),
        "tube_bore_diameter": of(1.25, 1.8),
        "tube_outer_diameter": of(2.0, 2.5),
        "crown_seat_radius": bore / 2 + of(1.0, 2.5),
        "loading": "back",
    }
    if chance.random() < 0.5:
        rise = of(0.1, 0.8)
        edge = {
            "crystal_gap_centre": crystal + rise,
            "crystal_gap_edge": crystal,
            "crystal_edge_radius": opening / 2 - 0.4,
        }
        case |= edge
    stem_angle = case["stem_angle"]
    holes = [{"angle": angle, "radius": dial / 2 - 2.6, "diameter": 0.8} for angle in (-35.0, 145.0)]
    feet = [
        {
            "angle": (stem_angle + hole["angle"] + of(-0.3, 0.3)) % 360,
            "radius": hole["radius"] + of(-0.04, 0.04),
            "diameter": 0.7,
        }
        for hole in holes
    ]
    date = window = "none"
    if chance.random() < 0.4:
        ring = dial / 2 - of(3.2, 4.0)
        date = {
            "angle": 0.0,
            "numeral_radius": ring,
            "numeral_radial": 1.2,
            "numeral_tangential": 1.5,
            "disc_inner_radius": ring - 1.3,
            "disc_outer_radius": ring + 1.3,
        }
        window = {"angle": stem_angle, "radius": ring + of(-0.3, 0.3), "radial": 1.7, "tangential": 2.0}
    hands = {}
    for i, name in enumerate(HANDS):
        hub = of(0.4, 0.7)
        hands[name] = {
            "hole_diameter": posts[name] + of(-0.015, 0.0) + chance.choice([0.0, 0.0, of(-0.08, 0.06)]),
            "length": lengths[name],
            "tail": lengths[name] * of(0.1, 0.3),
            "thickness": of(0.1, 0.2),
            "hub_height": hub,
            "hub_diameter": posts[name] + of(0.5, 0.9),
            "mass": (12.0, 9.0, 2.0)[i],
            "centre_of_mass": (2.0, 3.0, 1.0)[i],
        }
    if two:
        hands["seconds"] = None
    reference = overall / 2 - of(0.0, 0.3)
    wanted = case["crown_seat_radius"] + 0.05 + 2.0 - reference
    return {
        "case": case,
        "dial": {
            "diameter": dial,
            "thickness": thick,
            "centre_hole_diameter": posts["hour"] + of(0.1, 0.5),
            "minute_track_radius": lengths["minute"] + of(-0.2, 1.0),
            "hour_marker_inner_radius": lengths["hour"] + of(-0.5, 1.5),
            "feet": feet,
            "window": window,
            "furniture": [
                {
                    "name": "markers",
                    "inner_radius": lengths["minute"] * 0.8,
                    "outer_radius": opening / 2 - of(0.2, 1.0),
                    "height": of(0.1, 0.3),
                }
            ],
        },
        "movement": {
            "fit_diameter": fit,
            "overall_diameter": overall,
            "stem_axis_depth": deep,
            "back_height": back,
            "stem_thread": 0.9,
            "stem_reference_radius": reference,
            "posts": {name: {"diameter": posts[name], "height": top} for name, top in zip(HANDS, tops, strict=True)},
            "foot_holes": holes,
            "date": date,
            "unbalance_limits": {"hour": 1.0, "minute": 0.8, "seconds": 0.1},
            "cell_capacity": 45.0,
            "current": 1.5,
        },
        "hands": hands,
        "stem": {"thread": 0.9, "length": wanted + of(0.0, 4.0)},
        "crown": {
            "thread": 0.9,
            "bore_depth": 2.0,
            "tube_bore_diameter": case["tube_outer_diameter"] + 0.08,
            "style": "push",
        },
    }
