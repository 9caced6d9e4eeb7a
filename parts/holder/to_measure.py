"""Which dimensions of a made piece are measured before it is used, and how far they may be off the drawing; mm."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

from parts.holder.parameters import label_of

if TYPE_CHECKING:
    from parts.holder.parameters import Piece

OFF = {"filament": 0.10, "resin": 0.05, "turned": 0.02}
"""How far a made dimension may be off the drawing, mm, by process. Common practice, no source."""
MATTERING = (
    "outside_diameter",
    "inside_diameter",
    "height",
    "thickness",
    "nose_diameter",
    "flange_diameter",
    "channel_width",
    "channel_axis",
)
"""What decides whether a piece seats, holds the movement and clears the stem. A step that is 0 is none."""
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Size:
    """A dimension to measure: its name in the parameters, its label, what is drawn and how far off it may be, mm."""

    name: str
    label: str
    drawn: float
    off: float

    @property
    def least(self) -> float:
        """The smallest size that is right, mm."""
        return self.drawn - self.off

    @property
    def most(self) -> float:
        """The largest size that is right, mm."""
        return self.drawn + self.off

    def holds(self, measured: float) -> bool:
        """Whether a measured size lies within the limits, which count as within."""
        return self.least - _ROUNDING <= measured <= self.most + _ROUNDING


def sizes_of(parameters: Piece) -> list[Size]:
    """The dimensions of a piece that matter, in the drawing's order of importance."""
    labels = {item.name: label_of(item) for item in fields(parameters)}
    off = OFF[parameters.process]
    return [
        Size(name, labels[name], getattr(parameters, name), off)
        for name in MATTERING
        if name in labels and getattr(parameters, name)
    ]
