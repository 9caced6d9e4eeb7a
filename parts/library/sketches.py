"""The small sketches that show where a dimension is taken: arrows over an outline.

The outlines are SVG symbols in templates/parts/library/outlines/, one file a kind of part, drawn in a box of
140 by 100. Arrows here are in the same box, y downwards. Window and numeral lie as at 3 o'clock: the centre is to the
left, along the radius is across the page.
"""

import re
from dataclasses import dataclass
from math import atan2, cos, hypot, radians, sin

from parts.dimensions.cards import of_every_row
from parts.fit.constructions import EDGES
from parts.fit.records import HANDS, SMALL_HANDS

_HEAD, _HALF = 6.0, 2.1
_REACH = 14.0


@dataclass(frozen=True, slots=True)
class Marks:
    """SVG path data: arrow shafts, filled arrow heads, and thin guide lines out to the arrow."""

    lines: str = ""
    heads: str = ""
    guides: str = ""

    def __add__(self, other):
        return Marks(self.lines + other.lines, self.heads + other.heads, self.guides + other.guides)


@dataclass(frozen=True, slots=True)
class Sketch:
    """An outline's symbol with the arrows of one dimension."""

    outline: str
    marks: Marks


def span(x1, y1, x2, y2):
    """An arrow with a head at both ends, between two faces."""
    return Marks(f"M{x1} {y1}L{x2} {y2}", _head(x1, y1, x1 - x2, y1 - y2) + _head(x2, y2, x2 - x1, y2 - y1))


def squeeze(x1, y1, x2, y2):
    """Two arrows that point at a narrow thing from outside."""
    length = hypot(x2 - x1, y2 - y1)
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    lines = (
        f"M{x1 - ux * _REACH:.1f} {y1 - uy * _REACH:.1f}L{x1} {y1}"
        f"M{x2 + ux * _REACH:.1f} {y2 + uy * _REACH:.1f}L{x2} {y2}"
    )
    return Marks(lines, _head(x1, y1, ux, uy) + _head(x2, y2, -ux, -uy))


def turn(cx, cy, radius, start, end):
    """An arc with a head at its end; angles clockwise from the top."""
    (x1, y1), (x2, y2) = (_at(cx, cy, radius, angle) for angle in (start, end))
    large = int(abs(end - start) > 180)
    along = radians(end - 6)
    return Marks(
        f"M{x1:.1f} {y1:.1f}A{radius} {radius} 0 {large} 1 {x2:.1f} {y2:.1f}",
        _head(round(x2, 1), round(y2, 1), cos(along), sin(along)),
    )


def guide(*points):
    """A thin line through x, y, x, y and so on."""
    pairs = [f"{x:g} {y:g}" for x, y in zip(points[::2], points[1::2], strict=True)]
    return Marks(guides="M" + "L".join(pairs))


def ray(cx, cy, radius, angle):
    """A thin line from the centre outwards."""
    x, y = _at(cx, cy, radius, angle)
    return guide(cx, cy, round(x, 1), round(y, 1))


def spoke(cx, cy, radius, angle):
    """An arrow from the centre out to a radius."""
    x, y = _at(cx, cy, radius, angle)
    return span(cx, cy, round(x, 1), round(y, 1))


def _at(cx, cy, radius, angle):
    return cx + radius * sin(radians(angle)), cy - radius * cos(radians(angle))


def _head(x, y, dx, dy):
    turned = atan2(dy, dx)
    back, side = (_HEAD * cos(turned), _HEAD * sin(turned)), (_HALF * -sin(turned), _HALF * cos(turned))
    return (
        f"M{x} {y}L{x - back[0] + side[0]:.1f} {y - back[1] + side[1]:.1f}"
        f"L{x - back[0] - side[0]:.1f} {y - back[1] - side[1]:.1f}Z"
    )


_DIAL, _TOP = (70, 50), (60, 50)
_SMALL_POST = (60, 78)

