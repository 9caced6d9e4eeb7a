"""A face at true scale: the picture as it would be straight from above, and what every place of it is uncertain by.

A face that lies above the mat is seen along the same rays as a smaller one on it; the fitted camera tells by how much.
"""

from dataclasses import dataclass, replace

import cv2
import numpy as np
from numpy.typing import NDArray

from parts.picture.camera import Array, Camera, fit_camera
from parts.picture.errors import PictureError
from parts.picture.find import BLUR, GLARE, Sighting, edge_width, find_mat, sample
from parts.picture.mat import BAR

MOST_TILT = 20.0
"""Degrees of tilt that the fit carries; common practice, no source."""
LEAST_SCALE, MOST_SCALE = 12.0, 40.0
"""Pixels per mm: fewer in the picture are refused, more in the rectified one hold nothing more."""
FLATNESS = 0.1
"""Standard uncertainty of the paper's height, mm, where it is not on glass; common practice, no source."""

_AT_ONCE = 200_000
"""Places whose pixels are reckoned at one time, for the memory's sake."""


@dataclass(frozen=True)
class Bars:
    """What the calliper read over the two control bars of a print, mm: across and down, with the plus-minus of each."""

    across: float
    down: float
    plus_minus: float


@dataclass(frozen=True)
class Height:
    """Height of the measured face over the mat, mm, with its plus-minus."""

    value: float = 0.0
    plus_minus: float = 0.0


