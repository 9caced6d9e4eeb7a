"""The dial: plate, feet, windows and what stands up from it."""

from dataclasses import dataclass
from typing import Literal

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.inputs import a_length, a_size, an_angle
from parts.fit.records.kinds import choice, feature, flag_or, named, rows, yes_no
from parts.fit.records.outline import Outline
from parts.fit.records.outline import outline as outline_of


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

    @property
    def is_placed(self) -> bool:
        """Whether place and size are measured."""
        return all(each.known for each in (self.angle, self.radius, self.radial, self.tangential))


@dataclass(frozen=True, slots=True)
class Furniture:
    name: str = named("name")
    inner_radius: Quantity = a_length("inner radius", "nearest point to the dial's centre")
    outer_radius: Quantity = a_length("outer radius", "farthest point from the dial's centre")
    height: Quantity = a_length("height", "above the dial's face")


@dataclass(frozen=True, slots=True)
class Subdial:
    """A small dial in the dial, with the hole for its post."""

    name: str = named("name")
    angle: Quantity = an_angle("angle", "clockwise from 12 o'clock, seen from the front")
    radius: Quantity = a_length("radius", "from the dial's centre to the hole's centre")
    hole_diameter: Quantity = a_size("hole diameter")
    depth: Quantity = a_length("depth", "of its face below the dial's face", most=10.0)


@dataclass(frozen=True, slots=True)
class Dial:
    diameter: Quantity = a_size("diameter")
    outline: Outline | None = outline_of("outline")
    thickness: Quantity = a_size("thickness", "the plate alone, without markers")
    centre_thickness: Quantity = a_size(
        "thickness at the centre", "from the dial's back to its face at the hub, where it differs"
    )
    rise: Quantity = a_length("rise", "of a domed dial, its middle over its edge", most=10.0)
    centre_hole_diameter: Quantity = a_size("centre hole diameter")
    minute_track_radius: Quantity = a_length(
        "minute track radius", "from the centre to the outer end of the minute marks"
    )
    hour_marker_inner_radius: Quantity = a_length(
        "hour marker inner radius", "from the centre to where the markers begin"
    )
    feet: tuple[Foot, ...] | None = rows(Foot, "foot")
    window: Window | Literal[False] | None = feature(Window, "window")
    day_window: Window | bool = flag_or(Window, "day window")
    furniture: tuple[Furniture, ...] = rows(Furniture, "furniture", absent=())
    subdials: tuple[Subdial, ...] = rows(Subdial, "subdial", absent=())
    fixing: str | None = choice("fixing", ("feet", "pads"))
    pad_thickness: Quantity = a_length("pad thickness", "of the dial pads between dial and movement")
    rests_on: str | None = choice("rests on", ("seat", "movement"))
    own_case: bool = yes_no("from this case")

    @property
    def placed_windows(self) -> list[Window]:
        """Date and day window, as far as place and size are measured."""
        return [each for each in (self.window, self.day_window) if isinstance(each, Window) and each.is_placed]
