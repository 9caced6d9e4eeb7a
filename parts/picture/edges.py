"""Edges to a fraction of a pixel: circles, straight edges and points, each with how well it fits.

Every edge is looked for in the picture as it was taken, along the rays through the face: nothing is interpolated twice.
Lengths in mm on the face, from the field's middle, x right and y down.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from parts.picture.camera import Array
from parts.picture.errors import PictureError
from parts.picture.find import sample
from parts.picture.plane import Plane

EDGE = 0.1
"""Standard uncertainty of where an edge is, in pixels, that no averaging lessens: light, blur and the edge's own shape;
common practice, no source."""
_RAYS = 240
_ALIKE = 6.0
"""Neighbouring rays see the same noise: so many count as one."""
_NEAR = 0.25
"""How near to a circle a place of its edge lies, in pixels; common practice, no source."""
_TRIALS = 200
"""Circles through three places that are tried; half of the places on it are found by far fewer."""
ROUND = 0.03
"""Standard deviation of an edge about its circle, mm, beyond which it is none; common practice, no source."""
_LEAST_CONTRAST = 8.0
_LEAST_SHARE = 0.35


@dataclass(frozen=True)
class Picked:
    """What was picked on a face: `values` in mm, how they move with what sways the plane, and their own covariance.

    `fit` is the standard deviation of the edge about its shape, mm; `share` how much of the edge was seen.
    """

    values: Array
    sway: Array
    own: Array
    fit: float = 0.0
    share: float = 1.0


@dataclass(frozen=True)
class Face:
    """A picture with its plane: what edges are looked for in.

    `straight` is the grey picture at true scale, where it is at hand; what is proposed is looked for in it.
    """

    grey: NDArray[np.uint8]
    plane: Plane
    straight: NDArray[np.uint8] | None = None

    def values(self, points: Array) -> Array:
        """Grey values at places on the face."""
        places = np.column_stack([points, np.full(len(points), -self.plane.height.value)])
        return sample(self.grey, self.plane.camera.project(places))

    @property
    def pixel(self) -> float:
        """One pixel of the picture, mm on the face."""
        return 1.0 / self.plane.camera.scale(self.plane.height.value)

    def point(self, x: float, y: float, plus_minus: float) -> Picked:
        """A place that was pointed at: `plus_minus` is how well, mm (a limit, rectangular)."""
        at = np.array([[x, y]])
        return Picked(at[0], self.plane.sway(at)[0], np.eye(2) * (plus_minus**2 / 3 + (EDGE * self.pixel) ** 2))

    def circle(self, x: float, y: float, radius: float, reach: float) -> Picked:
        """The circle nearest to a guess, within `reach` of its radius: x, y and radius.

        PictureError where too little of an edge is seen.
        """
        centre, size = np.array([x, y], dtype=float), radius
        for step in (reach, 0.5 * reach, 0.35 * reach):
            points = self._ring(centre, size, step)
            centre, size, agreed = _fit_circle(points)
        share = agreed.sum() / _RAYS
        if share < _LEAST_SHARE:
            raise PictureError(
                f"Only {share:.0%} of a circle's edge is seen there.",
                "Pick nearer to the edge, or give more light from two sides.",
            )
        points = points[agreed]
        off = np.hypot(*(points - centre).T) - size
        fit = float(off.std())
        if fit > max(ROUND, 0.6 * self.pixel):
            raise PictureError(
                f"The edge that is seen there is no circle: it lies {fit:.2f} mm off one.",
                "Look for a shadow or a second edge beside it, and give light from two sides.",
            )
        sways = self.plane.sway(points)
        normal = (points - centre) / np.hypot(*(points - centre).T)[:, None]
        design = np.column_stack([normal, np.ones(len(points))])
        solve = np.linalg.pinv(design)
        along = np.einsum("ij,ijk->ik", normal, sways)
        own = solve @ solve.T * (fit**2 * _ALIKE)
        own += np.diag([0.0, 0.0, (EDGE * self.pixel) ** 2])
        return Picked(np.array([*centre, size]), solve @ along, own, fit, float(share))

    def _ring(self, centre: Array, radius: float, reach: float) -> Array:
        """The edge along rays across a circle: the strongest of one direction of light, unless others agree better.

        A part that throws a shadow is lighter than what lies beside it on one side and darker on the other: then the
        edges of both directions that lie on one circle are it, and the shadow's own edge does not.
        """
        angles = np.arange(_RAYS) * 2 * np.pi / _RAYS
        directions = np.column_stack([np.cos(angles), np.sin(angles)])
        starts = centre + directions * radius
        both = [starts + directions * places[:, None] for places in self._edges(starts, directions, reach)]
        strongest = both[0][np.isfinite(both[0][:, 0])]
        either = _on_one_circle(both, _NEAR * self.pixel)
        agreeing = _agreeing(strongest, _NEAR * self.pixel) if len(strongest) >= 8 else 0
        if len(either) > max(0.5 * _RAYS, agreeing + 0.1 * _RAYS):
            return either
        if len(strongest) < 8:
            raise PictureError("No edge is seen there.", "Pick nearer to the edge, or give more light from two sides.")
        return strongest

    def line(self, start: ArrayLike, end: ArrayLike, reach: float) -> Picked:
        """The straight edge nearest to a guess: its middle's x and y, and its direction in radians."""
        begin, finish = np.asarray(start, dtype=np.float64), np.asarray(end, dtype=np.float64)
        if np.hypot(*(finish - begin)) < 2 * reach:
            raise PictureError("The two points lie too near each other.", "Point at both ends of the edge.")
        for step in (reach, 0.5 * reach):
            along = (finish - begin) / np.hypot(*(finish - begin))
            across = np.array([-along[1], along[0]])
            length = float(np.hypot(*(finish - begin)))
            count = max(12, int(length / self.pixel))
            shares = np.linspace(0.08, 0.92, count)
            starts = begin + np.outer(shares, finish - begin)
            places, *_ = self._edges(starts, np.tile(across, (count, 1)), step)
            seen = np.isfinite(places)
            if seen.sum() < max(6, _LEAST_SHARE * count):
                raise PictureError(
                    "No straight edge is seen there.", "Pick along the edge, or give more light from two sides."
                )
            stations, places = shares[seen] * length, places[seen]
            slope, level, agreed = _fit_line(stations, places)
            begin, finish = (at + across * (level + slope * place) for at, place in ((begin, 0.0), (finish, length)))
        stations, places = stations[agreed], places[agreed]
        fit = float((places - level - slope * stations).std())
        points = begin + np.outer(stations / length, finish - begin)
        middle = 0.5 * (begin + finish)
        along = (finish - begin) / np.hypot(*(finish - begin))
        across = np.array([-along[1], along[0]])
        design = np.column_stack([np.ones(len(stations)), stations - 0.5 * length])
        solve = np.linalg.pinv(design)
        moved = solve @ np.einsum("j,ijk->ik", across, self.plane.sway(points))
        alike = max(1.0, _ALIKE / 3)
        own = solve @ solve.T * (fit**2 * alike)
        own[0, 0] += (EDGE * self.pixel) ** 2
        spread = np.array([[across[0], 0.0], [across[1], 0.0], [0.0, 1.0]])
        angle = float(np.arctan2(along[1], along[0]))
        return Picked(np.array([*middle, angle]), spread @ moved, spread @ own @ spread.T, fit, float(agreed.mean()))

    def _edges(self, starts: Array, directions: Array, reach: float) -> list[Array]:
        """Distance from each start along its direction to the strongest edge and the next, of one sense and the other.

        The first two are of the sense that most have; nan where there is none.
        """
        step = 0.5 * self.pixel
        count = max(3, int(np.ceil(reach / step)))
        stations = np.arange(-count - 1, count + 2) * step
        points = starts[:, None, :] + stations[None, :, None] * directions[:, None, :]
        values = self.values(points.reshape(-1, 2)).reshape(len(starts), -1)
        smooth = np.apply_along_axis(np.convolve, 1, values, np.array([0.25, 0.5, 0.25]), "same")
        slopes = np.gradient(smooth, axis=1)[:, 2:-2]
        stations = stations[2:-2]
        sense = np.sign(np.median(slopes[np.arange(len(slopes)), np.abs(slopes).argmax(axis=1)]) or 1.0)
        peaks = [[_peaks(stations, way * row) for row in slopes] for way in (sense, -sense)]
        return [np.array(places) for one_sense in peaks for places in zip(*one_sense, strict=True)]


