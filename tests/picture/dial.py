"""A rendered picture of a dial of which every dimension is known."""

from parts.picture.mat import Mat
from parts.picture.plane import Bars, Height, Plane, read_plane
from tests.picture.scene import Part, render

DIAL = Part(
    28.5, 0.4, middle=(0.8, -0.6), holes=[(0, 0, 2.0, 20), (-4, 9.5, 0.8, 90)], boxes=[(9, 0, 2.2, 1.6, 0, 250)]
)
STRETCH = (1.002, 0.999)
BARS = {7: Bars(140.28 + 0.01, 139.86 - 0.01, 0.02)}


def taken():
    """The dial on the mat, aslant through a lens with barrel distortion, from a print that is out of scale."""
    return render(Mat(50), DIAL, tilt=(5, 3), k1=-0.08, distance=230.0, stretch=STRETCH, seed=3)


def its_plane(picture) -> Plane:
    """The plane of that picture."""
    return read_plane(picture, bars=BARS, height=Height(0.4, 0.05))
