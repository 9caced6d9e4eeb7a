"""Bench rules in the groups in which they are shown: by what the checks that they serve look at."""

from parts.rules.sketches import SKETCHES

_GROUPS = (
    ("ring", "Holder ring and bore", ("holder_clearance", "wall_min", "shim_max", "bore_play_min")),
    (
        "height",
        "Heights in the case",
        (
            "stem_tol",
            "tube_play_min",
            "back_gap_min",
            "wheel_rise_max",
            "spacer_pm",
        ),
    ),
    (
        "seat",
        "Dial in its seat",
        (
            *("dial_play_min", "dial_play_max", "dial_trim_max", "dial_edge_min", "dial_cover_min"),
            *("dial_sunk_max", "dial_held_min", "furniture_rim_min"),
        ),
    ),
    (
        "dial",
        "Dial on the movement",
        (
            *("centre_play_min", "centre_open_max", "foot_slack", "dial_turn_max"),
            *("pad_thickness", "pad_width_min", "pad_disc_gap"),
        ),
    ),
    (
        "posts",
        "Hands on their posts",
        (
            *("post_press_max", "post_press_thin", "post_close_max", "post_open_free", "hub_wall", "made_for_tol"),
            "grip_min",
        ),
    ),
    (
        "gaps",
        "Gaps of the hands",
        ("gap_touch", "gap_min", "dome_beyond_max", "tip_touch", "tip_min"),
    ),
    (
        "reach",
        "Length of the hands",
        ("reach_hour_short", "reach_hour_long", "reach_minute_short", "reach_minute_long"),
    ),
    (
        "date",
        "Date in its window",
        (
            *("date_offset_fits", "date_offset_max", "date_cut_fits", "date_cut_max", "date_sliver_fits"),
            *("date_sliver_max", "date_tilt_max", "date_disc_bare", "date_depth_max"),
        ),
    ),
    (
        "stem",
        "Stem and crown",
        (
            *("crown_gap", "stem_short_ok", "stem_long_ok", "rough_cut", "file_cut", "thread_turns_min"),
            *("thread_tol", "stem_tube_min", "tube_play_max"),
        ),
    ),
    (
        "constructions",
        "Other constructions",
        ("ring_play_max", "ring_press_min", "ring_press_max", "joint_clear_min", "sub_place_min"),
    ),
    ("cell", "Cell", ("cell_life_min",)),
)


class Group:
    """Some bench rules under one head: their names in order, and the sketch where each stands under its letter."""

    def __init__(self, key: str, title: str, names: tuple[str, ...]):
        self.key, self.title, self.names = key, title, names
        self.sketch = SKETCHES.get(key)

    def letter(self, name: str) -> str:
        """The letter of a rule on the group's sketch; empty where the group has none."""
        return chr(ord("A") + self.names.index(name)) if self.sketch else ""

    @property
    def marks(self) -> list[dict]:
        """The marks of the sketch: `letters` at (x, y) on a plate of width `w` from `left`, the `line` measured."""
        marks = self.sketch.marks if self.sketch else ()
        lettered = [("".join(map(self.letter, mark.rules)), mark) for mark in marks]
        return [
            {"letters": letters, "line": mark.line, "x": mark.x, "y": mark.y, "w": w, "left": mark.x - w / 2}
            for letters, mark, w in ((letters, mark, 10 + 9 * len(letters)) for letters, mark in lettered)
        ]


GROUPS = tuple(Group(*row) for row in _GROUPS)