@dataclass(frozen=True)
class Plane:
    """A face in a picture at true scale.

    `numbers` that sway its places are the camera's ten, the two of the printer's scale (relative), and the height.
    """

    camera: Camera
    height: Height
    bars: Bars
    print_number: int | None
    half: float
    scale: float

    @property
    def covariance(self) -> NDArray[np.float64]:
        """Of the thirteen numbers: camera, scale across, scale down, height. Limits count as rectangular."""
        whole = np.zeros((13, 13))
        whole[:10, :10] = self.camera.covariance
        for place, length in ((10, self.bars.across), (11, self.bars.down)):
            whole[place, place] = (self.bars.plus_minus / length) ** 2 / 3
        whole[12, 12] = self.height.plus_minus**2 / 3 + FLATNESS**2
        return whole

    def sway(self, points: Array) -> Array:
        """How places on the face (n x 2, mm) move with the thirteen numbers: n x 2 x 13."""
        slopes = np.zeros((len(points), 2, 13))
        slopes[:, :, :10] = self.camera.sway(points, self.height.value)
        slopes[:, 0, 10] = points[:, 0]
        slopes[:, 1, 11] = points[:, 1]
        slopes[:, :, 12] = self.sway_by_height(points)
        return slopes

    def sway_by_height(self, points: Array) -> Array:
        """How places on the face move with its height, their pixels held: n x 2, mm per mm."""
        return self.camera.sway_by_height(points, self.height.value)

    def uncertainty(self, points: Array, weights: Array) -> float:
        """Standard uncertainty of the sum of weights times places (n x 2 each), as a distance is one: mm."""
        slope = np.einsum("ij,ijk->k", weights, self.sway(points))
        return float(np.sqrt(slope @ self.covariance @ slope))

    def to_mm(self, pixels: Array) -> Array:
        """Places on the face, mm from the field's middle, of pixels of the rectified picture; x right, y down."""
        return (np.asarray(pixels, dtype=float) - self._middle) / self.scale

    def to_pixels(self, points: Array) -> Array:
        """Pixels of the rectified picture of places on the face, mm."""
        return np.asarray(points, dtype=float) * self.scale + self._middle

    @property
    def side(self) -> int:
        """Pixels along a side of the rectified picture."""
        return 2 * round(self.half * self.scale) + 1

    @property
    def _middle(self) -> float:
        return (self.side - 1) / 2

    def rectified(self, picture: NDArray[np.uint8]) -> NDArray[np.uint8]:
        """The picture of the face at true scale, `scale` pixels per mm, the field's middle in its middle."""
        steps = (np.arange(self.side) - self._middle) / self.scale
        seen = np.empty((2, self.side, self.side), np.float32)
        for rows in np.array_split(np.arange(self.side), 1 + self.side**2 // _AT_ONCE):
            x, y = np.meshgrid(steps, steps[rows])
            places = np.column_stack([x.ravel(), y.ravel(), np.full(x.size, -self.height.value)])
            seen[:, rows] = self.camera.project(places).T.reshape(2, len(rows), self.side)
        return cv2.remap(picture, seen[0], seen[1], cv2.INTER_CUBIC, borderMode=cv2.BORDER_CONSTANT).astype(np.uint8)


def read_plane(
    grey: NDArray[np.uint8], *, bars: dict[int, Bars], height: Height | None = None, focal: float | None = None
) -> Plane:
    """The face of a part on a mat; PictureError, with the way on, where it cannot be trusted.

    `bars` has what the calliper read on each print, by its number; `focal` is the focal length in pixels of the picture
    that the camera's file tells.
    """
    sighting = find_mat(grey)
    own = bars_of(sighting, bars)
    size = (grey.shape[1], grey.shape[0])
    camera = fit_camera(true_places(sighting, own), sighting.pixels, size, focal=focal)
    if camera.tilt > MOST_TILT:
        raise PictureError(
            f"The picture was taken at a slant of {camera.tilt:.0f}°.",
            f"Hold the camera straight above; up to {MOST_TILT:.0f}° is carried.",
        )
    scale = camera.scale()
    if scale < LEAST_SCALE:
        raise PictureError(
            f"The picture shows only {scale:.0f} pixels to a millimetre.",
            f"At least {LEAST_SCALE:.0f} are needed: go closer, or use a camera with more pixels.",
        )
    width = edge_width(grey, scale, sighting)
    if width > BLUR:
        raise PictureError(
            f"The picture is blurred: an edge is {width:.2f} mm wide.",
            "Hold the camera still or on a stand, let it focus on the mat, and give more light.",
        )
    plane = Plane(
        camera, height or Height(), own, sighting.number, sighting.mat.half_field, min(MOST_SCALE, float(round(scale)))
    )
    share = _burnt(grey, plane)
    if share > GLARE:
        raise PictureError(
            f"Glare covers {share:.0%} of the field.",
            "Move the lamps to the sides, or shade the part with thin paper between it and the lamp.",
        )
    return plane


def bars_of(sighting: Sighting, bars: dict[int, Bars]) -> Bars:
    """What the calliper read on the print that is seen; PictureError where it is not known."""
    if sighting.number is None:
        raise PictureError(
            "The number of the mat's print cannot be read.",
            "Keep at least one of the marks outside the frame's corners in the picture.",
        )
    if sighting.number not in bars:
        raise PictureError(
            f"The two control bars of print {sighting.number} are not measured.",
            "Calliper over both bars of this print and type what it reads.",
        )
    return bars[sighting.number]


def true_places(sighting: Sighting, bars: Bars) -> Array:
    """The corners' places as they came off the printer."""
    stretch: Array = np.array([bars.across / BAR, bars.down / BAR])
    return np.asarray(sighting.places * stretch)


def _burnt(grey: NDArray[np.uint8], plane: Plane) -> float:
    """The share of the field that is burnt out: brighter than any paper of the frame."""
    coarse = replace(plane, scale=4.0)
    paper = float(np.percentile(_frame(grey, plane), 98))
    return float((coarse.rectified(grey) >= min(255.0, max(250.0, paper + 15))).mean())


def _frame(grey: NDArray[np.uint8], plane: Plane) -> Array:
    """Values of the picture along the frame round the field."""
    reach = plane.half + 9.0
    steps = np.linspace(-reach, reach, 400)
    edges = [np.column_stack([steps, np.full_like(steps, side)]) for side in (-reach, reach)]
    points = np.concatenate([*edges, *(edge[:, ::-1] for edge in edges)])
    seen = plane.camera.project(np.column_stack([points, np.zeros(len(points))]))
    return sample(grey, seen)
