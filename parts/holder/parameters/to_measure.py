"""Which dimensions of a made piece are measured before it is used, and how far they may be off the drawing; mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

from parts.fit.arithmetic.outlines import along_ray
from parts.holder.parameters.kinds import label_of

if TYPE_CHECKING:
    from parts.holder.parameters import Piece

HEIGHTS_OFF = {"filament": 0.10, "resin": 0.05, "turned": 0.02}
"""How far a made height may be off the drawing, mm, by process. Common practice, no source."""
LEAST_OFF = 0.01
"""No width is asked for more closely than this, mm: a calliper tells no less."""
_EDGES = {
    "outside": ("outer", "outside"),
    "inside": ("inner", "inside"),
    "nose": ("nose", "outer step"),
    "flange": ("step", "inner step"),
}
"""The edges that seat the piece and hold the movement: their property, and what they are called."""
_ACROSS = {"12_to_6": 0.0, "9_to_3": 90.0}
"""Where an edge that is not round is measured through its middle, in degrees clockwise from 12 o'clock."""
_HEIGHTS = ("height", "thickness", "channel_axis")
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Size:
    """A dimension to measure: its name, its label, what is drawn and how far off it may be, mm."""

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
    """The dimensions that matter: edges and channel true to the ± that the piece is drawn for, then the heights."""
    widths_off, heights_off = max(parameters.plus_minus, LEAST_OFF), HEIGHTS_OFF[parameters.process]
    labels = {item.name: label_of(item) for item in fields(parameters)}
    sizes = [Size(name, label, drawn, widths_off) for name, label, drawn in _widths(parameters, labels)]
    heights = [(name, getattr(parameters, name)) for name in _HEIGHTS if name in labels]
    return sizes + [Size(name, labels[name], drawn, heights_off) for name, drawn in heights if drawn]


def _widths(parameters: Piece, labels: dict[str, str]) -> Iterator[tuple[str, str, float]]:
    for name, (edge_name, words) in _EDGES.items():
        edge = getattr(parameters, edge_name, None)
        if edge and edge.shape == "round":
            diameter = f"{name}_diameter"
            yield diameter, labels[diameter], float(edge.width)
        elif edge:
            for place, angle in _ACROSS.items():
                across = float(along_ray(edge, angle)) + float(along_ray(edge, angle + 180))
                yield f"{name}_{place}", f"{words}, {place.replace('_', ' ')} o'clock", across
    if "channel_width" in labels:
        yield "channel_width", labels["channel_width"], getattr(parameters, "channel_width", 0.0)
