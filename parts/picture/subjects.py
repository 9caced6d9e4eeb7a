"""What is picked on a picture of each thing, in order, and the dimensions that come of it.

A pick is a circle, a place, a box of four edges, or a closed outline of places. Angles are clockwise from 12 o'clock
seen from the dial side: those of a picture from behind are mirrored here, once. Lengths in mm, angles in degrees.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import atan2, cos, degrees, hypot, radians, sin

import numpy as np

from parts.picture.camera import Array
from parts.picture.edges.face import Picked
from parts.picture.edges.round import Side
from parts.picture.plane import Plane
from parts.picture.reading import Reading, read

CIRCLE, PLACE, BOX, OUTLINE = "circle", "place", "box", "outline"
Formula = Callable[..., float]
LEAST_OF_OUTLINE, MOST_OF_OUTLINE = 4, 200
"""How many places an outline has."""
COLOURS = ("colour-marker", "colour-hand")
"""Picks of two spots whose colours are compared; no dimension comes of them."""


@dataclass(frozen=True)
class Pick:
    """Something to pick: its key and kind, what it is called and how to pick it; `least` is how many places.

    `places` names each place where they are no alike ones; `part` is on which side of its edge the part lies, of
    what has a wall or throws a shadow; `rises` how far it may stand over the face, mm, where nobody knows.
    """

    key: str
    kind: str
    label: str
    how: str = ""
    optional: bool = False
    least: int = 1
    places: tuple[str, ...] = ()
    part: Side | None = None
    rises: float = 0.0


@dataclass(frozen=True)
class Dimension:
    """A dimension that comes of picks: its path in the pairing sheet, what it needs, and its formula."""

    path: str
    needs: tuple[str, ...]
    formula: Formula


@dataclass(frozen=True)
class Outlined:
    """An outline that comes of a pick: its path, and the picks that give the hands' axis and a direction.

    `turn` is where that direction points, clockwise from 12 o'clock; `behind` says that the picture shows the back.
    """

    path: str
    pick: str
    axis: str
    towards: str
    turn: float = 0.0
    behind: bool = False


@dataclass(frozen=True)
class Subject:
    """A thing in a picture: what is picked, what comes of it, and the face whose `height` over the mat counts."""

    key: str
    title: str
    height: str
    picks: tuple[Pick, ...]
    dimensions: tuple[Dimension, ...]
    outlines: tuple[Outlined, ...] = ()


def _diameter(circle: Array) -> float:
    return float(2 * circle[2])


def _apart(a: Array, b: Array) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def _direction(centre: Array, place: Array) -> float:
    """Clockwise from straight up in the picture, degrees."""
    return degrees(atan2(place[0] - centre[0], centre[1] - place[1]))


def _clockwise(centre: Array, twelve: Array, place: Array) -> float:
    turn = (_direction(centre, place) - _direction(centre, twelve)) % 360.0
    return 0.0 if 360.0 - turn < 1e-9 else turn


def _mirrored(centre: Array, twelve: Array, place: Array) -> float:
    return (-_clockwise(centre, twelve, place)) % 360.0


def _middle(*edges: Array) -> Array:
    return np.asarray(np.mean([edge[:2] for edge in edges], axis=0))


def _width(centre: Array, edges: tuple[Array, ...], *, along: bool) -> float:
    """Width of a box of four edges along the radius through its middle, or across it."""
    middle = _middle(*edges)
    radius = (middle - centre[:2]) / hypot(*(middle - centre[:2]))
    way = radius if along else np.array([-radius[1], radius[0]])
    square_to_it = [edge for edge in edges if abs(np.cos(edge[2]) * way[0] + np.sin(edge[2]) * way[1]) < np.sqrt(0.5)]
    places = [float((edge[:2] - centre[:2]) @ way) for edge in square_to_it]
    return max(places) - min(places)


def _rows(path: str, key: str, centre: str, start: str, angle: Formula) -> tuple[Dimension, ...]:
    """Angle, radius and diameter of up to two things round a centre, feet or their holes; angles count from `start`."""
    return tuple(
        dimension
        for i in (0, 1)
        for dimension in (
            Dimension(f"{path}[{i}].angle", (centre, f"{start}.0", f"{key}-{i + 1}"), angle),
            Dimension(f"{path}[{i}].radius", (centre, f"{key}-{i + 1}"), _apart),
            Dimension(f"{path}[{i}].diameter", (f"{key}-{i + 1}",), _diameter),
        )
    )


def _outline(key: str, label: str) -> Pick:
    how = "places along its edge, one after another once round, closer together where it bends"
    return Pick(key, OUTLINE, label, how, optional=True, least=LEAST_OF_OUTLINE)


LANDMARKS = {
    "window": ("window.0", "window.1", "window.2", "window.3"),
    "notch": ("notch.0",),
}
"""What is seen of a dial from both sides away from its middle, by its pick: the picked parts whose middle it is."""
_EDGES = LANDMARKS["window"]
_BOX = ("numeral.0", "numeral.1", "numeral.2", "numeral.3")
_HOLE = Pick("hole", CIRCLE, "Centre hole", "its edge, anywhere near", part="outside")
_TWELVE = Pick("twelve", PLACE, "12 o'clock", "the printed mark at 12, its middle")
_RIM = Pick("rim", CIRCLE, "Outside of the dial", "its edge, anywhere near", part="inside")
_WINDOW = Pick("window", BOX, "Date window", "its four corners, one after another", optional=True, part="outside")
_NOTCH = Pick("notch", PLACE, "A notch or hole seen from both sides", "its middle, on both pictures", optional=True)

RAISED = tuple(f"raised-{i}" for i in range(1, 7))
"""Picks of what stands up from a dial's face, one for each of its rows."""
_PLATE = (
    Dimension("dial.diameter", ("rim",), _diameter),
    Dimension("dial.centre_hole_diameter", ("hole",), _diameter),
)


