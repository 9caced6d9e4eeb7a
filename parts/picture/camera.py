"""The camera of one picture: where it stood, its focal length and its distortion, with what all of it leaves uncertain.

Model: pinhole with one radial term, x' = x (1 + k1 r^2), as in the camera model of the calibration library. Ten
numbers are fitted to the mat's corners by weighted least squares; four of them have a prior, since a single picture
from straight above hardly tells them: the principal point lies near the middle, the lens bends little, and the focal
length is what the camera's file says, if it says it.
Lengths in mm in the mat's frame (see `mat`), pixels from the middle of the upper left one.
"""

from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from parts.picture.errors import PictureError

Array = NDArray[np.floating[Any]]
FOCAL_FROM_FILE, FOCAL_UNKNOWN = 0.03, 0.3
"""Relative standard uncertainty of the focal length from the camera's file, and without; common practice, no source."""
_CENTRE, _K1 = 0.01, 0.3
"""Standard uncertainty of the principal point, as a share of the longer side, and of k1 before the fit; common
practice, no source."""
_LEAST_NOISE = 0.02
"""Noise of a corner, in pixels, that no fit is believed to beat."""
_OUTLIER = 4.0
"""Corners off by more than so many times the noise are left out."""


@dataclass(frozen=True)
class Camera:
    """A fitted camera: `numbers` are f, cx, cy, k1, turn (3) and place (3); `covariance` is theirs.

    `noise` is the standard deviation of a corner in pixels, `used` how many corners were.
    """

    numbers: Array
    covariance: Array
    noise: float
    used: int
    size: tuple[int, int]

    def project(self, points: Array) -> Array:
        """Pixels of points (n x 3, mm)."""
        turn, _ = cv2.Rodrigues(self.numbers[4:7])
        x, y, z = turn @ np.asarray(points, dtype=np.float64).T + self.numbers[7:10, None]
        x, y = x / z, y / z
        stretch = self.numbers[0] * (1.0 + self.numbers[3] * (x * x + y * y))
        return np.column_stack([stretch * x + self.numbers[1], stretch * y + self.numbers[2]])

    @property
    def distance(self) -> float:
        """From the lens to the mat's plane, along its normal, mm."""
        turn, _ = cv2.Rodrigues(self.numbers[4:7])
        return float((turn.T @ self.numbers[7:10])[2])

    @property
    def foot(self) -> Array:
        """The point of the mat straight below the lens, x and y in mm."""
        turn, _ = cv2.Rodrigues(self.numbers[4:7])
        return (-turn.T @ self.numbers[7:10])[:2]

    @property
    def tilt(self) -> float:
        """Angle between the lens's axis and the mat's normal, degrees."""
        turn, _ = cv2.Rodrigues(self.numbers[4:7])
        return float(np.degrees(np.arccos(min(1.0, abs(turn[2, 2])))))

    def scale(self, height: float = 0.0) -> float:
        """Pixels per mm in the middle of the field, at a height over the mat."""
        ends = np.array([[-0.5, 0.0, -height], [0.5, 0.0, -height]])
        return float(np.linalg.norm(np.diff(self.project(ends), axis=0)))

    def sway(self, points: Array, height: float) -> Array:
        """How points of a face move with each number of the fit, their pixels held: n x 2 x 10, mm per unit."""
        places = np.column_stack([points, np.full(len(points), -height)])
        by_number = project(self.numbers, places)[1].reshape(-1, 2, 10)
        by_place = self._by_place(places)
        return -np.linalg.solve(by_place, by_number)

    def sway_by_height(self, points: Array, height: float) -> Array:
        """How points of a face move with its height, their pixels held: n x 2, mm per mm."""
        places = np.column_stack([points, np.full(len(points), -height)])
        step = np.array([0.0, 0.0, 0.01])
        by_height = (self.project(places - step) - self.project(places + step)) / 0.02
        return -np.linalg.solve(self._by_place(places), by_height[..., None])[..., 0]

    def _by_place(self, places: Array) -> Array:
        """Pixels per mm of each point along x and y of its face: n x 2 x 2."""
        columns = []
        for axis in range(2):
            step = np.zeros(3)
            step[axis] = 0.01
            columns.append((self.project(places + step) - self.project(places - step)) / 0.02)
        return np.stack(columns, axis=-1)


