"""The pairing sheet as frozen records: the only input of the engine, and the one list of what can be measured.

Source: fit model sections 1 and 2. Lengths in mm, angles in degrees clockwise from 12 o'clock seen from the
dial side, masses in mg, torque in µN·m, current in µA, capacity in mAh. Case depths count from the dial seat towards
the case back; on the movement, post heights count from the dial rest towards the crystal, depths towards the back.

Every number is a Quantity under its path in the sheet ("movement.posts.hour.height"); what was not measured is an
unknown Quantity. Lists that are None were not looked at; an empty list says that there are none. A window or a date
that is None was not looked at; False says that there is none.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, fields
from typing import Any, Literal

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.inputs import Input, a_length, a_size, an_amount, an_angle

HANDS = ("hour", "minute", "seconds")


def part(cls: type[Any], label: str) -> Any:
    """A nested record, always there although its numbers may be unknown."""
    return field(default=None, metadata={"part": cls, "label": label})


def optional(cls: type[Any], label: str) -> Any:
    """A nested record that may be absent altogether (the seconds hand of a watch with two)."""
    return field(default=None, metadata={"part": cls, "label": label, "optional": True})


def feature(cls: type[Any], label: str) -> Any:
    """A nested record of what a part may have: None where nobody looked, False where there is none."""
    return field(default=None, metadata={"part": cls, "label": label, "optional": True, "feature": True})


def rows(cls: type[Any], label: str, absent: tuple[()] | None = None) -> Any:
    """A list of records; `absent` is what an absent key means."""
    return field(default=None, metadata={"rows": cls, "label": label, "absent": absent})


def choice(label: str, options: tuple[str, ...], default: str | None = None) -> Any:
    return field(default=default, metadata={"choice": options, "label": label})


def yes_no(label: str) -> Any:
    return field(default=False, metadata={"yes_no": True, "label": label})


@dataclass(frozen=True, slots=True)
class Case:
    bore_diameter: Quantity = a_size(
        "bore diameter", "inside of the case behind the dial seat, where the holder ring goes"
    )
    seat_wall: Quantity = a_length(
        "seat wall", "depth of the recess that holds the dial's edge sideways, from the seat towards the back"
    )
    dial_seat_diameter: Quantity = a_size("dial seat diameter", "diameter of the recess the dial lies in")
    dial_opening_diameter: Quantity = a_size(
        "dial opening diameter", "visible opening in front of the dial", bounded=True
    )
    stem_axis_depth: Quantity = a_length("stem axis depth", "from the dial seat back to the axis of the stem hole")
    back_depth: Quantity = a_length(
        "back depth",
        "from the dial seat to the inside of the closed case back, least over the movement's area",
        bounded=True,
    )
    crystal_gap_centre: Quantity = a_length(
        "crystal gap at the centre", "from the dial seat forward to the crystal", bounded=True
    )
    crystal_gap_edge: Quantity = a_length(
        "crystal gap at the edge", "the same near the rim; blank for a flat crystal", bounded=True
    )
    crystal_edge_radius: Quantity = a_size(
        "radius of the edge gap", "distance from the centre where the edge gap was measured"
    )
    stem_angle: Quantity = an_angle("stem angle", "direction of the crown: 90 is 3 o'clock")
    tube_bore_diameter: Quantity = a_size("tube bore diameter", "inside of the case tube, round the stem", bounded=True)
    tube_outer_diameter: Quantity = a_size("tube outer diameter", "outside of the case tube, under the crown")
    crown_seat_radius: Quantity = a_length(
        "crown seat radius", "from the case's centre to the face where the crown stops"
    )
    loading: str = choice("loading", ("back", "front"), "back")


@dataclass(frozen=True, slots=True)
class Foot:
    angle: Quantity = an_angle("angle", "clockwise from 12 o'clock, seen from the front")
    radius: Quantity = a_length("radius", "from the dial's centre to the foot's centre")
    diameter: Quantity = a_size("diameter", "near the foot's end")


@dataclass(frozen=True, slots=True)
class Window:
    angle: Quantity = an_angle("angle", "90 is a window at 3 o'clock")
    radius: Quantity = a_length("radius", "from the dial's centre to the window's middle")
    radial: Quantity = a_size("radial width", "the window's size along the radius")
    tangential: Quantity = a_size("tangential width", "the window's size across the radius")


@dataclass(frozen=True, slots=True)
class Furniture:
    name: str = field(default="", metadata={"text": True, "label": "name"})
    inner_radius: Quantity = a_length("inner radius", "nearest point to the dial's centre")
    outer_radius: Quantity = a_length("outer radius", "farthest point from the dial's centre")
    height: Quantity = a_length("height", "above the dial's face")


@dataclass(frozen=True, slots=True)
class Dial:
    diameter: Quantity = a_size("diameter")
    thickness: Quantity = a_size("thickness", "the plate alone, without markers")
    centre_thickness: Quantity = a_size(
        "thickness at the centre", "from the dial's back to its face at the hub, where it differs"
    )
    centre_hole_diameter: Quantity = a_size("centre hole diameter")
    minute_track_radius: Quantity = a_length(
        "minute track radius", "from the centre to the outer end of the minute marks"
    )
    hour_marker_inner_radius: Quantity = a_length(
        "hour marker inner radius", "from the centre to where the markers begin"
    )
    feet: tuple[Foot, ...] | None = rows(Foot, "foot")
    window: Window | Literal[False] | None = feature(Window, "window")
    day_window: bool = yes_no("day window")
    furniture: tuple[Furniture, ...] = rows(Furniture, "furniture", absent=())
    fixing: str | None = choice("fixing", ("feet", "pads"))
    pad_thickness: Quantity = a_length("pad thickness", "of the dial pads between dial and movement")
    own_case: bool = yes_no("from this case")


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


@dataclass(frozen=True, slots=True)
class UnbalanceLimits:
    hour: Quantity = an_amount("hour hand unbalance limit", "uN·m", "from the movement maker's sheet")
    minute: Quantity = an_amount("minute hand unbalance limit", "uN·m", "from the movement maker's sheet")
    seconds: Quantity = an_amount("seconds hand unbalance limit", "uN·m", "from the movement maker's sheet")


@dataclass(frozen=True, slots=True)
class Movement:
    fit_diameter: Quantity = a_size("fit diameter", "the cylinder that a holder ring grips")
    overall_diameter: Quantity = a_size("overall diameter", "across the widest part")
    stem_axis_depth: Quantity = a_length("stem axis depth", "from the dial rest back to the stem's axis")
    back_height: Quantity = a_length("back height", "from the dial rest to the rearmost point")
    stem_thread: Quantity = a_size("stem thread", "outside diameter of the thread at the stem's end", most=5.0)
    stem_thread_pitch: Quantity = a_size("stem thread pitch", "from crest to crest of the thread", most=2.0)
    stem_reference_radius: Quantity = a_length(
        "stem reference radius", "from the centre to where a stem's length begins"
    )
    posts: Posts = part(Posts, "posts")
    foot_holes: tuple[FootHole, ...] | None = rows(FootHole, "foot hole")
    date: DateDisc | Literal[False] | None = feature(DateDisc, "date")
    day: bool = yes_no("day display")
    unbalance_limits: UnbalanceLimits = part(UnbalanceLimits, "")
    cell_capacity: Quantity = an_amount("cell capacity", "mAh", "at the load and cut-off the cell's maker states")
    current: Quantity = an_amount("current", "uA", "mean current of the running movement", above=True)


@dataclass(frozen=True, slots=True)
class Hand:
    hole_diameter: Quantity = a_size("hole diameter", "of the hub, where it presses on")
    length: Quantity = a_length("length", "from the hole's centre to the tip")
    tail: Quantity = a_length("tail", "from the hole's centre to the end of the tail; 0 for none")
    thickness: Quantity = a_size("blade thickness")
    hub_height: Quantity = a_size("hub height", "from the hub's underside to its top")
    hub_diameter: Quantity = a_size("hub diameter", "of the collet round the post")
    boss_diameter: Quantity = a_size("boss diameter", "what is seen of the hub from above, where it is wider")
    blade_step: Quantity = a_length("blade step", "from the hub's top down to the blade's top", most=5.0)
    cap_thickness: Quantity = a_length(
        "cap thickness", "what a closed tube stands above its post's top; 0 if bored through", most=5.0
    )
    made_for: Quantity = a_size("trade size", "the size that it is sold as", most=5.0)
    tried: str | None = choice("tried on its post", ("loose", "grips", "tight"))
    mass: Quantity = an_amount("mass", "mg")
    centre_of_mass: Quantity = a_length("centre of mass", "from the hole's centre to the point of balance; no sign")


@dataclass(frozen=True, slots=True)
class HandSet:
    hour: Hand = part(Hand, "hour hand")
    minute: Hand = part(Hand, "minute hand")
    seconds: Hand | None = optional(Hand, "seconds hand")


@dataclass(frozen=True, slots=True)
class Stem:
    thread: Quantity = a_size("thread", "outside diameter of the thread", most=5.0)
    thread_pitch: Quantity = a_size("thread pitch", "from crest to crest of the thread", most=2.0)
    thread_length: Quantity = a_length("thread length", "of the thread along the stem")
    diameter: Quantity = a_size("diameter", "of its body, where it is thicker than the thread", most=10.0)
    length: Quantity = a_length("length", "from the movement's stem reference to the stem's end")
    uncut_gap: Quantity = a_length("gap with the uncut stem", "between crown and seat with the uncut stem fitted")


@dataclass(frozen=True, slots=True)
class Crown:
    thread: Quantity = a_size("thread", "diameter of the stem thread it takes", most=5.0)
    thread_pitch: Quantity = a_size("thread pitch", "from crest to crest of the thread", most=2.0)
    bore_depth: Quantity = a_length("bore depth", "from the stop face to the bottom of the thread, relaxed")
    tube_bore_diameter: Quantity = a_size("tube bore diameter", "inside, where it slides over the case tube")
    style: str | None = choice("style", ("push", "screw"))
    spring_travel: Quantity = a_length("spring travel", "screw crown only: from relaxed to fully pressed")
    own_tube: bool = yes_no("from this case's tube")


@dataclass(frozen=True, slots=True)
class Spacer:
    placement: str = choice("placement", ("auto", "front", "rear"), "auto")


@dataclass(frozen=True, slots=True)
class Sheet:
    """One pairing: the parts of a watch that are to go together."""

    case: Case = part(Case, "case")
    dial: Dial = part(Dial, "dial")
    movement: Movement = part(Movement, "movement")
    hands: HandSet = part(HandSet, "hands")
    stem: Stem = part(Stem, "stem")
    crown: Crown = part(Crown, "crown")
    spacer: Spacer = part(Spacer, "spacer")
    rules: dict[str, float] = field(default_factory=dict, metadata={"rules": True})


def fitted(hands: HandSet) -> list[tuple[str, Hand]]:
    """The (name, hand) pairs of the hands that the watch has, from the dial upwards."""
    return [(name, getattr(hands, name)) for name in HANDS if getattr(hands, name) is not None]


@dataclass(frozen=True, slots=True)
class Described:
    """An input in words: `phrase` reads within a sentence, `input` holds unit and limits (None for choices)."""

    phrase: str
    input: Input | None

    @property
    def step(self) -> str:
        """What to do to know it."""
        return f"measure the {self.phrase}" if self.input else f"note the {self.phrase}"


def _walk(cls: type[Any], path: str, words: str) -> Iterator[tuple[str, Described]]:
    for item in fields(cls):
        meta = item.metadata
        here = f"{path}.{item.name}" if path else item.name
        nested = meta.get("part") or meta.get("rows")
        label = meta["input"].label if "input" in meta else meta.get("label", "")
        phrase = " ".join(filter(None, (words, label)))
        if nested:
            inner = phrase if label != "posts" else words
            if "rows" in meta:
                yield here, Described(f"{words} {'feet' if item.name == 'feet' else label + 's'}", None)
                here, inner = f"{here}[]", f"{phrase} {{}}"
            elif "feature" in meta:
                yield here, Described(phrase, None)
            yield from _walk(nested, here, inner if words != "hands" else label)
        elif "rules" not in meta:
            yield here, Described(phrase, meta.get("input"))


MADE_SPACER = "spacer.thickness"
"""The spacer once it is made: an input of the checks, although no sheet gives it."""
_DESCRIBED = dict(_walk(Sheet, "", ""))
_DESCRIBED[MADE_SPACER] = Described("thickness of the finished spacer", Input("thickness", above=True))


def describe(path: str) -> Described:
    """What a path means ("dial.feet[1].radius" is the dial foot 2 radius); KeyError where there is none such."""
    if "[" not in path:
        return _DESCRIBED[path]
    head, rest = path.split("[", 1)
    index, tail = rest.split("]", 1)
    of_each = _DESCRIBED[f"{head}[]{tail}"]
    return Described(of_each.phrase.format(int(index) + 1), of_each.input)


def input_of(path: str) -> Input:
    """The number that stands at a path; KeyError where none does."""
    described = describe(path)
    if described.input is None:
        raise KeyError(path)
    return described.input


def paths() -> list[str]:
    """Every path of the sheet; list items stand under "[]"."""
    return [path for path in _DESCRIBED if path != MADE_SPACER]
