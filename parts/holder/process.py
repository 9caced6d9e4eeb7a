"""What each way of making asks of a piece: thinnest wall, which side lies down, and settings to begin with.

Sources: two lines of filament side by side take width + spacing, spacing = width - height (1 - pi/4), the rounded
rectangle that open slicers reckon with; width 1.125 x nozzle. The limits for resin and turning are common practice, no
source: published ones for resin run from 0.2 to 1.0 mm.
"""

from collections.abc import Iterator
from math import pi

from parts.holder.layers import layer_heights
from parts.holder.parameters import Made, Ring

THINNEST = {"resin": (0.30, 0.50), "turned": (0.10, 0.15)}
"""Thinnest wall that can be made at all, and that needs no special care, mm."""


def line_width(nozzle: float) -> float:
    """Width of one line of filament, mm."""
    return 1.125 * nozzle


def line_spacing(nozzle: float, layer: float) -> float:
    """Distance between two lines that touch, mm."""
    return line_width(nozzle) - layer * (1 - pi / 4)


def thinnest(parameters: Made) -> tuple[float, float]:
    """(can be made at all, needs no special care), mm: one and two lines of filament, or the limits of the process."""
    if parameters.process != "filament":
        return THINNEST[parameters.process]
    width = line_width(parameters.nozzle)
    return width, width + line_spacing(parameters.nozzle, parameters.layer)


def finest_groove(parameters: Made) -> float:
    """Narrowest groove that does not run closed, mm: a line's width of filament, 0.2 mm of resin; common practice."""
    return parameters.nozzle if parameters.process == "filament" else 0.2


def upside_down(parameters: Made) -> bool:
    """Whether the piece is printed with its back on the plate: a ring without nubs, so that its steps open upwards."""
    return isinstance(parameters, Ring) and not parameters.nub_count


def _hangs(parameters: Made) -> bool:
    """Whether something at the back stands free over the plate."""
    if not isinstance(parameters, Ring) or upside_down(parameters):
        return False
    return bool(parameters.lip_reach or parameters.tongue_length)


def _exactly(layer: float) -> str:
    """A layer's height as a slicer has to be told it: 0.15, 0.1625."""
    digits = f"{layer:.4f}".rstrip("0")
    return digits if len(digits.partition(".")[2]) > 2 else f"{layer:.2f}"


def advice(parameters: Made) -> Iterator[str]:
    """Settings and cautions for the process, as sentences."""
    side = "back" if upside_down(parameters) else "dial side"
    supports = "supports below lip and tongues only" if _hangs(parameters) else "no supports"
    if parameters.process == "filament":
        yield f"Print with the {side} on the plate, {supports}, no brim on the inside."
        layers = f"layers of {_exactly(parameters.layer)} mm on a first one of {_exactly(parameters.first_layer)} mm"
        yield (
            f"Nozzle {parameters.nozzle:.2f} mm, line width {line_width(parameters.nozzle):.2f} mm, {layers}, all "
            "walls and no infill, outer wall slow."
        )
        yield "Filament creeps under load and softens in a hot car: for a watch worn hard, turn it or use resin."
        yield "Measure it cold and save it as a test print: the next one comes out closer."
        yield "Cut strings and burrs off outside the case, wear eye protection, and blow out the dust before fitting."
    elif parameters.process == "resin":
        layer, _ = layer_heights(parameters)
        yield f"Print with the {side} towards the plate, on fine supports, in layers of {_exactly(layer)} mm."
        yield "Wash and cure it fully, then measure: uncured resin attacks lacquer and oil, and shrinks on."
        yield "Uncured resin and its wash harm skin and lungs: gloves, eye protection, fresh air. Sand it wet."
    else:
        yield "Turn outside, inside and steps in one chucking, part off last; break the edges by the chamfer."
        yield "Mill the stem channel from its open side with the ring on a plug of the inside diameter."
        yield "Brass or nickel silver holds thin walls. Wear eye protection and keep every chip out of the movement."
