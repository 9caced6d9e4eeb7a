"""Rendered pictures of a mat with a part on it, all of it known: a pinhole camera with one radial term."""

from collections.abc import Callable
from dataclasses import dataclass, field

import cv2
import numpy as np
import pypdfium2

from parts.picture.mat import Mat
from parts.picture.mat_drawing import PAPERS, mat_svg
from parts.tools.papers import maker

TEXTURE = 30.0
"""Pixels per mm of what is rendered from."""


def sheet_picture(mat: Mat, number: int, paper: str = "A4") -> np.ndarray:
    """The mat's own PDF as a picture, grey, TEXTURE pixels per mm."""
    size = " ".join(f"{side}mm" for side in PAPERS[paper])
    style = f"@page {{ size: {size}; margin: 0 }} body {{ margin: 0 }} svg {{ display: block }}"
    html = f"<style>{style}</style>{mat_svg(mat, number=number, paper=paper)}"
    page = pypdfium2.PdfDocument(maker.HTML(string=html).write_pdf())[0]
    return page.render(scale=TEXTURE * 25.4 / 72, grayscale=True).to_numpy().squeeze().copy()


@dataclass
class Part:
    """A disc with what is drawn on it: mm from its middle; `grey` values 0 to 255.

    `paint` gives the grey of its plate at x and y where that is not one; `shadow` is what it throws on the mat: how
    far it lies off in x and y, how soft it is, mm, and the share of the light that it takes.
    """

    diameter: float
    height: float
    middle: tuple[float, float] = (0.0, 0.0)
    grey: int = 215
    holes: list = field(default_factory=list)
    boxes: list = field(default_factory=list)
    paint: Callable | None = None
    shadow: tuple[float, float, float, float] | None = None

    def texture(self):
        """Its face and its outline, TEXTURE pixels per mm."""
        side = int(np.ceil((self.diameter + 2) * TEXTURE)) | 1
        face = np.full((side, side), float(self.grey), np.float32)
        if self.paint:
            face = np.clip(self.paint(*_grid(side)), 0, 300).astype(np.float32)
        inside = disc(side, 0.0, 0.0, self.diameter / 2)
        for x, y, diameter, grey in self.holes:
            hole = disc(side, x, y, diameter / 2)
            face = face * (1 - hole) + grey * hole
        for x, y, wide, high, turn, grey in self.boxes:
            box = _box(side, x, y, wide, high, turn)
            face = face * (1 - box) + grey * box
        return face, inside


def _grid(side):
    steps = (np.arange(side) - (side - 1) / 2) / TEXTURE
    return np.meshgrid(steps, steps)


def _soft(distance):
    """Share covered by a half-plane at a signed distance in mm, over a pixel's width."""
    return np.clip(0.5 - distance * TEXTURE, 0, 1).astype(np.float32)


def disc(side, x, y, radius):
    gx, gy = _grid(side)
    return _soft(np.hypot(gx - x, gy - y) - radius)


def _box(side, x, y, wide, high, turn):
    gx, gy = _grid(side)
    c, s = np.cos(np.radians(turn)), np.sin(np.radians(turn))
    u, v = (gx - x) * c + (gy - y) * s, -(gx - x) * s + (gy - y) * c
    return _soft(np.maximum(np.abs(u) - wide / 2, np.abs(v) - high / 2))


def render(
    mat, part, *, number=7, stretch=(1.0, 1.0), tilt=(0.0, 0.0), turn=0.0, k1=0.0, distance=320.0, offset=(0.0, 0.0),
    size=(4000, 3000), focal=4100.0, blur=0.8, noise=2.0, light=0.15, quality=92, seed=1, paper="A4",
):  # fmt: skip
    """A picture (grey) of the part on the mat, whose print is stretched; and the camera's numbers."""
    sheet = _sheet(mat, number, paper)
    rx, ry = np.radians(tilt)
    rotation = (
        cv2.Rodrigues(np.array([rx, 0, 0.0]))[0]
        @ cv2.Rodrigues(np.array([0, ry, 0.0]))[0]
        @ cv2.Rodrigues(np.array([0, 0, np.radians(turn)]))[0]
    )
    place = np.array([offset[0], offset[1], distance])
    width, height = size
    matrix = np.array([[focal, 0, (width - 1) / 2 + 9], [0, focal, (height - 1) / 2 - 6], [0, 0, 1]])
    x, y = np.meshgrid(np.arange(width, dtype=np.float32), np.arange(height, dtype=np.float32))
    rays = _undistorted(np.stack([(x - matrix[0, 2]) / focal, (y - matrix[1, 2]) / focal], -1), k1)
    origin = -rotation.T @ place
    ways = np.concatenate([rays, np.ones((*rays.shape[:2], 1), np.float32)], -1) @ rotation.astype(np.float32)

    def plane(level):
        reach = (level - origin[2]).astype(np.float32) / ways[..., 2]
        return [at + reach * ways[..., axis] for axis, at in enumerate(origin[:2].astype(np.float32))]

    px, py = plane(0.0)
    left, top = -PAPERS[paper][0] / 2, -(mat.half + 60.0)
    u = (px / stretch[0] - left) * TEXTURE - 0.5
    v = (py / stretch[1] - top) * TEXTURE - 0.5
    seen = cv2.remap(sheet, u.astype(np.float32), v.astype(np.float32), cv2.INTER_LINEAR, borderValue=120).astype(
        np.float32
    )
    if part and part.shadow:
        dx, dy, soft, depth = part.shadow
        away = np.hypot(px - part.middle[0] - dx, py - part.middle[1] - dy) - part.diameter / 2
        seen *= 1 - depth * np.clip(0.5 - away / (2 * soft), 0, 1)
    if part:
        face, inside = part.texture()
        px, py = plane(-part.height)
        middle = (face.shape[0] - 1) / 2
        u = ((px - part.middle[0]) * TEXTURE + middle).astype(np.float32)
        v = ((py - part.middle[1]) * TEXTURE + middle).astype(np.float32)
        cover = cv2.remap(inside, u, v, cv2.INTER_LINEAR, borderValue=0)
        seen = seen * (1 - cover) + cv2.remap(face, u, v, cv2.INTER_LINEAR, borderValue=0) * cover
    chance = np.random.default_rng(seed)
    seen = seen * 0.86 * (1 + light * ((x + 0.6 * y) / (width + 0.6 * height) - 0.5)) + 12
    seen = cv2.GaussianBlur(seen, (0, 0), blur) + chance.normal(0, noise, seen.shape).astype(np.float32)
    grey = np.clip(seen, 0, 255).astype(np.uint8)
    return cv2.imdecode(cv2.imencode(".jpg", grey, [cv2.IMWRITE_JPEG_QUALITY, quality])[1], cv2.IMREAD_GRAYSCALE)


_SHEETS: dict = {}


def _sheet(mat, number, paper):
    key = (mat.field, number, paper)
    if key not in _SHEETS:
        _SHEETS[key] = sheet_picture(mat, number, paper)
    return _SHEETS[key]


def _undistorted(seen, k1):
    """The rays of what is seen: r (1 + k1 r^2) turned round by a table as fine as the picture."""
    far = np.hypot(seen[..., 0], seen[..., 1])
    table = np.linspace(0, 2 * far.max(), 40_001)
    bent = table * (1 + k1 * table**2)
    rising = bent[: np.argmax(bent) + 1]
    assert rising[-1] > far.max(), "the lens folds over inside the picture"
    radius = np.interp(far, rising, table[: len(rising)])
    share = np.where(far > 0, radius / np.maximum(far, 1e-12), 1.0)
    return (seen * share[..., None]).astype(np.float32)
