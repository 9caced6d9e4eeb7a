"""The dimensions of a holder ring, with their limits; mm and degrees.

A ring's heights count from its side that faces the dial towards the case back. Each of its edges is a circle by its
diameter, or an outline in its place, as the fit check has it. 0 stands for "none" where a label says so.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from parts.fit.arithmetic import outlines
from parts.fit.arithmetic.outlines import Outline
from parts.holder.edges import is_convex
from parts.holder.parameters.edged import INSTEAD, Edged, edge_of
from parts.holder.parameters.kinds import angle, check_limits, choice, number, outline, refuse, rows, words
from parts.holder.parameters.made import CutOut, Key

OPEN_SIDES = ("dial", "back", "closed", "through")
HOLDS = ("case back", "lip", "clamps", "tongues", "dial ring")
"""What keeps the movement from moving along the axis."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring(Edged):
    """A ring that holds a movement in a bore."""

    outside_diameter: float = number("Ring", "outside diameter", "towards the case's bore", 0.0)
    outside_outline: Outline | None = outline("Outlines", "outside outline", f"{INSTEAD}; none for a round ring")
    inside_diameter: float = number("Ring", "inside diameter", "round the movement", 0.0)
    inside_outline: Outline | None = outline("Outlines", "inside outline", f"{INSTEAD}; none for a round movement")
    start: float = number(
        "Ring",
        "start behind the dial rest",
        "0 if the ring lies against the dial; below 0 round its edge",
        0.0,
        least=-5.0,
    )
    height: float = number("Ring", "height", "from its dial side towards the case back, without nubs", above=True)
    chamfer: float = number("Ring", "lead-in chamfer", "on all four edges, 45°; 0 for none", 0.2, most=2.0)
    flange_diameter: float = number(
        "Steps", "inner step's diameter", "for a wider rim of the movement; 0 for none", 0.0
    )
    flange_outline: Outline | None = outline("Outlines", "inner step's outline", INSTEAD)
    flange_depth: float = number("Steps", "inner step's depth", "from the dial side", 0.0)
    rim_height: float = number(
        "Steps", "movement's rim, as measured", "from the dial rest to the rim's back; 0 while it is a guess", 0.0
    )
    nose_diameter: float = number("Steps", "outer step's diameter", "for a shoulder in the case; 0 for none", 0.0)
    nose_outline: Outline | None = outline("Outlines", "outer step's outline", INSTEAD)
    nose_height: float = number("Steps", "outer step's height", "from the dial side", 0.0)
    channel_angle: float = angle("Stem channel", "channel's angle", "90 is 3 o'clock")
    channel_width: float = number("Stem channel", "channel's width", "across the stem", 1.5, above=True, most=20.0)
    channel_axis: float = number("Stem channel", "channel's axis", "from the dial side to the stem's axis")
    channel_open: str = choice(
        "Stem channel",
        "channel open to",
        OPEN_SIDES,
        "the side that assembly needs, or both",
    )
    ring_goes: str = choice("Stem channel", "ring goes in", ("last", "first"), "after the movement, or before it")
    stem_goes: str = choice("Stem channel", "stem goes in", ("last", "first"), "after ring and movement, or before")
    held_by: str = choice("Hold", "movement held by", HOLDS, "what keeps it from moving towards the back")
    lip_reach: float = number("Hold", "lip's reach", "inwards behind the movement; 0 for none", 0.0, most=10.0)
    lip_height: float = number("Hold", "lip's thickness", "at the ring's back", 0.8, above=True, most=10.0)
    tab_count: float = number(
        "Hold", "number of tabs", "in place of a lip all round; 0 for none", 0.0, unit="count", most=24.0
    )
    tab_width: float = number("Hold", "tab's width", "", 2.0, above=True, most=20.0)
    clamp_count: float = number(
        "Hold", "clamps", "with their screws, the case's own, counted", 0.0, unit="count", most=12.0
    )
    nub_count: float = number(
        "Nubs", "number of nubs", "that the case back presses on; 0 for none", 3.0, unit="count", most=24.0
    )
    nub_diameter: float = number("Nubs", "nub's diameter", "", 1.0, above=True, most=10.0)
    nub_height: float = number(
        "Nubs", "nub's height", "gap to the case back, plus how far it is pressed", 0.15, most=3.0
    )
    nub_angle: float = angle("Nubs", "first nub's angle", "the others follow evenly")
    tongue_length: float = number("Nubs", "tongue's length", "springs below each nub; 0 for none", 0.0, most=20.0)
    tongue_thickness: float = number("Nubs", "tongue's thickness", "", 0.6, above=True, most=5.0)
    tongue_gap: float = number("Nubs", "gap below a tongue", "how far it can give way", 0.6, above=True, most=5.0)
    notch_angle: float = angle("Finger notch", "notch's angle", "")
    notch_width: float = number("Finger notch", "notch's width", "0 for none", 0.0, most=20.0)
    notch_depth: float = number("Finger notch", "notch's depth", "from the outside inwards", 0.4, most=10.0)
    notch_height: float = number("Finger notch", "notch's height", "from the back", 0.8, most=10.0)
    lip: float = number("Finger notch", "grip lip", "undercut below the notch for a hook; 0 for none", 0.0, most=2.0)
    split_width: float = number("Split", "split's width", "so that the ring springs in; 0 for none", 0.0, most=20.0)
    split_angle: float = angle("Split", "split's angle", "")
    mark_width: float = number(
        "Marks", "12 o'clock mark's width", "a groove in the dial side; 0 for none", 0.0, most=3.0
    )
    mark_depth: float = number("Marks", "12 o'clock mark's depth", "", 0.3, above=True, most=3.0)
    mark_words: str = words(
        "Marks", "words", "engraved in the back, such as a job's number, # for the revision's; or none"
    )
    mark_size: float = number("Marks", "height of the letters", "of a capital", 2.2, above=True, most=10.0)
    mark_angle: float = angle("Marks", "angle of the words", "where their middle stands")
    cutouts: tuple[CutOut, ...] = rows(
        "Cut-outs", "cut-outs", CutOut, "a line each: angle width depth from to, and what for"
    )
    keys: tuple[Key, ...] = rows(
        "Cut-outs", "keys", Key, "a line each: angle width depth from to, what for; a depth below 0 points inwards"
    )

    def __post_init__(self) -> None:
        check_limits(self)
        self._check_edges()
        step_depth = self.flange_depth if self.step else 0.0
        least_inner = 2 * float(outlines.inner(self.inner))
        wanted = "below the inside diameter"
        refuse(self, "channel_width", self.channel_width < least_inner, wanted)
        refuse(self, "split_width", self.split_width < least_inner, wanted)
        for name in ("nub_count", "tab_count", "clamp_count"):
            refuse(self, name, getattr(self, name) == int(getattr(self, name)), "a whole number")
        refuse(self, "notch_height", not self.notch_width or self.notch_height < self.height, "below the ring's height")
        refuse(self, "lip_reach", self.lip_reach < least_inner / 2, "below the inside radius")
        room = self.height - step_depth
        refuse(self, "lip_height", not self.lip_reach or self.lip_height < room, f"below {room:.2f} mm")
        under = self.tongue_thickness + self.tongue_gap
        refuse(
            self,
            "tongue_length",
            not self.tongue_length or under < self.height,
            f"0, or less than {self.height:.2f} mm",
        )
        refuse(
            self,
            "mark_depth",
            not (self.mark_width or self.mark_words) or self.mark_depth < self.height,
            "below the ring's height",
        )
        blocks: dict[str, tuple[CutOut | Key, ...]] = {"cutouts": self.cutouts, "keys": self.keys}
        for name, lines in blocks.items():
            for line, item in enumerate(lines, start=1):
                wanted = f"from 0 to the height of {self.height:.2f} mm, the lower end first"
                ends = f"Line {line}, from {item.low:.2f} to {item.high:.2f} mm,"
                refuse(self, name, 0 <= item.low < item.high <= self.height + 1e-9, wanted, ends)
                wanted, width = f"above 0 and below {least_inner:.2f} mm", f"Line {line}, {item.width:.2f} mm wide,"
                refuse(self, name, 0 < item.width < least_inner, wanted, width)
                wanted, depth = f"less than {least_inner / 2:.2f} mm", f"Line {line}, {item.depth:.2f} mm deep,"
                refuse(self, name, abs(item.depth) < least_inner / 2, wanted, depth)

    def _check_edges(self) -> None:
        self.check_wall()
        self.check_one_of("flange", "nose")
        if self.step:
            inside = outlines.clear(self.inner, self.step) > 0
            refuse(
                self,
                self.name_of("flange"),
                inside,
                "more than the inside diameter" if self.is_round else "round the inside",
            )
            begins = max(self.start, 0.0)
            behind_it = not self.rim_height or self.rim_height < begins + self.height
            refuse(self, "rim_height", behind_it, f"below {begins + self.height:.2f} mm, where the ring ends")
            refuse(self, "flange_depth", 0 < self.flange_depth < self.height, "above 0 and below the ring's height")
        if self.nose:
            inside = outlines.clear(self.nose, self.outer) > 0
            refuse(self, self.name_of("nose"), inside, self.below("nose", "outside"))
            refuse(self, "nose_height", 0 < self.nose_height < self.height, "above 0 and below the ring's height")
        named = self.name_of("nose") if self.nose else self.name_of("flange") if self.step else "chamfer"
        refuse(self, named, self.front_wall > 0, "such that a wall is left at the dial side")
        refuse(
            self,
            "chamfer",
            not self.chamfer or all(map(is_convex, self.edges)),
            "0: this outline is drawn in somewhere",
        )
        most = min(
            self.front_wall / 2,
            self.wall / 2,
            self.height / 2,
            *(x for x in (self.flange_depth, self.nose_height) if x),
        )
        nose_room = self.height - self.nose_height if self.nose else most + 1
        most = min(most, nose_room, self.height - self.flange_depth if self.step else nose_room)
        refuse(self, "chamfer", not self.chamfer or self.chamfer < most, f"below {most:.2f} mm, or no face is left")

    @property
    def step(self) -> Outline | None:
        """The inner step's edge, None without one."""
        return (
            edge_of(self.flange_outline, self.flange_diameter) if self.flange_outline or self.flange_diameter else None
        )

    @property
    def nose(self) -> Outline | None:
        """The outer step's edge, None without one."""
        return edge_of(self.nose_outline, self.nose_diameter) if self.nose_outline or self.nose_diameter else None

    @property
    def edges(self) -> Iterator[Outline]:
        """All its edges."""
        return (edge for edge in (self.outer, self.inner, self.step, self.nose) if edge)

    @property
    def is_round(self) -> bool:
        """Whether every edge of it is a circle."""
        return all(edge.shape == "round" for edge in self.edges)

    @property
    def front_outer(self) -> Outline:
        """The outer edge of the face that looks at the dial, chamfers not counted."""
        return self.nose or self.outer

    @property
    def front_inner(self) -> Outline:
        """The inner edge of that face."""
        return self.step or self.inner

    @property
    def front_wall(self) -> float:
        """The same at the dial side."""
        return float(outlines.clear(self.front_inner, self.front_outer))

    @property
    def has_full_lip(self) -> bool:
        """Whether a lip goes all round behind the movement; tabs stand in its place otherwise."""
        return bool(self.lip_reach and not self.tab_count)

    @property
    def top(self) -> float:
        """The highest point, nubs included."""
        return self.height + (self.nub_height if self.nub_count else 0.0)