def _peaks(stations: Array, slopes: Array) -> tuple[float, float]:
    """Where the strongest edge is and the next: nan where there is none worth the name."""
    first, span = _peak(stations, slopes)
    rest = slopes.copy()
    rest[span] = 0.0
    return first, _peak(stations, rest)[0]


def _peak(stations: Array, slopes: Array) -> tuple[float, slice]:
    """Where an edge is, and its span: the centroid of its slope round the steepest place; nan where there is none."""
    top = int(slopes.argmax())
    low = top
    while low > 0 and slopes[low - 1] > 0.3 * slopes[top]:
        low -= 1
    high = top
    while high < len(slopes) - 1 and slopes[high + 1] > 0.3 * slopes[top]:
        high += 1
    span = slice(low, high + 1)
    part = np.clip(slopes[span], 0, None)
    if part.sum() < _LEAST_CONTRAST or top in (0, len(slopes) - 1):
        return float("nan"), span
    return float((stations[span] * part).sum() / part.sum()), span


def _on_one_circle(candidates: Sequence[Array], within: float) -> Array:
    """The places, one for each ray, of the circle that most rays have a candidate on, `within` so many mm of it."""
    points = np.concatenate(candidates)
    points = points[np.isfinite(points[:, 0])]
    if len(points) < 8:
        return np.empty((0, 2))
    chosen = np.random.default_rng(0).integers(len(points), size=(_TRIALS, 3))
    circles = [_through(*points[three]) for three in chosen]
    off = [[np.abs(np.hypot(*(side - centre).T) - radius) for side in candidates] for centre, radius in circles]
    near = np.nan_to_num(np.array(off), nan=np.inf)  # trials x candidates x rays
    best = near[(near.min(axis=1) < within).sum(axis=1).argmax()]
    nearest = np.array(candidates)[best.argmin(axis=0), np.arange(best.shape[1])]
    return np.asarray(nearest[best.min(axis=0) < within])