def fit_camera(places: Array, pixels: Array, size: tuple[int, int], *, focal: float | None = None) -> Camera:
    """The camera that saw the mat's corners `places` (n x 2, mm) at `pixels` (n x 2).

    `focal` is the focal length in pixels that the camera's file tells. Corners that do not agree with the others are
    left out; PictureError where too many do not.
    """
    points = np.column_stack([places, np.zeros(len(places))])
    longer = max(size)
    start = focal or 1.1 * longer
    prior = np.array([start, (size[0] - 1) / 2, (size[1] - 1) / 2, 0.0])
    spread = np.array([start * (FOCAL_FROM_FILE if focal else FOCAL_UNKNOWN), _CENTRE * longer, _CENTRE * longer, _K1])
    numbers = np.concatenate([prior, _first_pose(points, pixels, prior)])
    agreed = np.ones(len(points), dtype=bool)
    for _ in range(3):
        numbers, covariance, noise = _fitted(numbers, points[agreed], pixels[agreed], prior, spread)
        off = np.abs(project(numbers, points)[0] - pixels).max(axis=1)
        now = off <= _OUTLIER * noise
        if (now == agreed).all():
            break
        agreed = now
        if agreed.sum() < 0.7 * len(points):
            raise PictureError(
                "The mat's marks do not lie in one plane.",
                "Lay it flat, on glass or with weights at its corners, and take the picture again.",
            )
    return Camera(numbers, covariance, noise, int(agreed.sum()), size)


def _first_pose(points: Array, pixels: Array, prior: Array) -> Array:
    solved, turn, place = cv2.solvePnP(points, pixels, _matrix(prior), None, flags=cv2.SOLVEPNP_IPPE)
    if not solved:
        raise PictureError(
            "The mat's marks could not be brought into one view.", "Take the picture again, from straight above."
        )
    return np.concatenate([turn.ravel(), place.ravel()])


def _fitted(numbers: Array, points: Array, pixels: Array, prior: Array, spread: Array) -> tuple[Array, Array, float]:
    """Levenberg and Marquardt's way to the numbers of least squares, weighted by the corners' own noise."""
    noise = 0.2
    for _ in range(2):
        damping = 1e-3
        cost, normal, slope = _system(numbers, points, pixels, prior, spread, noise)
        for _ in range(60):
            step = np.linalg.solve(normal + damping * np.diag(np.diag(normal)), slope)
            tried = _system(numbers + step, points, pixels, prior, spread, noise)
            if tried[0] <= cost:
                gain = cost - tried[0]
                numbers, (cost, normal, slope) = numbers + step, tried
                damping = max(damping / 8, 1e-9)
                if gain < 1e-9 * cost:
                    break
            else:
                damping *= 6
                if damping > 1e9:
                    break
        off = project(numbers, points)[0] - pixels
        noise = max(_LEAST_NOISE, float(np.sqrt((off**2).sum() / max(1, off.size - 10))))
    _, normal, _ = _system(numbers, points, pixels, prior, spread, noise)
    return numbers, np.linalg.inv(normal), noise


def _system(
    numbers: Array, points: Array, pixels: Array, prior: Array, spread: Array, noise: float
) -> tuple[float, Array, Array]:
    """Sum of squares, normal matrix and slope at these numbers; the priors of f, cx, cy and k1 are part of them."""
    seen, by_number = project(numbers, points)
    off = (pixels - seen).ravel() / noise
    jacobian = by_number / noise
    drift = (prior - numbers[:4]) / spread
    normal = jacobian.T @ jacobian
    normal[:4, :4] += np.diag(1.0 / spread**2)
    slope = jacobian.T @ off
    slope[:4] += drift / spread
    return float(off @ off + drift @ drift), normal, slope


def project(numbers: Array, points: Array) -> tuple[Array, Array]:
    """Pixels of the points, and how they move with the ten numbers (2n x 10)."""
    distortion = np.array([numbers[3], 0.0, 0.0, 0.0])
    seen, slopes = cv2.projectPoints(
        np.ascontiguousarray(points), numbers[4:7], numbers[7:10], _matrix(numbers), distortion
    )
    turn, place, focal, centre, bend = np.split(slopes[:, :11], [3, 6, 8, 10], axis=1)
    by_number = np.column_stack([focal.sum(axis=1), centre, bend, turn, place])
    return np.asarray(seen, dtype=np.float64).reshape(-1, 2), by_number


def _matrix(numbers: Array) -> Array:
    return np.array([[numbers[0], 0.0, numbers[1]], [0.0, numbers[0], numbers[2]], [0.0, 0.0, 1.0]])
