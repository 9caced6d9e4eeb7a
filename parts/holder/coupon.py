"""What to print first: a stepped plug to measure, and a plate of holes that its upper step is tried in.

The plug has three outsides, two insides and three heights, the widest step below so that nothing hangs. Each hole of
the plate is wider than the plug's upper step by the play that is engraved beside it. Heights are whole layers.
"""

from manifold3d import CrossSection, Manifold

from parts.holder.layers import layer_heights, printed
from parts.holder.letters import engraving
from parts.holder.mesh import disc, solid_in
from parts.holder.parameters import Made
from parts.holder.shapes import Turned

OUTSIDES = (30.0, 22.0, 14.0)
"""Diameters of the steps from the plate upwards, mm: from a spacer's to a hand's reach."""
INSIDES = (8.0, 11.0)
"""Diameters of the bore, below and in the uppermost step, mm."""
PLAYS = (0.05, 0.10, 0.15, 0.20, 0.30, 0.40)
"""What the plate's holes are wider than the upper step, mm in diameter."""
_HEIGHTS = (1.2, 2.4, 4.2)
_IN_A_ROW, _APART, _ROWS_APART = 3, 17.0, 20.0
_ROUND_IT = 9.0
"""How far the plate reaches from the middle of an outer hole, mm, and"""
_OVER_IT = 2.5
"""how much farther where its letters stand."""
_LETTERS = 2.4
"""Height of the letters, mm: the smallest that a 0.4 mm nozzle prints (see `letters.STROKE`)."""
_LAND = 2.0
"""From a hole's edge to the middle of its letters, mm."""


def heights(made: Made) -> tuple[float, float, float]:
    """Heights of the plug's steps over the printer's plate, mm, in the whole layers that they come out as."""
    low, middle, high = (printed(height, made) for height in _HEIGHTS)
    return low, middle, high


def coupon(made: Made) -> Manifold:
    """Plug and plate side by side, as they lie on the printer's plate."""
    away = OUTSIDES[0] / 2 + _ROUND_IT + _OVER_IT + _ROWS_APART / 2 + 3.0
    return Manifold.compose([_plug(made), _holes(made).translate((0.0, -away, 0.0))])


def _plug(made: Made) -> Manifold:
    low, middle, high = heights(made)
    first, second, third = (diameter / 2 for diameter in OUTSIDES)
    below, above = (diameter / 2 for diameter in INSIDES)
    return solid_in(
        Turned(
            (
                (below, 0.0),
                (first, 0.0),
                (first, low),
                (second, low),
                (second, middle),
                (third, middle),
                (third, high),
                (above, high),
                (above, middle),
                (below, middle),
            )
        )
    )


def _holes(made: Made) -> Manifold:
    """The plate, less high than the plug's upper step, so that this goes through; its middle at the origin."""
    top, layer = heights(made)[0], layer_heights(made)[1]
    rows = len(PLAYS) // _IN_A_ROW
    middles = [
        ((i % _IN_A_ROW - (_IN_A_ROW - 1) / 2) * _APART, ((rows - 1) / 2 - i // _IN_A_ROW) * _ROWS_APART)
        for i in range(len(PLAYS))
    ]
    corners = [disc(x, y + over, _ROUND_IT) for x, y in middles for over in (0.0, _OVER_IT)]
    plate = CrossSection.batch_hull(corners).extrude(top)
    for play, (x, y) in zip(PLAYS, middles, strict=True):
        radius = (OUTSIDES[-1] + play) / 2
        plate -= disc(x, y, radius).extrude(top)
        for letter in engraving(f"{play:.2f}", 180.0, radius + _LAND, _LETTERS, top - 2 * layer, top + 1.0):
            plate -= solid_in(letter).translate((x, y, 0.0))
    return plate