def _date_window(angle: Formula) -> tuple[Dimension, ...]:
    """Where a dial's window lies and its size, seen from the side whose angles are read by `angle`."""
    return (
        Dimension(
            "dial.window.angle",
            ("hole", "twelve.0", *_EDGES),
            lambda hole, twelve, *edges: angle(hole, twelve, _middle(*edges)),
        ),
        Dimension("dial.window.radius", ("hole", *_EDGES), lambda hole, *edges: _apart(hole, _middle(*edges))),
        Dimension("dial.window.radial", ("hole", *_EDGES), lambda hole, *edges: _width(hole, edges, along=True)),
        Dimension("dial.window.tangential", ("hole", *_EDGES), lambda hole, *edges: _width(hole, edges, along=False)),
    )


DIAL_FRONT = Subject(
    "dial-front",
    "Dial, from the front",
    "the dial's face",
    (
        _RIM,
        _HOLE,
        _TWELVE,
        Pick("track", PLACE, "Minute track", "outer ends of three minute marks, well apart", optional=True, least=3),
        Pick("marker", PLACE, "Hour marker", "the inner end of one", optional=True),
        *(
            Pick(
                key,
                PLACE,
                "Raised marker or logo",
                "where it begins and where it ends, seen from the centre",
                optional=True,
                least=2,
                places=("its point nearest to the centre", "its point farthest from the centre"),
            )
            for key in RAISED
        ),
        _WINDOW,
        _NOTCH,
        _outline("outline", "Dial’s outline, if it is not round"),
        Pick(COLOURS[0], PLACE, "Luminous colour of a marker", "the middle of its paint", optional=True),
        Pick(COLOURS[1], PLACE, "Luminous colour of a hand", "a hand laid beside the dial, its paint", optional=True),
    ),
    (
        *_PLATE,
        Dimension(
            "dial.minute_track_radius",
            ("hole", "track.0", "track.1", "track.2"),
            lambda hole, *ends: float(np.mean([_apart(hole, end) for end in ends])),
        ),
        Dimension("dial.hour_marker_inner_radius", ("hole", "marker.0"), _apart),
        *_date_window(_clockwise),
        *(
            Dimension(f"dial.furniture[{i}].{end}_radius", ("hole", f"{key}.{place}"), _apart)
            for i, key in enumerate(RAISED)
            for place, end in enumerate(("inner", "outer"))
        ),
    ),
    (Outlined("dial.outline", "outline", "hole", "twelve.0"),),
)
FOOT_LENGTH, POST_HEIGHT, WALL_HEIGHT = 2.0, 2.0, 1.0
"""How far a dial's foot stands over its back, the hour post over the dial rest, and the wall round a dial over its
seat, mm; common practice, no source."""
_FOOT = "the edge of its root. The straighter from above the camera looks, the less its length counts"
_POST = "the hour post's edge. The straighter from above the camera looks, the less its height counts"
DIAL_BACK = Subject(
    "dial-back",
    "Dial, from behind",
    "the dial's back, at the roots of its feet",
    (
        replace(_RIM, optional=True),
        _HOLE,
        _WINDOW,
        _NOTCH,
        Pick(
            "twelve",
            PLACE,
            "12 o'clock",
            "where 12 lies on the other side: mark it on tape first. A window or notch picked here and in a picture "
            "from the front tells it too",
        ),
        Pick("foot-1", CIRCLE, "First foot", _FOOT, part="inside", rises=FOOT_LENGTH),
        Pick("foot-2", CIRCLE, "Second foot", _FOOT, optional=True, part="inside", rises=FOOT_LENGTH),
        _outline("outline", "Dial’s outline, if it is not round"),
    ),
    (*_PLATE, *_date_window(_mirrored), *_rows("dial.feet", "foot", "hole", "twelve", _mirrored)),
    (Outlined("dial.outline", "outline", "hole", "twelve.0", behind=True),),
)
MOVEMENT = Subject(
    "movement",
    "Movement, dial side",
    "the dial rest",
    (
        Pick("rim", CIRCLE, "Outside of the movement", "its widest edge", optional=True, part="inside"),
        Pick("post", CIRCLE, "Hand axis", _POST, part="inside", rises=POST_HEIGHT),
        Pick("stem", PLACE, "Stem", "the middle of the stem, as far out as you see it"),
        *(Pick(f"foot-hole-{i}", CIRCLE, f"Foot hole {i}", "its edge", optional=True, part="outside") for i in (1, 2)),
        Pick("numeral", BOX, "Date numeral", "the four corners of the box round both figures", optional=True),
        Pick(
            "disc-inner",
            CIRCLE,
            "Date disc, inner edge",
            "where its printed face begins",
            optional=True,
            part="outside",
        ),
        Pick("disc-outer", CIRCLE, "Date disc, outer edge", "where it ends", optional=True, part="inside"),
        _outline("outline", "Movement’s outline, if it is not round"),
        _outline("fit-outline", "Outline of its part that fits the case, if it is not round"),
    ),
    (
        Dimension("movement.overall_diameter", ("rim",), _diameter),
        *_rows("movement.foot_holes", "foot-hole", "post", "stem", _clockwise),
        Dimension(
            "movement.date.angle",
            ("post", "stem.0", *_BOX),
            lambda post, stem, *edges: _clockwise(post, stem, _middle(*edges)),
        ),
        Dimension("movement.date.numeral_radius", ("post", *_BOX), lambda post, *edges: _apart(post, _middle(*edges))),
        Dimension(
            "movement.date.numeral_radial", ("post", *_BOX), lambda post, *edges: _width(post, edges, along=True)
        ),
        Dimension(
            "movement.date.numeral_tangential", ("post", *_BOX), lambda post, *edges: _width(post, edges, along=False)
        ),
        Dimension("movement.date.disc_inner_radius", ("disc-inner",), lambda circle: float(circle[2])),
        Dimension("movement.date.disc_outer_radius", ("disc-outer",), lambda circle: float(circle[2])),
    ),
    tuple(
        Outlined(f"movement.{key.replace('-', '_')}", key, "post", "stem.0", turn=90.0)
        for key in ("outline", "fit-outline")
    ),
)
_CASE_EDGES = (("bore", "Bore’s outline"), ("seat", "Dial seat’s outline"), ("opening", "Dial opening’s outline"))
CASE = Subject(
    "case-back",
    "Case, from behind",
    "the dial seat",
    (
        Pick("opening", CIRCLE, "Dial opening", "its narrowest edge", optional=True, part="outside"),
        Pick("bore", CIRCLE, "Bore", "the edge that the movement passes", optional=True, part="outside"),
        Pick("seat", CIRCLE, "Dial seat", "the wall round the dial", optional=True, part="outside", rises=WALL_HEIGHT),
        Pick("axis", PLACE, "Hands’ axis", "for an outline: where the hands turn", optional=True),
        Pick("crown", PLACE, "3 o’clock", "for an outline: the side of 3 o’clock, here at the left", optional=True),
        *(_outline(f"{key}-outline", f"{label}, if it is not round") for key, label in _CASE_EDGES),
    ),
    (
        Dimension("case.dial_opening_diameter", ("opening",), _diameter),
        Dimension("case.bore_diameter", ("bore",), _diameter),
        Dimension("case.dial_seat_diameter", ("seat",), _diameter),
    ),
    tuple(
        Outlined(f"case.{key}_outline", f"{key}-outline", "axis.0", "crown.0", turn=90.0, behind=True)
        for key, _ in _CASE_EDGES
    ),
)
WATCH = Subject(
    "watch-front",
    "The watch as it came, from the front",
    "the dial",
    (
        Pick("axis", PLACE, "Hand axis", "where the hands turn"),
        _TWELVE,
    ),
    (),
)


