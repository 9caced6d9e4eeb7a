"""The dimensions of a holder ring and of a spacer, with their limits; mm and degrees.

A ring's heights count from its side that faces the dial towards the case back.
0 stands for "none" where a label says so.
"""

from collections.abc import Iterator, Mapping
from dataclasses import MISSING, Field, dataclass, field, fields
from typing import Any, TypeAlias

from parts.fit.errors import SheetError
from parts.fit.inputs import Input

PROCESSES = ("filament", "resin", "turned")
OPEN_SIDES = ("dial", "back", "closed")


def number(group: str, label: str, where: str = "", default: Any = MISSING, **limits: Any) -> Any:
    spec = Input(label, where, **limits)
    return field(**_default(default), metadata={"input": spec, "group": group})


def angle(group: str, label: str, where: str = "") -> Any:
    return number(group, label, where, 0.0, unit="deg", least=-360.0, most=360.0)


def choice(group: str, label: str, options: tuple[str, ...], where: str = "") -> Any:
    return field(default=options[0], metadata={"choice": options, "label": label, "where": where, "group": group})


def rows(group: str, label: str, cls: type[Any], where: str = "") -> Any:
    return field(default=(), metadata={"rows": cls, "label": label, "where": where, "group": group})


def _default(value: Any) -> dict[str, Any]:
    return {} if value is MISSING else {"default": value}


