"""How a piece is made, and the rows of features that it may have."""

from dataclasses import dataclass

from parts.holder.parameters.kinds import choice, number

PROCESSES = ("filament", "resin", "turned")


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
    plus_minus: float = number("Making", "widths come out true to ±", "as your test prints say", 0.05, most=1.0)
    heights_plus_minus: float = number("Making", "heights come out true to ±", "as your test prints say", 0.1, most=1.0)
