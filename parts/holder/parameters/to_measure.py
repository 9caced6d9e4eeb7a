"""Which dimensions of a made piece are measured before it is used, and how far they may be off the drawing; mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

from parts.fit.arithmetic.outlines import along_ray

if TYPE_CHECKING:
    from parts.holder.parameters import Piece

LEAST_OFF = 0.01
"""Nothing is asked for more closely than this, mm: a calliper tells no less."""
_EDGES = {"outside": "outer", "inside": "inner", "nose": "nose", "flange": "step"}
"""The edges that seat the piece and hold the movement, and their property."""
LABELS = {
    "outside_diameter": "outside diameter",
    "inside_diameter": "inside diameter",
    "nose_diameter": "outer step, diameter",
    "flange_diameter": "inner step, diameter",
    "outside_12_to_6": "outside, from 12 to 6 o'clock",
    "outside_9_to_3": "outside, from 9 to 3 o'clock",
    "inside_12_to_6": "inside, from 12 to 6 o'clock",
    "inside_9_to_3": "inside, from 9 to 3 o'clock",
    "nose_12_to_6": "outer step, from 12 to 6 o'clock",
    "nose_9_to_3": "outer step, from 9 to 3 o'clock",
    "flange_12_to_6": "inner step, from 12 to 6 o'clock",
    "flange_9_to_3": "inner step, from 9 to 3 o'clock",
    "channel_width": "stem channel, width",
    "height": "height",
    "thickness": "thickness",
    "channel_axis": "stem channel, from the dial side to its axis",
}
"""What is measured, as the bench and the customer's papers call it."""
_ACROSS = {"12_to_6": 0.0, "9_to_3": 90.0}
"""Where an edge that is not round is measured through its middle, in degrees clockwise from 12 o'clock."""
_HEIGHTS = ("height", "thickness", "channel_axis")
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Size:
    """A dimension to measure: its name, what is drawn and how far off it may be, mm."""

    name: str
    drawn: float
    off: float

    @property
    def label(self) -> str:
        """What it is called."""
        return LABELS[self.name]

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
    """The dimensions that matter, edges and channel first, then heights; each true to the ± that it is drawn for."""
    widths_off, heights_off = (max(off, LEAST_OFF) for off in (parameters.plus_minus, parameters.heights_plus_minus))
    sizes = [Size(name, drawn, widths_off) for name, drawn in _widths(parameters)]
    names = {item.name for item in fields(parameters)}
    heights = [(name, getattr(parameters, name)) for name in _HEIGHTS if name in names]
    return sizes + [Size(name, drawn, heights_off) for name, drawn in heights if drawn]


def _widths(parameters: Piece) -> Iterator[tuple[str, float]]:
    for name, edge_name in _EDGES.items():
        edge = getattr(parameters, edge_name, None)
        if edge and edge.shape == "round":
            yield f"{name}_diameter", float(edge.width)
        elif edge:
            for place, angle in _ACROSS.items():
                across = float(along_ray(edge, angle)) + float(along_ray(edge, angle + 180))
                yield f"{name}_{place}", across
    if hasattr(parameters, "channel_width"):
        yield "channel_width", parameters.channel_width