SKETCHES = {
    "case.bore_diameter": Sketch("case-section", span(24, 72, 116, 72)),
    "case.seat_wall": Sketch("case-section", squeeze(112, 34, 112, 42)),
    "case.dial_seat_diameter": Sketch("case-section", span(28, 38, 112, 38)),
    "case.dial_opening_diameter": Sketch("case-section", span(36, 27, 104, 27)),
    "case.stem_axis_depth": Sketch("case-section", span(88, 34, 88, 58)),
    "case.back_depth": Sketch("case-section", span(50, 34, 50, 84)),
    "case.crystal_gap_centre": Sketch("case-section", span(70, 34, 70, 14)),
    "case.crystal_gap_edge": Sketch("case-section", span(94, 34, 94, 17.4)),
    "case.crystal_edge_radius": Sketch(
        "case-section", span(70, 28, 94, 28) + guide(94, 34, 94, 17.4) + guide(70, 34, 70, 14)
    ),
    "case.stem_angle": Sketch("case-front", turn(64, 50, 22, 0, 90) + ray(64, 50, 34, 0) + ray(64, 50, 52, 90)),
    "case.crown_seat_radius": Sketch(
        "case-section", span(70, 72, 135, 72) + guide(70, 12, 70, 78) + guide(135, 58, 135, 78)
    ),
    "case.tube_bore_diameter": Sketch("case-tube", span(88, 42, 88, 58)),
    "case.tube_outer_diameter": Sketch(
        "case-tube", span(122, 33, 122, 67) + guide(110, 33, 126, 33) + guide(110, 67, 126, 67)
    ),
    "case.front_opening_diameter": Sketch("case-one-piece", span(30, 24, 110, 24)),
    "case.floor_stem": Sketch("case-one-piece", span(88, 84, 88, 64) + guide(80, 64, 112, 64)),
    "case.floor_ring": Sketch("case-one-piece", span(48, 84, 48, 44)),
    "case.floor_crystal_centre": Sketch("case-one-piece", span(70, 84, 70, 22)),
    "case.floor_crystal_edge": Sketch("case-one-piece", span(94, 84, 94, 27)),
    "case.crystal_thickness": Sketch("case-section", squeeze(70, 8, 70, 14)),
    "case.crystal_span": Sketch("case-section", span(36, 22, 104, 22)),
    "case.back_thickness": Sketch("case-section", squeeze(70, 84, 70, 90)),
    "case.back_span": Sketch("case-section", span(24, 80, 116, 80)),
    "case.gasket_section": Sketch("case-groove", squeeze(80, 28, 80, 58)),
    "case.gasket_diameter": Sketch("case-groove", span(12, 43, 65, 43)),
    "case.groove_diameter": Sketch("case-groove", span(12, 66, 58, 66)),
    "case.groove_depth": Sketch("case-groove", span(98, 30, 98, 74)),
    "case.groove_width": Sketch("case-groove", span(58, 66, 106, 66)),
    "dial.diameter": Sketch("dial-front", span(40.3, 79.7, 99.7, 20.3)),
    "dial.thickness": Sketch("dial-section", squeeze(54, 52, 54, 59)),
    "dial.centre_thickness": Sketch("dial-section", squeeze(76, 52, 76, 59)),
    "dial.pad_thickness": Sketch("dial-section", squeeze(86, 59, 86, 65) + guide(78, 65, 94, 65)),
    "dial.rise": Sketch("dial-domed", span(122, 62, 122, 40) + guide(70, 40, 126, 40) + guide(116, 62, 126, 62)),
    "dial.centre_hole_diameter": Sketch("dial-front", squeeze(65, 50, 75, 50)),
    "dial.minute_track_radius": Sketch("dial-front", spoke(*_DIAL, 36.5, 300)),
    "dial.hour_marker_inner_radius": Sketch("dial-front", spoke(*_DIAL, 26, 300)),
    "dial.feet[].angle": Sketch("dial-feet", turn(*_DIAL, 20, 0, 55) + ray(*_DIAL, 42, 0) + ray(*_DIAL, 33, 55)),
    "dial.feet[].radius": Sketch("dial-feet", spoke(*_DIAL, 33, 55)),
    "dial.feet[].diameter": Sketch("dial-section", squeeze(101, 77, 107, 77)),
    "dial.window.angle": Sketch("dial-front", turn(*_DIAL, 18, 0, 90) + ray(*_DIAL, 42, 0) + ray(*_DIAL, 34, 90)),
    "dial.window.radius": Sketch("dial-front", span(70, 50, 98, 50)),
    "dial.window.radial": Sketch("dial-window", span(56, 50, 100, 50)),
    "dial.window.tangential": Sketch("dial-window", span(78, 32, 78, 68)),
    "dial.furniture[].inner_radius": Sketch(
        "dial-section", span(70, 32, 90, 32) + guide(70, 26, 70, 90) + guide(90, 42, 90, 26)
    ),
    "dial.furniture[].outer_radius": Sketch(
        "dial-section", span(70, 32, 112, 32) + guide(70, 26, 70, 90) + guide(112, 42, 112, 26)
    ),
    "dial.furniture[].height": Sketch("dial-section", squeeze(120, 42, 120, 52) + guide(112, 42, 124, 42)),
    "dial.subdials[].angle": Sketch(
        "dial-subdial", turn(*_DIAL, 18, 0, 180) + ray(*_DIAL, 42, 0) + ray(*_DIAL, 38, 180)
    ),
    "dial.subdials[].radius": Sketch("dial-subdial", spoke(*_DIAL, 23, 180)),
    "dial.subdials[].hole_diameter": Sketch("dial-subdial", squeeze(66.5, 73, 73.5, 73)),
    "dial.subdials[].depth": Sketch("dial-recess", squeeze(118, 42, 118, 54) + guide(70, 54, 122, 54)),
    "movement.fit_diameter": Sketch("movement-side", span(28, 64, 112, 64)),
    "movement.overall_diameter": Sketch("movement-side", span(20, 39, 120, 39)),
    "movement.stem_axis_depth": Sketch("movement-side", span(90, 34, 90, 54) + guide(84, 54, 112, 54)),
    "movement.ring_rise": Sketch(
        "movement-ring", span(122, 58, 122, 34) + guide(116, 34, 126, 34) + guide(128, 58, 112, 58)
    ),
    "movement.back_height": Sketch("movement-side", span(9, 34, 9, 82) + guide(20, 34, 5, 34) + guide(40, 82, 5, 82)),
    "movement.stem_thread": Sketch("movement-side", squeeze(131, 51, 131, 57)),
    "movement.stem_thread_pitch": Sketch("movement-side", squeeze(124, 48, 128, 48)),
    "movement.stem_reference_radius": Sketch(
        "movement-side", span(70, 69, 100, 69) + guide(70, 30, 70, 88) + guide(100, 54, 100, 76)
    ),
    "movement.posts.hour.diameter": Sketch("movement-posts", span(50, 66, 90, 66)),
    "movement.posts.hour.made_for": Sketch("movement-posts", span(50, 66, 90, 66)),
    "movement.posts.hour.end_play": Sketch("movement-posts", squeeze(100, 48, 100, 54) + guide(72, 48, 104, 48)),
    "movement.posts.hour.height": Sketch("movement-posts", span(112, 82, 112, 54) + guide(90, 54, 116, 54)),
    "movement.posts.minute.diameter": Sketch("movement-posts", span(59, 44, 81, 44)),
    "movement.posts.minute.made_for": Sketch("movement-posts", span(59, 44, 81, 44)),
    "movement.posts.minute.end_play": Sketch("movement-posts", squeeze(100, 28, 100, 34) + guide(72, 28, 104, 28)),
    "movement.posts.minute.height": Sketch("movement-posts", span(112, 82, 112, 34) + guide(81, 34, 116, 34)),
    "movement.posts.seconds.diameter": Sketch("movement-posts", squeeze(66, 24, 74, 24)),
    "movement.posts.seconds.made_for": Sketch("movement-posts", squeeze(66, 24, 74, 24)),
    "movement.posts.seconds.end_play": Sketch("movement-posts", squeeze(100, 8, 100, 14) + guide(72, 8, 104, 8)),
    "movement.posts.seconds.height": Sketch("movement-posts", span(112, 82, 112, 14) + guide(74, 14, 116, 14)),
    "movement.subsidiary[].angle": Sketch(
        "movement-small", turn(*_TOP, 16, 90, 180) + ray(*_TOP, 40, 90) + ray(*_TOP, 36, 180)
    ),
    "movement.subsidiary[].radius": Sketch("movement-small", span(*_TOP, *_SMALL_POST)),
    "movement.subsidiary[].diameter": Sketch("movement-small-post", squeeze(101, 46, 107, 46)),
    "movement.subsidiary[].height": Sketch("movement-small-post", span(124, 82, 124, 38) + guide(107, 38, 128, 38)),
    "movement.foot_holes[].angle": Sketch(
        "movement-top", turn(*_TOP, 20, 90, 145) + ray(*_TOP, 40, 90) + ray(*_TOP, 33, 145)
    ),
    "movement.foot_holes[].radius": Sketch("movement-top", spoke(*_TOP, 33, 145)),
    "movement.foot_holes[].diameter": Sketch("movement-top", squeeze(75.9, 77, 81.9, 77)),
    "movement.date.angle": Sketch("movement-date", turn(*_TOP, 18, 90, 135) + ray(*_TOP, 40, 90) + ray(*_TOP, 38, 135)),
    "movement.date.numeral_radius": Sketch("movement-date", spoke(*_TOP, 31, 135)),
    "movement.date.numeral_radial": Sketch(
        "date-numeral", span(52, 84, 88, 84) + guide(52, 72, 52, 90) + guide(88, 72, 88, 90)
    ),
    "movement.date.numeral_tangential": Sketch(
        "date-numeral", span(101, 28, 101, 72) + guide(88, 28, 106, 28) + guide(88, 72, 106, 72)
    ),
    "movement.date.disc_inner_radius": Sketch("movement-date", spoke(*_TOP, 24, 225)),
    "movement.date.disc_outer_radius": Sketch("movement-date", spoke(*_TOP, 38, 225)),
    "hands.hour.hole_diameter": Sketch(
        "hand-side", squeeze(43, 68, 53, 68) + guide(43, 60, 43, 74) + guide(53, 60, 53, 74)
    ),
    "hands.hour.made_for": Sketch("hand-side", squeeze(43, 68, 53, 68) + guide(43, 60, 43, 74) + guide(53, 60, 53, 74)),
    "hands.hour.boss_diameter": Sketch(
        "hand-top", span(34, 22, 62, 22) + guide(34, 50, 34, 16) + guide(62, 50, 62, 16)
    ),
    "hands.hour.blade_step": Sketch("hand-side", squeeze(86, 32, 86, 38) + guide(60, 32, 92, 32)),
    "hands.hour.tip_drop": Sketch(
        "hand-bent", span(126, 40, 126, 62) + guide(60, 40, 130, 40) + guide(120, 62, 130, 62)
    ),
    "hands.hour.cap_thickness": Sketch("hand-side", squeeze(48, 32, 48, 38) + guide(40, 38, 56, 38)),
    "hands.hour.length": Sketch("hand-top", span(48, 76, 132, 76) + guide(48, 50, 48, 82) + guide(132, 50, 132, 82)),
    "hands.hour.tail": Sketch("hand-top", span(48, 76, 14, 76) + guide(48, 50, 48, 82) + guide(14, 50, 14, 82)),
    "hands.hour.thickness": Sketch("hand-side", squeeze(100, 38, 100, 44)),
    "hands.hour.hub_height": Sketch("hand-side", span(74, 38, 74, 60) + guide(60, 60, 80, 60)),
    "hands.hour.hub_diameter": Sketch("hand-top", span(38, 28, 58, 28) + guide(38, 50, 38, 22) + guide(58, 50, 58, 22)),
    "hands.hour.centre_of_mass": Sketch("hand-balance", span(48, 74, 72, 74) + guide(48, 50, 48, 80)),
    "stem.thread": Sketch("stem-side", squeeze(116, 45, 116, 55)),
    "stem.thread_pitch": Sketch("stem-side", squeeze(112, 42, 116, 42)),
    "stem.thread_length": Sketch(
        "stem-side", span(104, 32, 130, 32) + guide(104, 45, 104, 26) + guide(130, 45, 130, 26)
    ),
    "stem.diameter": Sketch("stem-side", squeeze(76, 45, 76, 55)),
    "stem.length": Sketch("stem-side", span(34, 76, 130, 76) + guide(34, 40, 34, 82) + guide(130, 50, 130, 82)),
    "stem.joint.inner_length": Sketch(
        "stem-split", span(34, 76, 80, 76) + guide(34, 40, 34, 82) + guide(80, 52, 80, 82)
    ),
    "stem.joint.outer_length": Sketch(
        "stem-split", span(66, 28, 130, 28) + guide(66, 46, 66, 22) + guide(130, 45, 130, 22)
    ),
    "stem.joint.overlap": Sketch("stem-split", span(66, 66, 80, 66) + guide(66, 50, 66, 70) + guide(80, 50, 80, 70)),
    "stem.uncut_gap": Sketch("stem-tried", span(54, 78, 78, 78) + guide(54, 60, 54, 84) + guide(78, 72, 78, 84)),
    "crown.thread": Sketch("crown-section", squeeze(60, 45, 60, 55)),
    "crown.thread_pitch": Sketch("crown-section", squeeze(62, 42, 66, 42)),
    "crown.bore_depth": Sketch("crown-section", span(32, 90, 82, 90) + guide(32, 80, 32, 95) + guide(82, 50, 82, 95)),
    "crown.tube_bore_diameter": Sketch("crown-section", span(40, 28, 40, 72)),
    "crown.spring_travel": Sketch("crown-section", squeeze(88, 34, 98, 34) + guide(88, 40, 88, 30)),
}
_SIZES = {
    "width": span(34, 50, 106, 50),
    "height": span(70, 12, 70, 88),
    "corner": span(90, 28, 102, 16) + guide(90, 8, 90, 28, 110, 28),
}
SKETCHES |= {
    f"{outline}.{size}": Sketch(f"{outline.partition('.')[0]}-shaped", marks)
    for outline, _ in EDGES.values()
    for size, marks in _SIZES.items()
}
"""Path of the sheet (rows under "[]", every hand under the hour hand's paths) to sketch; amounts have none."""


def sketch_of(path: str) -> Sketch | None:
    """Where a dimension is taken, as a sketch; amounts have none."""
    row = of_every_row(path)
    return SKETCHES.get(row) or SKETCHES.get(of_the_hour(row))


def of_the_hour(path: str) -> str:
    """The path of the same dimension at the hour hand, or at its post; of a small hand too."""
    return re.sub(rf"\.({'|'.join(HANDS)})\b", ".hour", path.replace(f"hands.{SMALL_HANDS}[]", "hands.hour"))
