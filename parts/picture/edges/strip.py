"""Where a part ends when its wall or its shadow lies beside its edge: the light across it, by the picture's sharpness.

From the part to what lies beside it light goes from one level to another, or there is a strip of a third level
between: the part's wall, its shadow, or both. Every place of the edge and every width of the strip is weighed by how
well it tells what is seen; what the picture cannot tell apart widens the uncertainty. Lengths in pixels.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import product
from math import erf

import numpy as np

from parts.picture.camera import Array

STEP = 0.5
"""Pixels between two values across an edge."""
ACROSS = 9.0
"""How far to both sides of an edge its light is looked at, pixels; common practice, no source."""
RAYS_A_PIECE = 9
"""Rays across a piece of an edge whose light is taken together."""
_PLACES = 0.25
_STRIPS = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
"""Widths of strips that are tried, pixels."""
_SOFTER = (1.0, 1.3)
"""How much less sharp than the mat's an edge may be that lies higher or is rounded."""
_ALONE = (0.85, 0.92, 1.0, 1.08, 1.17, 1.27, 1.38, 1.5)
"""The same of an edge with no strip: finer, or a strip would stand for what is merely a little softer."""
_PENUMBRA = (1.0, 2.5)
"""How much softer than the part's edge the strip's other edge may be."""
_STARTS, _FADES = (0.0, 1.5, 3.0), (3.0, 6.0, 10.0)
"""Where a shadow begins to fade, and how far until it is gone: where the part stands on the mat, at its very edge."""
_SOFT = 0.25
"""By how much softer than the mat's an edge is apt to be; common practice, no source."""
_LEAST_STEP, LEAST_SHARE = 8.0, 0.15
"""A part's edge is a step of so many grey values, and of that share of all light that changes there."""
_NOISE = 1.0
_ALIKE = 4.0
"""Values across an edge that count as one: they overlap, and what is stored of a picture smears them."""
_RARE = 4.0
"""What the logarithm of a strip's chance is below that of none; common practice, no source."""
_SHARPS = np.geomspace(0.5, 8.0, 25)
_LEVEL = np.linspace(-6.0, 6.0, 2401)
_RISE = np.array([0.5 + 0.5 * erf(place / 2**0.5) for place in _LEVEL])


@dataclass(frozen=True)
class Edges:
    """Part's edges along profiles: places and standard uncertainties, the strips' widths; nan where there is none.

    `chances` is how likely the edge lies at each place of `grid` (places x profiles, each profile's sum 1 or, where
    there is no edge, 0), `untold` what share of the light's changes no edge and strip tell.
    """

    places: Array
    uncertainties: Array
    strips: Array
    grid: Array
    chances: Array
    untold: Array


def sharpness(profiles: Array) -> float:
    """Standard deviation of the blur, in pixels, of profiles across single edges (n x values, STEP apart)."""
    stations = _stations(profiles.shape[1])
    centred = profiles - profiles.mean(axis=1, keepdims=True)
    offs = []
    for sharp in _SHARPS:
        rises = _rise((stations - np.arange(-3.0, 3.0, _PLACES)[:, None]) / sharp)
        rises -= rises.mean(axis=1, keepdims=True)
        rises /= np.linalg.norm(rises, axis=1, keepdims=True)
        offs.append(float(np.median((centred**2).sum(axis=1) - ((centred @ rises.T) ** 2).max(axis=1))))
    return float(_SHARPS[int(np.argmin(offs))])


def between(across: float, down: float, directions: Array) -> Array:
    """The blur along directions (n x 2), of a picture blurred so much across and down: the nearest of those tried."""
    blurs = np.hypot(*(np.array([across, down]) * directions).T)
    return np.asarray(_SHARPS[np.abs(np.log(blurs[:, None] / _SHARPS)).argmin(axis=1)])


def part_edges(profiles: Array, sharps: Array) -> Edges:
    """The part's edge in each profile (n x values, STEP apart, from the part outwards), about its middle.

    `sharps` is the blur of each, as `sharpness` gives it.
    """
    alike = [(sharps == sharp, float(sharp)) for sharp in np.unique(sharps)]
    groups = [(these, _part_edges(profiles[these], sharp)) for these, sharp in alike]
    whole = replace(groups[0][1])
    for name in ("places", "uncertainties", "strips", "chances", "untold"):
        values = np.empty((*getattr(whole, name).shape[:-1], len(profiles)))
        for these, edges in groups:
            values[..., these] = getattr(edges, name)
        whole = replace(whole, **{name: values})
    return whole


