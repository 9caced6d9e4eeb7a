"""The movement. Post heights count from the dial rest towards the crystal, depths towards the back."""

from dataclasses import dataclass
from typing import Any, Literal

from parts.fit.arithmetic.elementwise import is_column
from parts.fit.arithmetic.quantities import Quantity
from parts.fit.inputs import a_height, a_length, a_size, an_amount, an_angle
from parts.fit.records.kinds import feature, flag_or, named, part, rows
from parts.fit.records.outline import Outline
from parts.fit.records.outline import outline as outline_of


@dataclass(frozen=True, slots=True)
class Post:
    diameter: Quantity = a_size("diameter", "where the hand's hub sits")
    height: Quantity = a_length("height", "from the dial rest to the top of the post, pressed down")
    made_for: Quantity = a_size("trade size", "the size of hand that the maker sells for it", most=5.0)
    end_play: Quantity = a_length("end play", "how far the wheel of the post can rise", most=2.0)


@dataclass(frozen=True, slots=True)
class Posts:
    hour: Post = part(Post, "hour post")
    minute: Post = part(Post, "minute post")
    seconds: Post = part(Post, "seconds post")


@dataclass(frozen=True, slots=True)
class SubPost:
    """A post beside the middle, for small seconds or another small hand."""

    name: str = named("name")
    angle: Quantity = an_angle("angle", "clockwise from the stem, seen from the dial side")
    radius: Quantity = a_length("radius", "from the movement's centre to the post's centre")
    diameter: Quantity = a_size("diameter", "of the post, where the hand goes on", most=10.0)
    height: Quantity = a_length("height", "from the dial rest to the top of the post, pressed down")
    made_for: Quantity = a_size("trade size", "the size of hand that the maker sells for it", most=5.0)
    end_play: Quantity = a_length("end play", "how far the wheel of the post can rise", most=2.0)


@dataclass(frozen=True, slots=True)
class FootHole:
    angle: Quantity = an_angle("angle", "clockwise from the stem, seen from the dial side")
    radius: Quantity = a_length("radius", "from the movement's centre to the hole's centre")
    diameter: Quantity = a_size("diameter")


@dataclass(frozen=True, slots=True)
class DateDisc:
    angle: Quantity = an_angle("angle", "where the maker's own dial has the date, clockwise from the stem")
    numeral_radius: Quantity = a_length("numeral radius", "from the centre to the middle of a numeral")
    numeral_radial: Quantity = a_size("numeral radial size", "of the printed numeral along the radius")
    numeral_tangential: Quantity = a_size("numeral tangential size", "of the widest printed numeral across the radius")
    disc_inner_radius: Quantity = a_length("disc inner radius")
    disc_outer_radius: Quantity = a_size("disc outer radius")


DAYS = (7, 14)
"""Steps a round of a day disc: in one language, or in two that take turns."""


@dataclass(frozen=True, slots=True)
class DayDisc:
    angle: Quantity = an_angle("angle", "where the maker's own dial has the day, clockwise from the stem")
    numeral_radius: Quantity = a_length("word radius", "from the centre to the middle of a word")
    numeral_radial: Quantity = a_size("word radial size", "of the printed word along the radius")
    numeral_tangential: Quantity = a_size("word tangential size", "of the widest printed word across the radius")
    pitch: Quantity = an_angle("pitch", "from one word to the next: 360/7, or 360/14 in two languages")

    @property
    def steps(self) -> int:
        """Words a round; one language where nobody said."""
        if not self.pitch.known:
            return DAYS[0]
        pitch: Any = self.pitch.value
        pitch = float(pitch[0]) if is_column(pitch) else pitch
        return min(DAYS, key=lambda count: abs(360 / count - pitch))


@dataclass(frozen=True, slots=True)
class UnbalanceLimits:
    hour: Quantity = an_amount("hour hand unbalance limit", "uN·m", "from the movement maker's sheet")
    minute: Quantity = an_amount("minute hand unbalance limit", "uN·m", "from the movement maker's sheet")
    seconds: Quantity = an_amount("seconds hand unbalance limit", "uN·m", "from the movement maker's sheet")


@dataclass(frozen=True, slots=True)
class Movement:
    fit_diameter: Quantity = a_size("fit diameter", "the cylinder that a holder ring grips")
    overall_diameter: Quantity = a_size("overall diameter", "across the widest part")
    outline: Outline | None = outline_of("outline")
    fit_outline: Outline | None = outline_of("fit outline")
    stem_axis_depth: Quantity = a_length("stem axis depth", "from the dial rest back to the stem's axis")
    back_height: Quantity = a_length("back height", "from the dial rest to the rearmost point")
    stem_thread: Quantity = a_size("stem thread", "outside diameter of the thread at the stem's end", most=5.0)
    stem_thread_pitch: Quantity = a_size("stem thread pitch", "from crest to crest of the thread", most=2.0)
    stem_reference_radius: Quantity = a_length(
        "stem reference radius", "from the centre to where a stem's length begins"
    )
    ring_rise: Quantity = a_height(
        "ring rise", "from the ledge that the movement or its ring stands on forward to the dial rest"
    )
    posts: Posts = part(Posts, "posts")
    subsidiary: tuple[SubPost, ...] = rows(SubPost, "small post", absent=())
    foot_holes: tuple[FootHole, ...] | None = rows(FootHole, "foot hole")
    date: DateDisc | Literal[False] | None = feature(DateDisc, "date")
    day: DayDisc | bool = flag_or(DayDisc, "day display")
    unbalance_limits: UnbalanceLimits = part(UnbalanceLimits, "")
    cell_capacity: Quantity = an_amount("cell capacity", "mAh", "at the load and cut-off the cell's maker states")
    current: Quantity = an_amount("current", "uA", "mean current of the running movement", above=True)
