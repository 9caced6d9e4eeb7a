"""A picture with its plane: its light along the rays through the face, and what was picked there.

Every edge is looked for in the picture as it was taken: nothing is interpolated twice.
Lengths in mm on the face, from the field's middle, x right and y down.
"""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from parts.picture.camera import Array
from parts.picture.edges.strip import STEP, between, sharpness
from parts.picture.find import sample
from parts.picture.mat import RIM, SQUARE
from parts.picture.plane import Height, Plane

EDGE = 0.1
"""Standard uncertainty of where an edge is, in pixels, that no averaging lessens: light, blur and the edge's own shape;
common practice, no source."""


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

    def raised(self, picked: Picked, most: float) -> Picked:
        """A circle at the root of what stands over the face: uncertain by how its end leans, `most` mm over it."""
        shrinks = picked.values[2] / (self.plane.camera.distance - self.plane.height.value)
        lean = np.append(self.plane.sway_by_height(picked.values[None, :2]), -shrinks)
        return replace(picked, own=picked.own + np.outer(lean, lean) * (most / 2) ** 2)

    def walls(self, points: Array, outwards: Array) -> Array:
        """How far beyond a part's edge its wall is seen at most, pixels: down to the mat, where it faces the camera."""
        seen = self.plane.height.value * (self.plane.sway_by_height(points) * outwards).sum(axis=1)
        return np.asarray(np.maximum(seen, 0.0) / self.pixel)

    def across(self, starts: Array, directions: Array, room: float) -> Array:
        """The light along each direction, `room` pixels to both sides of each start."""
        count = int(room / STEP)
        stations = np.arange(-count, count + 1) * STEP * self.pixel
        points = starts[:, None, :] + stations[None, :, None] * directions[:, None, :]
        return self.values(points.reshape(-1, 2)).reshape(len(starts), -1)

    @property
    def sharp(self) -> float:
        """Standard deviation of the blur, pixels, the wider of those across and down; 0 without a mat."""
        return max(self._sharp)

    def sharp_along(self, directions: Array) -> Array:
        """The same along directions: a camera that moved blurs one of them alone."""
        return between(*self._sharp, directions)

    @cached_property
    def _sharp(self) -> tuple[float, float]:
        """By the edges of the mat's squares, across and down."""
        if self.plane.print_number is None:
            return 0.0, 0.0
        along = np.arange(-self.plane.half + SQUARE / 2, self.plane.half, SQUARE)
        level = replace(self, plane=replace(self.plane, height=Height()))
        profiles = []
        for sides in ((-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0)):
            out = np.array(sides)
            starts = out * (self.plane.half + SQUARE) + along[:, None] * np.abs(out[::-1])
            profiles.append(level.across(starts, np.tile(out, (len(along), 1)), 0.8 * RIM / self.pixel))
        return sharpness(np.concatenate(profiles[:2])), sharpness(np.concatenate(profiles[2:]))
