"""Whether two colours go together: the colour difference CIEDE2000 of two spots of one picture, beside the mat's white.

Source: CIE 142:2001, and G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 color-difference formula: implementation notes,
supplementary test data, and mathematical observations", Color Research and Application 30 (2005). sRGB: IEC 61966-2-1.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from parts.picture.camera import Array

SEEN, LIKE = 1.0, 3.0
"""Differences below the first are not seen, below the second pass for the same at arm's length; common practice, no
source."""
_WHITE = np.array([0.95047, 1.0, 1.08883])
_TO_XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
_CLIPPED = 250.0
_DARK = 3.0


@dataclass(frozen=True)
class Lab:
    """A colour in CIELAB under D65."""

    lightness: float
    a: float
    b: float


def lab_of(colour: Array, white: Array) -> Lab:
    """An sRGB colour (0 to 255) as seen beside a `white` of the same picture, which counts as neutral."""
    linear = _linear(np.asarray(colour, dtype=np.float64)) / _linear(np.asarray(white, dtype=np.float64))
    ratio = _TO_XYZ @ linear / _WHITE
    f = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio / (3 * (6 / 29) ** 2) + 4 / 29)
    return Lab(float(116 * f[1] - 16), float(500 * (f[0] - f[1])), float(200 * (f[1] - f[2])))


def _linear(colour: Array) -> Array:
    share = colour / 255.0
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def spot(picture: NDArray[np.uint8], x: float, y: float, radius: float) -> Array | None:
    """The colour of a spot (pixels): the median of what is neither burnt out nor black; None where that is little."""
    rows, columns = np.ogrid[: picture.shape[0], : picture.shape[1]]
    inside = picture[(columns - x) ** 2 + (rows - y) ** 2 <= radius**2].reshape(-1, 3).astype(np.float64)
    good = inside[(inside.max(axis=1) < _CLIPPED) & (inside.max(axis=1) > _DARK)]
    return np.median(good, axis=0) if len(good) >= max(9, 0.5 * len(inside)) else None


def difference(one_side: Lab, other: Lab) -> float:
    """The colour difference CIEDE2000 with all weights 1."""
    mean_chroma = 0.5 * (np.hypot(one_side.a, one_side.b) + np.hypot(other.a, other.b))
    stretch = 0.5 * (1 - np.sqrt(mean_chroma**7 / (mean_chroma**7 + 25.0**7)))
    (l1, c1, h1), (l2, c2, h2) = (_polar(side, 1 + stretch) for side in (one_side, other))
    turn = 0.0 if c1 * c2 == 0 else (h2 - h1 + 180.0) % 360.0 - 180.0
    by_hue = 2 * np.sqrt(c1 * c2) * np.sin(np.radians(turn / 2))
    lightness, chroma, hue = 0.5 * (l1 + l2), 0.5 * (c1 + c2), _mean_hue(h1, h2, c1 * c2)
    t = 1 - 0.17 * _cos(hue - 30) + 0.24 * _cos(2 * hue) + 0.32 * _cos(3 * hue + 6) - 0.20 * _cos(4 * hue - 63)
    for_lightness = 1 + 0.015 * (lightness - 50) ** 2 / np.sqrt(20 + (lightness - 50) ** 2)
    for_chroma, for_hue = 1 + 0.045 * chroma, 1 + 0.015 * chroma * t
    blue = -np.sin(np.radians(60 * np.exp(-(((hue - 275) / 25) ** 2)))) * 2 * np.sqrt(chroma**7 / (chroma**7 + 25.0**7))
    terms = (l2 - l1) / for_lightness, (c2 - c1) / for_chroma, by_hue / for_hue
    return float(np.sqrt(sum(term**2 for term in terms) + blue * terms[1] * terms[2]))


def _polar(colour: Lab, stretch: float) -> tuple[float, float, float]:
    a = stretch * colour.a
    return colour.lightness, float(np.hypot(a, colour.b)), float(np.degrees(np.arctan2(colour.b, a)) % 360.0)


def _mean_hue(h1: float, h2: float, chroma: float) -> float:
    if chroma == 0:
        return h1 + h2
    if abs(h1 - h2) <= 180:
        return 0.5 * (h1 + h2)
    return 0.5 * (h1 + h2 + (360 if h1 + h2 < 360 else -360))


def _cos(angle: float) -> float:
    return float(np.cos(np.radians(angle)))


def in_words(value: float) -> str:
    """What a difference means at the bench."""
    if value < SEEN:
        return "no difference is seen"
    return "passes for the same" if value < LIKE else "a customer sees that they differ"
