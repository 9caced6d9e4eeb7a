"""Sketches of where the bench rules are seen. Not to scale: small gaps are drawn wide. 320 by 180, y down."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Mark:
    """The rules seen at one place: the measured distance as a path, and the middle of their letters."""

    rules: tuple[str, ...]
    line: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Sketch:
    """Parts as (class, path), drawn in this order, the marks over them, and what the picture shows in words."""

    shows: str
    parts: tuple[tuple[str, str], ...]
    marks: tuple[Mark, ...]


def _across(x1: float, x2: float, y: float, *rules: str, at: tuple[float, float]) -> Mark:
    """A distance sideways."""
    return Mark(rules, f"M{x1} {y - 5}v10M{x1} {y}H{x2}M{x2} {y - 5}v10M{(x1 + x2) / 2} {y}L{at[0]} {at[1]}", *at)


def _upright(x: float, y1: float, y2: float, *rules: str, at: tuple[float, float]) -> Mark:
    """A distance in height."""
    return Mark(rules, f"M{x - 5} {y1}h10M{x} {y1}V{y2}M{x - 5} {y2}h10M{x} {(y1 + y2) / 2}L{at[0]} {at[1]}", *at)


_RING = Sketch(
    "Half a section: movement, holder ring and case wall",
    (
        ("stays", "M236 20h70v140h-70z"),
        ("goes-in", "M14 50h136v50h40v26H14z"),
        ("made", "M158 46h66v72h-26v-26h-40z"),
    ),
    (
        _across(224, 236, 56, "holder_clearance", at=(230, 28)),
        _across(158, 224, 68, "wall_min", at=(176, 26)),
        _across(198, 224, 106, "shim_max", at=(216, 142)),
        _across(190, 236, 122, "bore_play_min", at=(200, 164)),
    ),
)
_HEIGHT = Sketch(
    "Section at the stem: movement, spacer, stem in the case's hole, case back",
    (
        ("stays", "M226 14h80v56h-80zM226 114h80v40h-80z"),
        ("stays", "M14 152h292v14H14z"),
        ("stays", "M14 20h204v9H14z"),
        ("made", "M96 29h122v11H96z"),
        ("goes-in", "M14 48h190v84H14zM40 38h34v10H40z"),
        ("goes-in-deep", "M180 82h126v12H180z"),
    ),
    (
        _upright(214, 88, 102, "stem_tol", at=(190, 112)),
        _upright(266, 70, 82, "tube_play_min", at=(266, 44)),
        _upright(70, 132, 152, "back_gap_min", at=(100, 120)),
        _upright(57, 29, 38, "wheel_rise_max", at=(30, 60)),
        _upright(150, 29, 40, "spacer_pm", at=(150, 66)),
    ),
)
_SEAT = Sketch(
    "Section at the edge of the dial, under the rim of the case",
    (
        ("stays", "M238 14h68v150h-68zM190 14h48v50h-48z"),
        ("made", "M200 64h34v16h-34z"),
        ("stays-pale", "M14 80h208v18H14z"),
        ("stays", "M110 62h26v18h-26z"),
        ("goes-in", "M14 98h180v60H14z"),
    ),
    (
        _across(222, 238, 104, "dial_play_min", "dial_play_max", at=(232, 132)),
        _across(206, 222, 89, "dial_trim_max", at=(206, 122)),
        _across(166, 206, 76, "dial_edge_min", at=(166, 46)),
        _across(190, 222, 92, "dial_cover_min", at=(176, 116)),
        _upright(212, 64, 80, "dial_sunk_max", at=(214, 34)),
        _upright(244, 80, 98, "dial_held_min", at=(274, 89)),
        _across(136, 190, 54, "furniture_rim_min", at=(150, 26)),
    ),
)
_DIAL = Sketch(
    "Half a section from the centre: dial with a foot and a pad over the movement with its date disc",
    (
        ("stays-pale", "M44 44h262v16H44z"),
        ("stays", "M128 60h14v44h-14z"),
        ("goes-in", "M14 14h16v58H14z"),
        ("goes-in", "M14 72h108v40h26V72h158v84H14z"),
        ("made", "M176 60h44v12h-44z"),
        ("goes-in-deep", "M248 64h58v8h-58z"),
    ),
    (
        _across(30, 44, 38, "centre_play_min", at=(52, 20)),
        _across(44, 66, 64, "centre_open_max", at=(62, 92)),
        _across(142, 148, 90, "foot_slack", at=(170, 104)),
        Mark(("dial_turn_max",), "M120 38q15-10 30 0m-7-7 7 7-9 3M135 33V24", 135, 20),
        _upright(198, 60, 72, "pad_thickness", at=(198, 30)),
        _across(176, 220, 82, "pad_width_min", at=(198, 104)),
        _across(220, 248, 76, "pad_disc_gap", at=(246, 104)),
    ),
)
_POSTS = Sketch(
    "Section through a hand's hub over its post",
    (
        ("goes-in", "M140 62h40v104h-40z"),
        ("goes-in-deep", "M92 34h38v58H92zM190 34h38v58h-38z"),
        ("goes-in-deep", "M228 34h78v12h-78z"),
    ),
    (
        _across(180, 190, 56, "post_press_max", "post_press_thin", at=(160, 22)),
        _across(130, 140, 56, "post_close_max", at=(112, 20)),
        _across(130, 190, 40, "post_open_free", at=(160, 48)),
        _across(190, 228, 82, "hub_wall", at=(250, 82)),
        _across(140, 180, 140, "made_for_tol", at=(200, 140)),
        _upright(134, 62, 92, "grip_min", at=(84, 116)),
    ),
)
_GAPS = Sketch(
    "Section of the hands over the dial, under the crystal, out to the rim",
    (
        ("glass", "M14 16Q180 14 256 40l-3 8Q178 24 14 26z"),
        ("stays", "M268 40h38v100h-38z"),
        ("stays-pale", "M14 142h292v14H14z"),
        ("goes-in-deep", "M14 116h132v9H14z"),
        ("goes-in-deep", "M14 84h216v9H14z"),
    ),
    (
        _upright(70, 93, 116, "gap_touch", "gap_min", at=(100, 104)),
        _across(216, 253, 66, "dome_beyond_max", at=(216, 112)),
        _across(230, 268, 88, "tip_touch", "tip_min", at=(248, 124)),
    ),
)
_REACH = Sketch(
    "The dial from the front: hour markers, minute track, and the tips of two hands",
    (
        ("stays-pale", "M14 14h292v152H14z"),
        ("stays", "M176 30h44v14h-44zM176 136h44v14h-44z"),
        ("thin", "M262 20v140M254 40h8M254 65h8M254 90h8M254 115h8M254 140h8"),
        ("goes-in-deep", "M14 114h134l14 5-14 5H14z"),
        ("goes-in-deep", "M14 58h212l14 4-14 4H14z"),
    ),
    (
        _across(162, 176, 119, "reach_hour_short", at=(150, 144)),
        _across(176, 206, 100, "reach_hour_long", at=(198, 122)),
        _across(240, 262, 62, "reach_minute_short", at=(236, 38)),
        _across(262, 280, 82, "reach_minute_long", at=(286, 104)),
    ),
)
_DATE = Sketch(
    "The date's window from the front with the day before and after, and a section through dial and disc",
    (
        ("stays-pale", "M14 14h180v152H14z"),
        ("sheet", "M56 40h92v98H56z"),
        ("numeral", "M92 66v48M106 66h20l-14 48M96 40v8M116 40l6 8"),
        ("stays-pale", "M212 60h32v14h-32zM280 60h26v14h-26z"),
        ("goes-in-deep", "M212 100h94v10h-94z"),
    ),
    (
        _across(102, 116, 90, "date_offset_fits", "date_offset_max", at=(102, 126)),
        _across(126, 148, 78, "date_cut_fits", "date_cut_max", at=(170, 88)),
        _upright(134, 40, 48, "date_sliver_fits", "date_sliver_max", at=(168, 28)),
        Mark(("date_tilt_max",), "M80 70q-10 20 0 40m-7-6 7 6 2-8M74 90H38", 36, 90),
        _across(56, 64, 130, "date_disc_bare", at=(36, 148)),
        _upright(262, 74, 100, "date_depth_max", at=(288, 88)),
    ),
)
_STEM = Sketch(
    "Section along the stem: tube of the case, stem, crown",
    (
        ("stays", "M92 22h34v136H92zM126 62h74v12h-74zM126 106h74v12h-74z"),
        ("made", "M212 26h94v128h-94v-24h24V50h-24z"),
        ("goes-in-deep", "M14 82h230v16H14z"),
        ("thin", "M204 82l6 16M212 82l6 16M220 82l6 16M228 82l6 16M236 82l6 16"),
    ),
    (
        _across(126, 212, 34, "crown_gap", at=(160, 20)),
        _across(236, 244, 106, "stem_short_ok", at=(262, 120)),
        _across(244, 258, 74, "stem_long_ok", "rough_cut", "file_cut", at=(276, 72)),
        _across(204, 244, 112, "thread_turns_min", at=(222, 140)),
        Mark(("thread_tol",), "M222 82V66", 222, 60),
        _upright(162, 74, 82, "stem_tube_min", at=(162, 52)),
        _upright(190, 118, 130, "tube_play_max", at=(168, 142)),
    ),
)
_CONSTRUCTIONS = Sketch(
    "Section of a case loaded from the front: ring over the dial, stub of a split stem, a small post in its hole",
    (
        ("stays", "M14 150h292v16H14zM290 30h16v120h-16z"),
        ("made", "M208 34h34v42h-34z"),
        ("goes-in", "M40 96h180v54H40zM30 84h60v10H30zM116 84h114v10H116zM96 66h8v30h-8z"),
        ("goes-in-deep", "M220 118h48v10h-48z"),
    ),
    (
        _upright(225, 76, 84, "ring_play_max", "ring_press_min", "ring_press_max", at=(160, 56)),
        _across(268, 290, 123, "joint_clear_min", at=(270, 96)),
        _across(104, 116, 89, "sub_place_min", at=(120, 124)),
    ),
)
SKETCHES = {
    "constructions": _CONSTRUCTIONS,
    "ring": _RING,
    "height": _HEIGHT,
    "seat": _SEAT,
    "dial": _DIAL,
    "posts": _POSTS,
    "gaps": _GAPS,
    "reach": _REACH,
    "date": _DATE,
    "stem": _STEM,
}
"""By the group of rules."""
