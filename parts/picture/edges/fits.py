"""Circles and straight lines through places of an edge, some of which are no part of it."""

import numpy as np
from numpy.typing import NDArray

from parts.picture.camera import Array

_TRIALS = 400
"""Circles through three places that are tried; half of the places on it are found by far fewer."""


def on_one_circle(candidates: Array, weights: Array, within: float) -> Array:
    """The places, one for each ray, of the circle that most lies on: candidates x rays, `within` so many mm of it."""
    points = candidates[np.isfinite(candidates[..., 0])]
    if len(points) < 8:
        return points
    chosen = np.random.default_rng(0).integers(len(points), size=(_TRIALS, 3))
    centres, sizes = _through(*points[chosen, :2].transpose(1, 0, 2))
    off = np.hypot(*(candidates[..., :2] - centres[:, None, None]).transpose(3, 0, 1, 2)) - sizes[:, None, None]
    near = np.where(np.abs(off) < within, weights, 0.0).max(axis=1).sum(axis=1)
    best = centres[near.argmax()], float(sizes[near.argmax()])
    for _ in range(3):
        nearest = _near(candidates, best, within)
        if len(nearest) < 8:
            break
        best = fit_circle(nearest[:, :2], outliers=False)[:2]
    return nearest


def _near(candidates: Array, circle: tuple[Array, float], within: float) -> Array:
    """The nearest candidate of each ray where one lies that near."""
    off = np.nan_to_num(np.abs(np.hypot(*np.moveaxis(candidates[..., :2] - circle[0], -1, 0)) - circle[1]), nan=np.inf)
    which, rays = off.argmin(axis=0), np.arange(off.shape[1])
    return np.asarray(candidates[which, rays][off[which, rays] < within])


def _through(a: Array, b: Array, c: Array) -> tuple[Array, Array]:
    """Centres and radii of circles through three places each (n x 2); far off where they lie in line."""
    to_b, to_c = b - a, c - a
    span = 2 * (to_b[:, 0] * to_c[:, 1] - to_b[:, 1] * to_c[:, 0])
    span = np.where(np.abs(span) < 1e-9, 1e-9, span)
    far_b, far_c = (to_b**2).sum(axis=1), (to_c**2).sum(axis=1)
    x = (to_c[:, 1] * far_b - to_b[:, 1] * far_c) / span
    y = (to_b[:, 0] * far_c - to_c[:, 0] * far_b) / span
    return a + np.column_stack([x, y]), np.hypot(x, y)


def fit_circle(
    points: Array, weights: Array | None = None, *, outliers: bool = True
) -> tuple[Array, float, NDArray[np.bool_]]:
    """Centre, radius and the points that agree: least squares, again without what lies off by thrice its spread."""
    points = points[:, :2]
    agreed = np.ones(len(points), dtype=bool)
    root = np.ones(len(points)) if weights is None else np.sqrt(weights / weights.max())
    for _ in range(8):
        x, y = points[agreed].T
        design = np.column_stack([x, y, np.ones_like(x)]) * root[agreed, None]
        a, b, c = np.linalg.lstsq(design, (x**2 + y**2) * root[agreed], rcond=None)[0]
        centre = np.array([a / 2, b / 2])
        radius = float(np.sqrt(max(1e-12, c + centre @ centre)))
        off = np.hypot(*(points - centre).T) - radius
        spread = 1.4826 * np.median(np.abs(off[agreed])) + 1e-6
        now = np.abs(off) < 3 * spread
        if not outliers or (now == agreed).all() or now.sum() < 8:
            break
        agreed = now
    return centre, radius, agreed


def fit_line(stations: Array, places: Array, weights: Array | None = None) -> tuple[float, float, NDArray[np.bool_]]:
    """Slope, level and the places that agree."""
    agreed = np.ones(len(places), dtype=bool)
    root = np.ones(len(places)) if weights is None else np.sqrt(weights)
    for _ in range(8):
        slope, level = np.polyfit(stations[agreed], places[agreed], 1, w=root[agreed])
        off = places - level - slope * stations
        now = np.abs(off) < 3 * (1.4826 * np.median(np.abs(off[agreed])) + 1e-6)
        if (now == agreed).all() or now.sum() < 5:
            break
        agreed = now
    return float(slope), float(level), agreed