def _part_edges(profiles: Array, sharp: float) -> Edges:
    """The same of profiles that are as blurred as each other."""
    models = _models(profiles.shape[1], sharp)
    place, strip = models.places, models.strips
    levels = np.tensordot(models.inverse, profiles, axes=(2, 1))
    off = (profiles**2).sum(axis=1) - (levels * np.tensordot(models.basis, profiles, axes=(2, 1))).sum(axis=1)
    steps = np.abs(levels[:, 1:])
    enough = (steps[:, 0] >= _LEAST_STEP) & (steps[:, 0] >= LEAST_SHARE * steps.sum(axis=1))
    seen = enough.any(axis=0)
    off = np.where(enough | ~seen, np.maximum(off, 0.0), np.inf)
    least = off.min(axis=0)
    noise = np.maximum(least / (profiles.shape[1] - 5), _NOISE**2)
    logs = -0.5 * (off - least) / (noise * _ALIKE) - models.rare[:, None]
    weights = np.exp(logs - logs.max(axis=0))
    weights /= weights.sum(axis=0)
    mean, width = place @ weights, strip @ weights
    spread = (weights * (place[:, None] - mean) ** 2).sum(axis=0)
    grid = np.arange(place.min(), place.max() + _PLACES / 2, _PLACES)
    chances = np.zeros((len(grid), profiles.shape[0]))
    np.add.at(chances, np.rint((place - grid[0]) / _PLACES).astype(int), np.where(seen, weights, 0.0))
    return Edges(
        np.where(seen, mean, np.nan),
        np.sqrt(np.where(seen, spread, np.nan)),
        np.where(seen, width, np.nan),
        grid,
        chances,
        least / np.maximum(profiles.shape[1] * profiles.var(axis=1), 1e-9),
    )


@dataclass(frozen=True)
class _Models:
    """Every place of an edge and width of a strip that is tried: the light across them (models x 3 x values)."""

    places: Array
    strips: Array
    rare: Array
    basis: Array
    inverse: Array


@lru_cache(maxsize=16)
def _models(count: int, sharp: float) -> _Models:
    stations = _stations(count)
    reach = stations[-1] - 1.0
    places, strips, rare, basis = [], [], [], []
    alone = [(softer, 0.0, 1.0, 0.0) for softer in _ALONE]
    beside = [(*each, 0.0) for each in product(_SOFTER, _STRIPS, _PENUMBRA)]
    fading = [(softer, width, 1.0, fade) for softer, (width, fade) in product(_SOFTER, product(_STARTS, _FADES))]
    for softer, width, penumbra, fade in [*alone, *beside, *fading]:
        at = np.arange(-reach, reach - width + 1e-9, _PLACES)
        blur = sharp * softer
        first = _rise((stations - at[:, None]) / blur)
        beyond = stations - at[:, None] - width
        then = _fading(beyond, fade, blur) if fade else _rise(beyond / (blur * penumbra))
        single = not width and not fade
        basis.append(np.stack([np.ones_like(first), first, 0.0 * first if single else then], axis=1))
        places.append(at)
        excess = sharp * max(0.0, softer**2 - 1) ** 0.5 if single else width + fade / 2
        strips.append(np.full(len(at), excess))
        rare.append(np.full(len(at), 0.5 * ((softer - 1) / _SOFT) ** 2 if single else _RARE))
    whole = np.concatenate(basis)
    inverse = np.linalg.pinv(whole @ whole.transpose(0, 2, 1), hermitian=True) @ whole
    return _Models(np.concatenate(places), np.concatenate(strips), np.concatenate(rare), whole, inverse)


def _fading(beyond: Array, fade: float, blur: float) -> Array:
    """The share of light so far beyond where a shadow begins to fade, evenly over the width `fade`."""
    return (_filled(beyond / blur) - _filled((beyond - fade) / blur)) * blur / fade


def _filled(places: Array) -> Array:
    """The integral of the share of light up to a distance from an edge, in standard deviations of the blur."""
    return np.asarray(places * _rise(places) + np.exp(-0.5 * places**2) / (2 * np.pi) ** 0.5)


def _stations(count: int) -> Array:
    return (np.arange(count) - (count - 1) / 2) * STEP


def _rise(places: Array) -> Array:
    """The share of light at a distance from an edge, in standard deviations of the blur."""
    return np.asarray(np.interp(places, _LEVEL, _RISE))
