"""The dimensions of a spacer, a washer that lifts the dial or the movement; mm and degrees."""

from dataclasses import dataclass

from parts.fit.arithmetic import outlines
from parts.fit.arithmetic.outlines import Outline
from parts.holder.parameters.edged import INSTEAD, Edged
from parts.holder.parameters.kinds import angle, check_limits, number, outline, refuse, rows
from parts.holder.parameters.made import FootNotch


@dataclass(frozen=True, slots=True, kw_only=True)
class Spacer(Edged):
    """A washer that lifts the dial or the movement."""

    outside_diameter: float = number("Spacer", "outside diameter", "", 0.0)
    outside_outline: Outline | None = outline("Outlines", "outside outline", INSTEAD)
    inside_diameter: float = number("Spacer", "inside diameter", "", 0.0)
    inside_outline: Outline | None = outline("Outlines", "inside outline", INSTEAD)
    thickness: float = number("Spacer", "thickness", "", above=True, most=10.0)
    split_width: float = number("Spacer", "split's width", "splits the washer; 0 for none", 0.0, most=20.0)
    split_angle: float = angle("Spacer", "split's angle", "")
    notches: tuple[FootNotch, ...] = rows(
        "Notches", "notches for feet", FootNotch, "a line each: angle radius diameter, and what for"
    )

    def __post_init__(self) -> None:
        check_limits(self)
        self.check_wall()
        least = 2 * float(outlines.inner(self.inner))
        refuse(self, "split_width", self.split_width < least, "below the inside diameter")
        for line, notch in enumerate(self.notches, start=1):
            across = f"Line {line}, a diameter of {notch.diameter:.2f} mm,"
            refuse(self, "notches", 0 < notch.diameter < least, f"above 0 and below {least:.2f} mm", across)
            radius = f"Line {line}, a radius of {notch.radius:.2f} mm,"
            refuse(self, "notches", 0 <= notch.radius <= 100, "from 0 to 100 mm", radius)

    @property
    def height(self) -> float:
        return self.thickness

    top = height