def _hand(role: str) -> Subject:
    return Subject(
        f"hand-{role}",
        f"{role.capitalize()} hand",
        "the blade",
        (
            Pick("hole", CIRCLE, "Hole", "its edge, from below if its top is closed", part="outside"),
            Pick("tip", PLACE, "Tip", "its very end"),
            Pick("tail", PLACE, "Tail", "the farthest point behind the hole", optional=True),
            Pick("hub", CIRCLE, "Hub", "the collet's edge, seen from below", optional=True, part="inside"),
        ),
        (
            Dimension(f"hands.{role}.hole_diameter", ("hole",), _diameter),
            Dimension(f"hands.{role}.length", ("hole", "tip.0"), _apart),
            Dimension(f"hands.{role}.tail", ("hole", "tail.0"), _apart),
            Dimension(f"hands.{role}.hub_diameter", ("hub",), _diameter),
        ),
    )


HANDS = {role: _hand(role) for role in ("hour", "minute", "seconds")}
SUBJECTS = {subject.key: subject for subject in (DIAL_FRONT, DIAL_BACK, *HANDS.values(), MOVEMENT, CASE, WATCH)}
"""All that can be measured in a picture, by key."""


def angle_from_twelve(plane: Plane, subject: Subject, picked: Mapping[str, Picked], landmark: str) -> Reading | None:
    """Where a landmark of a dial lies, clockwise from 12 o'clock seen from the front; None where that is not picked."""
    needs = ("hole", "twelve.0", *LANDMARKS[landmark])
    if any(need not in picked for need in needs):
        return None
    angle = _mirrored if subject is DIAL_BACK else _clockwise
    return read(
        plane, lambda hole, twelve, *spots: angle(hole, twelve, _middle(*spots)), *(picked[need] for need in needs)
    )


