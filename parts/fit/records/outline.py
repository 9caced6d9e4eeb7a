"""An outline that is not round: width along 9 to 3, height along 12 to 6, centred on the hands' axis."""

from dataclasses import dataclass, field
from typing import Any

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.inputs import a_length, a_size
from parts.fit.records.kinds import choice, points

SHAPES = {"rectangle": ("width", "height", "corner"), "oval": ("width", "height"), "polyline": ("points",)}
"""What each shape is told by."""


@dataclass(frozen=True, slots=True)
class Outline:
    shape: str | None = choice("shape", tuple(SHAPES))
    width: Quantity = a_size("width", "along 9 to 3 o'clock")
    height: Quantity = a_size("height", "along 12 to 6 o'clock")
    corner: Quantity = a_length("corner radius", "of the rounded corners; 0 for sharp ones")
    points: tuple[tuple[float, float], ...] | None = points("points")

    @property
    def numbers(self) -> tuple[Quantity, ...]:
        """What the shape is told by, of what is measured."""
        return tuple(getattr(self, name) for name in SHAPES.get(self.shape or "", ()) if name != "points")


def outline(label: str) -> Any:
    """An outline in place of a diameter; none where the part is round."""
    return field(default=None, metadata={"part": Outline, "label": label, "optional": True, "whole": True})
