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
_COARSE = 16
"""Of so many pixels one is looked at where a part lies."""


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
    x, y = np.arange(width, dtype=np.float32), np.arange(height, dtype=np.float32)[:, None]
    across, down = _undistorted((x - (width - 1) / 2 - 9) / focal, (y - (height - 1) / 2 + 6) / focal, k1)
    origin = (-rotation.T @ place).astype(np.float32)
    ways = [across * one + down * two + three for one, two, three in rotation.T.astype(np.float32)]

    def plane(level, rows=slice(None), columns=slice(None)):
        away, to_x, to_y = (ways[axis][rows, columns] for axis in (2, 0, 1))
        reach = np.float32(level - origin[2]) / away
        return reach * to_x + origin[0], reach * to_y + origin[1]

    def window(level, middle, radius):
        """The rows and columns in which a disc at this level lies."""
        px, py = plane(level, slice(None, None, _COARSE), slice(None, None, _COARSE))
        hit = np.hypot(px - middle[0], py - middle[1]) < radius + 2 * _COARSE * distance / focal
        return [_stretch(hit.any(axis)) for axis in (1, 0)]

    px, py = plane(0.0)
    left, top = -PAPERS[paper][0] / 2, -(mat.half + 60.0)
    u = px * np.float32(TEXTURE / stretch[0]) - np.float32(left * TEXTURE + 0.5)
    v = py * np.float32(TEXTURE / stretch[1]) - np.float32(top * TEXTURE + 0.5)
    seen = cv2.remap(sheet, u, v, cv2.INTER_LINEAR, borderValue=120).astype(np.float32)
    if part and part.shadow:
        dx, dy, soft, depth = part.shadow
        middle = (part.middle[0] + dx, part.middle[1] + dy)
        at = window(0.0, middle, part.diameter / 2 + soft)
        away = np.hypot(px[*at] - middle[0], py[*at] - middle[1]) - part.diameter / 2
        seen[*at] *= 1 - depth * np.clip(0.5 - away / (2 * soft), 0, 1)
    if part:
        face, inside = part.texture()
        at = window(-part.height, part.middle, part.diameter / 2 + 1)
        px, py = plane(-part.height, *at)
        middle = (face.shape[0] - 1) / 2
        u, v = ((p - m) * np.float32(TEXTURE) + np.float32(middle) for p, m in zip((px, py), part.middle, strict=True))
        cover = cv2.remap(inside, u, v, cv2.INTER_LINEAR, borderValue=0)
        seen[*at] += (cv2.remap(face, u, v, cv2.INTER_LINEAR, borderValue=0) - seen[*at]) * cover
    seen *= 0.86 * (1 + light * ((x + 0.6 * y) / (width + 0.6 * height) - 0.5))
    seen += 12
    chance = np.random.default_rng(seed)
    seen = cv2.GaussianBlur(seen, (0, 0), blur) + chance.normal(0, noise, seen.shape).astype(np.float32)
    grey = np.clip(seen, 0, 255).astype(np.uint8)
    return cv2.imdecode(cv2.imencode(".jpg", grey, [cv2.IMWRITE_JPEG_QUALITY, quality])[1], cv2.IMREAD_GRAYSCALE)


_SHEETS: dict = {}


def _sheet(mat, number, paper):
    key = (mat.field, number, paper)
    if key not in _SHEETS:
        _SHEETS[key] = sheet_picture(mat, number, paper)
    return _SHEETS[key]


def _stretch(hit):
    """From the first to the last that is hit, of pixels of which every so many was looked at."""
    (places,) = np.nonzero(hit)
    return slice(max(0, (places[0] - 1) * _COARSE), (places[-1] + 2) * _COARSE) if places.size else slice(0)


def _undistorted(x, y, k1):
    """The rays of what is seen at x, in a row, and y, in a column: r (1 + k1 r^2) turned round, true to 1e-7."""
    if not k1:
        return tuple(np.broadcast_to(each, (y.size, x.size)) for each in (x, y))
    square = x * x + y * y
    far = float(np.sqrt(square.max()))
    table = np.linspace(0, 2 * far, 40_001)
    bent = table * (1 + k1 * table**2)
    rising = bent[: np.argmax(bent) + 1]
    assert rising[-1] > far, "the lens folds over inside the picture"
    even = np.linspace(far / 1000, far, 1000)
    shares = np.polynomial.Polynomial.fit(even**2, np.interp(even, rising, table[: rising.size]) / even, 8)
    highest, *others = shares.convert().coef[::-1].astype(np.float32)
    share = np.full_like(square, highest)
    for other in others:
        share *= square
        share += other
    return x * share, y * share
