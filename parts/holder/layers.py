"""Heights that a printer makes: whole layers, as a slicer lays them.

A slicer cuts the body at the middle of every layer and prints those that it meets, so a height comes out as the nearest
number of whole layers on the first one, halfway between two as the higher one. `tests/holder/test_sliced.py` holds it
against an outside slicer.
"""

from math import ceil, floor

from parts.holder.parameters import Made

RESIN_LAYER, RESIN_LEAST = 0.05, 0.02
"""Thickest and thinnest layer that resin is printed in, mm; common practice, no source."""
THICKEST = 0.75
"""Thickest layer of filament as a share of the nozzle, and"""
THINNEST = 0.05
"""thinnest layer, mm, that it is asked to be printed in; common practice, no source."""
_SAME = 1e-9
_DRAWN_TO = 6
"""Decimals of a drawn height, mm: it is a sum of others, and a slicer counts in micrometres."""


def is_printed(made: Made) -> bool:
    """Whether the piece is made in layers at all."""
    return made.process != "turned"


def layer_heights(made: Made) -> tuple[float, float]:
    """The first layer and each one after it, mm."""
    if made.process == "resin":
        layer = min(made.layer, RESIN_LAYER)
        return layer, layer
    return made.first_layer, made.layer


def printed(height: float, made: Made) -> float:
    """The height that comes out where `height` is drawn, mm; itself where nothing is printed."""
    if not is_printed(made):
        return height
    first, layer = layer_heights(made)
    more = max(0, floor((round(height, _DRAWN_TO) - first) / layer + 0.5 + _SAME))
    return round(first + more * layer, 5)


def whole_below(height: float, made: Made) -> float:
    """The tallest height of whole layers that is not above `height`, mm; at least the first layer."""
    if not is_printed(made):
        return height
    first, layer = layer_heights(made)
    return round(first + max(0, int((round(height, _DRAWN_TO) - first) / layer + _SAME)) * layer, 6)


def even_layers(height: float, made: Made) -> tuple[int, float] | None:
    """How many layers of one height, near to the one that is set, make `height` exactly, and that height, mm.

    None where the piece is too thin for a single one.
    """
    is_resin = made.process == "resin"
    least, most = (RESIN_LEAST, RESIN_LAYER) if is_resin else (THINNEST, THICKEST * made.nozzle)
    count = max(1, round(height / made.layer), ceil(height / most - _SAME))
    layer = height / count
    return (count, layer) if layer >= least - _SAME else None