def _through(a: Array, b: Array, c: Array) -> tuple[Array, float]:
    """Centre and radius of the circle through three places; of one far off where they lie in line."""
    design = 2 * np.array([b - a, c - a])
    centre = np.linalg.lstsq(design, np.array([b @ b - a @ a, c @ c - a @ a]), rcond=None)[0]
    return centre, float(np.hypot(*(a - centre)))


def _agreeing(points: Array, within: float) -> int:
    """How many of the points lie within so many mm of their circle."""
    centre, radius, _ = _fit_circle(points)
    return int((np.abs(np.hypot(*(points - centre).T) - radius) < within).sum())


def _fit_circle(points: Array) -> tuple[Array, float, NDArray[np.bool_]]:
    """Centre, radius and the points that agree: least squares, again without what lies off by thrice its spread."""
    agreed = np.ones(len(points), dtype=bool)
    for _ in range(8):
        x, y = points[agreed].T
        design = np.column_stack([x, y, np.ones_like(x)])
        a, b, c = np.linalg.lstsq(design, x**2 + y**2, rcond=None)[0]
        centre = np.array([a / 2, b / 2])
        radius = float(np.sqrt(max(1e-12, c + centre @ centre)))
        off = np.hypot(*(points - centre).T) - radius
        spread = 1.4826 * np.median(np.abs(off[agreed])) + 1e-6
        now = np.abs(off) < 3 * spread
        if (now == agreed).all() or now.sum() < 8:
            break
        agreed = now
    return centre, radius, agreed


def _fit_line(stations: Array, places: Array) -> tuple[float, float, NDArray[np.bool_]]:
    """Slope, level and the places that agree."""
    agreed = np.ones(len(places), dtype=bool)
    for _ in range(8):
        slope, level = np.polyfit(stations[agreed], places[agreed], 1)
        off = places - level - slope * stations
        now = np.abs(off) < 3 * (1.4826 * np.median(np.abs(off[agreed])) + 1e-6)
        if (now == agreed).all() or now.sum() < 5:
            break
        agreed = now
    return float(slope), float(level), agreed