def feet_by_landmark(
    plane: Plane, picked: Mapping[str, Picked], landmark: str, from_twelve: Reading
) -> dict[str, Reading]:
    """Angles of the feet in a picture from behind that shows no 12 o'clock, by a landmark's angle seen from the front.

    Both angles' ± are taken as independent of each other.
    """
    angles = {}
    for i, key in enumerate(("foot-1", "foot-2")):
        needs = ("hole", key, *LANDMARKS[landmark])
        if all(need in picked for need in needs):
            beyond = read(
                plane,
                lambda hole, foot, *spots: _mirrored(hole, _middle(*spots), foot),
                *(picked[need] for need in needs),
            )
            angles[f"dial.feet[{i}].angle"] = Reading(
                (from_twelve.value + beyond.value) % 360.0, hypot(from_twelve.plus_minus, beyond.plus_minus)
            )
    return angles


def readings(plane: Plane, subject: Subject, picked: Mapping[str, Picked]) -> dict[str, Reading]:
    """Every dimension whose picks are there, by its path.

    Keys of `picked` are those of circles as they are, "key.0", "key.1" of places, and of a box's four edges.
    """
    return {
        dimension.path: read(plane, dimension.formula, *(picked[need] for need in dimension.needs))
        for dimension in subject.dimensions
        if all(need in picked for need in dimension.needs)
    }


def outlines(subject: Subject, picked: Mapping[str, Picked]) -> dict[str, list[tuple[float, float]]]:
    """The corners of every outline whose picks are there, by its path: mm about the hands' axis, y towards 12."""
    return {
        item.path: corners
        for item in subject.outlines
        if item.axis in picked and item.towards in picked and (corners := _corners(item, picked))
    }


def outlines_apart(here: Sequence[tuple[float, float]], there: Sequence[tuple[float, float]]) -> float:
    """How far the corners of two closed outlines lie off each other's sides at most, mm."""
    return max(_off_sides(here, there), _off_sides(there, here))


def _off_sides(corners: Sequence[tuple[float, float]], outline: Sequence[tuple[float, float]]) -> float:
    starts, points = np.array(outline), np.array(corners)
    sides = np.roll(starts, -1, axis=0) - starts
    beyond = points[:, None] - starts
    along = (beyond * sides).sum(axis=2) / np.maximum((sides**2).sum(axis=1), 1e-12)
    off = beyond - np.clip(along, 0.0, 1.0)[..., None] * sides
    return float(np.hypot(off[..., 0], off[..., 1]).min(axis=1).max())


def _corners(item: Outlined, picked: Mapping[str, Picked]) -> list[tuple[float, float]]:
    axis, towards = picked[item.axis].values, picked[item.towards].values
    turned = _mirrored if item.behind else _clockwise
    corners = []
    for i in range(MOST_OF_OUTLINE):
        if (spot := picked.get(f"{item.pick}.{i}")) is None:
            break
        angle, far = radians(turned(axis, towards, spot.values) + item.turn), _apart(axis, spot.values)
        corners.append((round(far * sin(angle), 3), round(far * cos(angle), 3)))
    return corners
