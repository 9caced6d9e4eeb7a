"""Outlines of hands by their shape: straight lines through a few points, as wide as they usually are for their length.

A hand points up, its hole at 0, 0; lengths in mm. Shapes are words of the trade; the proportions are ours and for the
eye alone: no dimension is taken from them. Common practice, no source.
"""

from collections.abc import Sequence

SHAPES = ("baton", "leaf", "dauphine", "sword", "pencil", "cathedral")
WIDTH = {"hour": 0.13, "minute": 0.09, "seconds": 0.028}
"""Greatest width of a hand as a share of its length."""
_HUB = 0.35
"""Half the width of a hand beside its hole, in widths, where its shape does not say."""

# Half widths along the blade, as (share of the length, share of the greatest width).
_BLADES: dict[str, Sequence[tuple[float, float]]] = {
    "baton": ((0.0, 0.30), (1.0, 0.30)),
    "leaf": ((0.0, 0.16), (0.12, 0.18), (0.35, 0.42), (0.5, 0.5), (0.7, 0.36), (0.9, 0.1), (1.0, 0.0)),
    "dauphine": ((0.0, 0.42), (0.1, 0.5), (1.0, 0.0)),
    "sword": ((0.0, 0.22), (0.1, 0.24), (0.78, 0.5), (1.0, 0.0)),
    "pencil": ((0.0, 0.38), (0.86, 0.38), (1.0, 0.0)),
    "cathedral": ((0.0, 0.14), (0.4, 0.14), (0.46, 0.5), (0.6, 0.42), (0.68, 0.12), (0.75, 0.26), (1.0, 0.0)),
}
_NEEDLE = ((0.0, 0.5), (1.0, 0.3))


def outline(shape: str, role: str, length: float, tail: float) -> list[tuple[float, float]]:
    """Corners of a hand, clockwise from the left of its hub; a seconds hand is a needle whatever its shape."""
    blade = _NEEDLE if role == "seconds" else _BLADES.get(shape, _BLADES["baton"])
    width = WIDTH[role] * length
    left = [(-half * width, share * length) for share, half in blade]
    right = [(half * width, share * length) for share, half in reversed(blade)]
    if not tail:
        return [*left, *right]
    foot = width * (_HUB if role != "seconds" else 1.2)
    return [(-foot, -tail), *left, *right, (foot, -tail)]