@dataclass(frozen=True, slots=True)
class CutOut:
    """Room for something of the movement, cut from the inside outwards."""

    angle: float
    width: float
    depth: float
    low: float
    high: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class Key:
    """A block that grips a gap against twisting; a depth below zero points inwards, into the movement."""

    angle: float
    width: float
    depth: float
    low: float
    high: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class FootNotch:
    """Where a dial foot passes a spacer; `diameter` is the notch's own."""

    angle: float
    radius: float
    diameter: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class Made:
    """How the piece is made."""

    process: str = choice("Making", "made by", PROCESSES)
    nozzle: float = number("Making", "nozzle", "of a filament printer", 0.4, above=True, most=2.0)
    layer: float = number("Making", "layer height", "of any printer", 0.15, above=True, most=1.0)
    first_layer: float = number("Making", "first layer", "of a filament printer", 0.2, above=True, most=1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring(Made):
    """A ring that holds a movement in a bore."""

    outside_diameter: float = number("Ring", "outside diameter", "towards the case's bore", above=True)
    inside_diameter: float = number("Ring", "inside diameter", "round the movement", above=True)
    start: float = number("Ring", "start behind the dial rest", "0 if the ring lies against the dial", 0.0)
    height: float = number("Ring", "height", "from its dial side towards the case back, without nubs", above=True)
    chamfer: float = number("Ring", "lead-in chamfer", "on all four edges, 45°; 0 for none", 0.2, most=2.0)
    flange_diameter: float = number(
        "Steps", "inner step's diameter", "for a wider rim of the movement; 0 for none", 0.0
    )
    flange_depth: float = number("Steps", "inner step's depth", "from the dial side", 0.0)
    nose_diameter: float = number("Steps", "outer step's diameter", "for a shoulder in the case; 0 for none", 0.0)
    nose_height: float = number("Steps", "outer step's height", "from the dial side", 0.0)
    channel_angle: float = angle("Stem channel", "channel's angle", "90 is 3 o'clock")
    channel_width: float = number("Stem channel", "channel's width", "across the stem", 1.5, above=True, most=20.0)
    channel_axis: float = number("Stem channel", "channel's axis", "from the dial side to the stem's axis")
    channel_open: str = choice("Stem channel", "channel open to", OPEN_SIDES, "the side that assembly needs")
    ring_goes: str = choice("Stem channel", "ring goes in", ("last", "first"), "after the movement, or before it")
    stem_goes: str = choice("Stem channel", "stem goes in", ("last", "first"), "after ring and movement, or before")
    nub_count: float = number(
        "Nubs", "number of nubs", "that the case back presses on; 0 for none", 3.0, unit="mm", most=24.0
    )
    nub_diameter: float = number("Nubs", "nub's diameter", "", 1.0, above=True, most=10.0)
    nub_height: float = number(
        "Nubs", "nub's height", "gap to the case back, plus how far it is pressed", 0.15, most=3.0
    )
    nub_angle: float = angle("Nubs", "first nub's angle", "the others follow evenly")
    notch_angle: float = angle("Finger notch", "notch's angle", "")
    notch_width: float = number("Finger notch", "notch's width", "0 for none", 0.0, most=20.0)
    notch_depth: float = number("Finger notch", "notch's depth", "from the outside inwards", 0.4, most=10.0)
    notch_height: float = number("Finger notch", "notch's height", "from the back", 0.8, most=10.0)
    lip: float = number("Finger notch", "grip lip", "undercut below the notch for a hook; 0 for none", 0.0, most=2.0)
    cutouts: tuple[CutOut, ...] = rows(
        "Cut-outs", "cut-outs", CutOut, "a line each: angle width depth from to, and what for"
    )
    keys: tuple[Key, ...] = rows(
        "Cut-outs", "keys", Key, "a line each: angle width depth from to, what for; a depth below 0 points inwards"
    )

    def __post_init__(self) -> None:
        check_limits(self)
        outside, inside = self.dial_side
        refuse(self, "inside_diameter", self.inside_diameter < self.outside_diameter, "below the outside diameter")
        if self.flange_diameter:
            refuse(
                self, "flange_diameter", self.flange_diameter > self.inside_diameter, "more than the inside diameter"
            )
            refuse(self, "flange_depth", 0 < self.flange_depth < self.height, "above 0 and below the ring's height")
        if self.nose_diameter:
            refuse(self, "nose_diameter", self.nose_diameter < self.outside_diameter, "below the outside diameter")
            refuse(self, "nose_height", 0 < self.nose_height < self.height, "above 0 and below the ring's height")
        named = "nose_diameter" if self.nose_diameter else "flange_diameter" if self.flange_diameter else "chamfer"
        refuse(self, named, inside < outside, "such that a wall is left at the dial side")
        land = min(outside - inside, self.outside_diameter - self.inside_diameter)
        most = min(land / 4, self.height / 2, *(x for x in (self.flange_depth, self.nose_height) if x))
        nose_room = self.height - self.nose_height if self.nose_diameter else most + 1
        most = min(most, nose_room, self.height - self.flange_depth if self.flange_diameter else nose_room)
        refuse(self, "chamfer", not self.chamfer or self.chamfer < most, f"below {most:.2f} mm, or no face is left")
        refuse(self, "channel_width", self.channel_width < self.inside_diameter, "below the inside diameter")
        refuse(self, "nub_count", self.nub_count == int(self.nub_count), "a whole number")
        refuse(self, "notch_height", not self.notch_width or self.notch_height < self.height, "below the ring's height")
        for name, items in (("cutouts", self.cutouts), ("keys", self.keys)):
            for item in items:
                wanted = f"from 0 to the height of {self.height:.2f} mm, the lower end first"
                refuse(self, name, 0 <= item.low < item.high <= self.height + 1e-9, wanted)
                refuse(self, name, 0 < item.width < self.inside_diameter, "rows with a width below the inside diameter")
                refuse(self, name, abs(item.depth) < self.inside_diameter / 2, "rows with a depth below the radius")

    @property
    def dial_side(self) -> tuple[float, float]:
        """Outside and inside diameter of the face that looks at the dial, chamfers not counted."""
        return self.nose_diameter or self.outside_diameter, self.flange_diameter or self.inside_diameter

    @property
    def wall(self) -> float:
        """Thickness of the wall between inside and outside diameter."""
        return (self.outside_diameter - self.inside_diameter) / 2

    @property
    def top(self) -> float:
        """The highest point, nubs included."""
        return self.height + (self.nub_height if self.nub_count else 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spacer(Made):
    """A washer that lifts the dial or the movement."""

    outside_diameter: float = number("Spacer", "outside diameter", "", above=True)
    inside_diameter: float = number("Spacer", "inside diameter", "", above=True)
    thickness: float = number("Spacer", "thickness", "", above=True, most=10.0)
    split_width: float = number("Spacer", "split's width", "splits the washer; 0 for none", 0.0, most=20.0)
    split_angle: float = angle("Spacer", "split's angle", "")
    notches: tuple[FootNotch, ...] = rows(
        "Notches", "notches for feet", FootNotch, "a line each: angle radius diameter, and what for"
    )

    def __post_init__(self) -> None:
        check_limits(self)
        refuse(self, "inside_diameter", self.inside_diameter < self.outside_diameter, "below the outside diameter")
        refuse(self, "split_width", self.split_width < self.inside_diameter, "below the inside diameter")
        for notch in self.notches:
            refuse(self, "notches", 0 < notch.diameter < self.inside_diameter, "rows with a diameter above 0")
            refuse(self, "notches", 0 <= notch.radius <= 100, "rows with a radius from 0 to 100 mm")

    @property
    def wall(self) -> float:
        """Width of the washer."""
        return (self.outside_diameter - self.inside_diameter) / 2

    @property
    def height(self) -> float:
        return self.thickness

    top = height


Piece: TypeAlias = Ring | Spacer
KINDS: dict[str, type[Ring] | type[Spacer]] = {"ring": Ring, "spacer": Spacer}


def check_limits(parameters: Made) -> None:
    """Refuse a number outside its limits (SheetError names the key, the value and the limit)."""
    for item in fields(parameters):
        value = getattr(parameters, item.name)
        if "input" in item.metadata:
            item.metadata["input"].check(item.name, value)
        elif "choice" in item.metadata:
            options = item.metadata["choice"]
            refuse(parameters, item.name, value in options, f"one of {', '.join(options)}")


def refuse(parameters: Made, name: str, holds: object, limit: str) -> None:
    """SheetError unless it holds."""
    if not holds:
        raise SheetError(name, getattr(parameters, name), limit, "this cannot be made")


def label_of(item: Field[Any]) -> str:
    """A field's name in words."""
    label: str = item.metadata["input"].label if "input" in item.metadata else item.metadata["label"]
    return label


def as_plain(parameters: Made) -> dict[str, Any]:
    """The dimensions as JSON has them: name to number, word, or list of rows."""
    plain = {}
    for item in fields(parameters):
        value = getattr(parameters, item.name)
        plain[item.name] = [list(_values(row)) for row in value] if "rows" in item.metadata else value
    return plain


def from_plain(kind: str, plain: Mapping[str, Any]) -> Piece:
    """Parameters of a kind from what `as_plain` gave; unknown names are left out. Raises SheetError."""
    values: dict[str, Any] = {}
    for item in fields(KINDS[kind]):
        if item.name in plain:
            value = plain[item.name]
            values[item.name] = (
                tuple(item.metadata["rows"](*row) for row in value) if "rows" in item.metadata else value
            )
        elif item.default is MISSING:
            raise SheetError(item.name, None, "a number", f"{label_of(item)} is missing")
    return KINDS[kind](**values)


def _values(row: Any) -> Iterator[Any]:
    return (getattr(row, item.name) for item in fields(row))
