"""The order in which a person measures each kind of part, in groups with one sentence each."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Group:
    """Fields that are measured in one go.

    `rows` names a list of rows that belongs to the group, `role` the hand that its fields are of; `seldom` are those of
    the fields that most parts do without. `only` is the construction of a case that has them at all, `wanted_by` one
    in which the seldom ones are asked like any other, and `chooses` the field that says which construction it is.
    """

    title: str
    fields: tuple = ()
    hint: str = ""
    rows: str = ""
    role: str = ""
    seldom: tuple = ()
    only: str = ""
    wanted_by: str = ""
    chooses: str = ""


_HAND = (
    "hole_diameter",
    "length",
    "tail",
    "thickness",
    "hub_height",
    "hub_diameter",
    "made_for",
    "mass",
    "centre_of_mass",
    "boss_diameter",
    "blade_step",
    "cap_thickness",
    "tip_drop",
)
_SELDOM_OF_HAND = ("mass", "centre_of_mass", "boss_diameter", "blade_step", "cap_thickness", "tip_drop")

FAMILY = (Group("What it is", ("name", "notes")),)

_UNDER_PRESSURE = (
    "stated_pressure",
    *("crystal_material", "crystal_thickness", "crystal_span"),
    *("back_material", "back_thickness", "back_span"),
    *("gasket_section", "gasket_diameter", "groove_diameter", "groove_depth", "groove_width"),
)
CASE = (
    Group("What it is", ("family", "name", "loading"), chooses="loading"),
    Group(
        "Not round",
        ("bore_outline", "seat_outline", "opening_outline", "rim"),
        "An outline stands in place of its diameter, about the hands' axis: width from 9 to 3, height from 12 to 6.",
        seldom=("bore_outline", "seat_outline", "opening_outline", "rim"),
    ),
    Group(
        "Inside, from the back",
        ("bore_diameter", "dial_seat_diameter", "dial_opening_diameter", "seat_wall"),
        "Movement and dial out, the case face down.",
    ),
    Group(
        "Loaded from the front",
        (
            *("ring", "floor_stem", "floor_ring", "floor_crystal_centre", "floor_crystal_edge"),
            *("front_opening_diameter", "front_opening_outline"),
        ),
        "Heights from the case floor towards the crystal. A flat crystal needs only the centre.",
        seldom=("front_opening_outline",),
        only="front",
    ),
    Group(
        "Depths",
        ("stem_axis_depth", "back_depth"),
        "Both from the dial seat, the shoulder the dial's face rests on, towards the back; where the movement carries "
        "the dial, from the ledge that the movement stands on.",
        only="back",
    ),
    Group(
        "Under the crystal",
        ("crystal_gap_centre", "crystal_gap_edge", "crystal_edge_radius"),
        "From the dial seat forward. A flat crystal needs only the centre.",
    ),
    Group(
        "Crown side",
        ("stem_angle", "crown_seat_radius", "tube_bore_diameter", "tube_outer_diameter"),
    ),
    Group(
        "Under pressure",
        _UNDER_PRESSURE,
        "For advice only: how far crystal and case back give way, and how a round gasket lies in its groove. "
        "Flat gaskets are not covered.",
        seldom=_UNDER_PRESSURE,
    ),
    Group("Stock and notes", ("in_stock", "supplier", "supplier_number", "cost", "notes")),
)

DIAL = (
    Group("What it is", ("family", "name")),
    Group(
        "Plate",
        (
            *("out_of", "rests_on", "diameter", "thickness", "centre_hole_diameter"),
            *("centre_thickness", "outline", "rise", "subdials"),
        ),
        seldom=("centre_thickness", "outline", "rise", "subdials"),
    ),
    Group(
        "Printing",
        ("minute_track_radius", "hour_marker_inner_radius"),
        "What the hands should reach.",
    ),
    Group(
        "Feet",
        ("feet_recorded", "fixing", "pad_thickness"),
        "Angles clockwise from 12 o'clock, seen from the front. From behind, the feet are mirrored.",
        rows="feet",
        seldom=("pad_thickness",),
    ),
    Group(
        "Date window",
        (
            "has_window",
            "window_angle",
            "window_radius",
            "window_radial",
            "window_tangential",
            "day_window",
            "day_place",
        ),
        seldom=("day_place",),
    ),
    Group(
        "Raised markers",
        (),
        "What stands up from the face: applied markers, numerals, a raised ring. One row for each height.",
        rows="furniture",
    ),
    Group("Stock and notes", ("in_stock", "supplier", "supplier_number", "cost", "notes")),
)

_FROM_SHEET = (
    "unbalance_hour",
    "unbalance_minute",
    "unbalance_seconds",
    "rate_low_s_per_day",
    "rate_high_s_per_day",
    "crystal_coefficient",
    "crystal_turnover",
    "cell_type",
    "cell_capacity",
    "current",
)
MOVEMENT = (
    Group("What it is", ("name", "kind", "declared_size")),
    Group(
        "Outline",
        ("fit_diameter", "overall_diameter", "back_height", "outline", "fit_outline", "ring_rise"),
        seldom=("outline", "fit_outline", "ring_rise"),
    ),
    Group(
        "Stem",
        ("stem_axis_depth", "stem_thread", "stem_thread_pitch", "stem_reference_radius"),
        seldom=("stem_thread_pitch",),
    ),
    Group(
        "Posts",
        (
            "post_hour_diameter",
            "post_hour_height",
            "post_hour_made_for",
            "post_hour_end_play",
            "post_minute_diameter",
            "post_minute_height",
            "post_minute_made_for",
            "post_minute_end_play",
            "post_seconds_diameter",
            "post_seconds_height",
            "post_seconds_made_for",
            "post_seconds_end_play",
            "subsidiary",
        ),
        "Heights from the dial rest, the plane the dial's back lies on. A post is the hour wheel's pipe, the cannon "
        "pinion or the seconds pivot.",
        seldom=("post_hour_end_play", "post_minute_end_play", "post_seconds_end_play", "subsidiary"),
    ),
    Group(
        "Foot holes",
        ("foot_holes_recorded",),
        "Angles clockwise from the stem, seen from the dial side.",
        rows="foot_holes",
    ),
    Group(
        "Date",
        (
            "has_date",
            "date_angle",
            "date_numeral_radius",
            "date_numeral_radial",
            "date_numeral_tangential",
            "date_disc_inner_radius",
            "date_disc_outer_radius",
            "has_day",
            "day_disc",
        ),
        seldom=("day_disc",),
    ),
    Group(
        "From the maker's sheet",
        _FROM_SHEET,
        seldom=_FROM_SHEET,
    ),
    Group("Stock and notes", ("in_stock", "supplier", "supplier_number", "cost", "notes")),
)

HAND_SET = (
    Group("What it is", ("name", "shape", "colour", "lume")),
    Group("Hour hand", _HAND, role="hour", seldom=_SELDOM_OF_HAND),
    Group("Minute hand", _HAND, role="minute", seldom=_SELDOM_OF_HAND),
    Group("Seconds hand", ("has_seconds", *_HAND), role="seconds", seldom=_SELDOM_OF_HAND),
    Group(
        "Small hands", ("subsidiary",), "Of small seconds and other posts beside the middle.", seldom=("subsidiary",)
    ),
    Group("Stock and notes", ("in_stock", "supplier", "supplier_number", "cost", "notes")),
)

STEM = (
    Group("What it is", ("name",)),
    Group("Measured", ("thread", "length", "diameter", "thread_length", "thread_pitch"), seldom=("thread_pitch",)),
    Group(
        "Split stem",
        ("joint_inner_length", "joint_outer_length", "joint_overlap"),
        "Only where the stem comes apart: the inner part stays in the movement, the outer one in the crown.",
        seldom=("joint_inner_length", "joint_outer_length", "joint_overlap"),
        wanted_by="front",
    ),
    Group(
        "Tried in the case",
        ("uncut_gap",),
        "A second way to the right length: fit the uncut stem and measure the gap between crown and seat.",
    ),
    Group("Stock and notes", ("in_stock", "supplier", "supplier_number", "cost", "notes")),
)

CROWN = (
    Group("What it is", ("name", "style")),
    Group(
        "Measured",
        ("out_of", "thread", "bore_depth", "tube_bore_diameter", "spring_travel", "thread_pitch"),
        seldom=("thread_pitch",),
    ),
    Group("Stock and notes", ("in_stock", "supplier", "supplier_number", "cost", "notes")),
)
