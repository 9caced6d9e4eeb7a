"""A whole edge by the light in all its pieces: every shape near is weighed by how likely each piece has its edge there.

What one piece cannot tell, a wall from the face it belongs to or a shadow from the part that throws it, the others
often can: only one circle lies on the part's own edge all round. Lengths in pixels, along the pieces' directions.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np

from parts.picture.camera import Array
from parts.picture.edges.strip import Edges

FLOOR = 0.15
"""Uncertainty of an edge's place in a piece of it that no light lessens; common practice, no source."""
_BESIDE = 0.25
"""Share of what lies beside an edge, its wall or shadow, by which it may in truth lie before it; common practice, no
source."""
_HIDDEN = 0.5
"""Chance that a wall cannot be told from the face, where the camera sees it; common practice, no source."""
_ASTRAY = 0.05
"""Chance that a piece's light tells nothing of its edge; common practice, no source."""
_UNTOLD = 0.06
"""Share of the light's changes across a piece that no edge tells, from which the piece tells nothing; common practice,
no source."""
_ALIKE = 6.0
"""Pieces of an edge that count as one: what blurs or stains one reaches over to its neighbours."""
_CLEAR = 1.3
"""Blur up to which a wall or a shadow is told from the part; beyond it pieces count for less, as its square."""
_LEAST = 0.3
"""Share of the pieces that must show their edge near the shape for its very place; common practice, no source."""
_NEAR = 1.5
"""How far about the shape a piece's edge is looked at for its very place."""


@dataclass(frozen=True)
class Weighed:
    """A shape's numbers, about where it was looked for, and their covariance by all other shapes that may be.

    `places` and `rooms` of each piece's edge: where it lies and its standard uncertainty; nan where it lies elsewhere.
    `share` is how many of the pieces may have their edge on the shape.
    """

    numbers: Array
    covariance: Array
    places: Array
    rooms: Array
    share: float


def weigh(edges: Edges, design: Array, steps: list[Array], walls: Array, sharp: float) -> Weighed:
    """The shape that all pieces tell of: their edges lie at design @ numbers, numbers of `steps` each.

    `walls` is how far a piece's wall is seen beyond its edge at most, `sharp` the picture's blur.
    """
    alike = _ALIKE * max(1.0, sharp / _CLEAR) ** 2
    sure, chances = _spread(edges, walls)
    tried = np.array(list(product(*steps)))
    logs = _told(edges.grid, chances, tried @ design.T).sum(axis=1) / alike
    weights = np.exp(logs - logs.max())
    weights /= weights.sum()
    numbers = tried[logs.argmax()]
    near = np.exp(_told(edges.grid, chances, numbers @ design.T)) > 2 * _ASTRAY / len(edges.grid)
    beside = _BESIDE * np.nan_to_num(edges.strips)
    for _ in range(4):
        places, rooms = _nearest(edges.grid, sure, design @ numbers)
        rooms = np.hypot(rooms, beside)
        seen = np.isfinite(places)
        if seen.sum() < _LEAST * len(places):
            break
        root = 1.0 / rooms[seen]
        numbers = np.linalg.lstsq(design[seen] * root[:, None], places[seen] * root, rcond=None)[0]
    off = tried - numbers
    off = np.sign(off) * np.maximum(np.abs(off) - [step[1] - step[0] for step in steps], 0.0)
    return Weighed(numbers, (weights[:, None] * off).T @ off, places, rooms, float(near.mean()))


def _spread(edges: Edges, walls: Array) -> tuple[Array, Array]:
    """Each piece's chances, and those with all that may hide its edge: it lies before what is seen, never beyond."""
    step = edges.grid[1] - edges.grid[0]
    far = np.arange(len(edges.grid)) * step
    back = np.concatenate([-far[:0:-1], far])
    sure = np.exp(-0.5 * (back / FLOOR) ** 2)
    seen, spread = np.empty_like(edges.chances), np.empty_like(edges.chances)
    middle = slice(len(far) - 1, 2 * len(far) - 1)
    for i, (strip, wall) in enumerate(zip(np.nan_to_num(edges.strips), walls, strict=True)):
        before = np.where(back <= 0, np.exp(back / max(_BESIDE * strip, 0.1 * step)), 0.0)
        hidden = _HIDDEN * ((back <= 0) & (back >= -wall - step / 2)) / (int(wall / step + 0.5) + 1)
        hidden[len(far) - 1] += 1 - _HIDDEN
        kernel = np.convolve(np.convolve(sure / sure.sum(), before / before.sum(), "same"), hidden, "same")
        seen[:, i] = np.convolve(edges.chances[:, i], sure / sure.sum())[middle]
        spread[:, i] = np.convolve(edges.chances[:, i], kernel)[middle]
    astray = np.clip(_ASTRAY + edges.untold / _UNTOLD, None, 1 - _ASTRAY)
    return (1 - astray) * seen, (1 - astray) * spread + astray / len(far)


def _told(grid: Array, chances: Array, at: Array) -> Array:
    """The logarithm of each piece's chance of an edge at a place (shapes x pieces)."""
    where = np.clip(np.rint((at - grid[0]) / (grid[1] - grid[0])).astype(int), -1, len(grid))
    beyond = np.log(np.vstack([chances, np.full((2, chances.shape[1]), chances.min())]))
    return np.asarray(beyond[where, np.arange(chances.shape[1])])


def _nearest(grid: Array, chances: Array, at: Array) -> tuple[Array, Array]:
    """Where near a place each piece's edge lies, and how uncertain that is; nan where little tells of one there."""
    near = np.exp(-0.5 * ((grid[:, None] - at) / (_NEAR / 2)) ** 2)
    weights = chances * near
    total = weights.sum(axis=0) + 1e-12
    mean = (weights * grid[:, None]).sum(axis=0) / total
    spread = np.sqrt((weights * (grid[:, None] - mean) ** 2).sum(axis=0) / total)
    some = total > _ASTRAY
    return np.where(some, mean, np.nan), np.where(some, np.maximum(spread, 1e-3), np.nan)
