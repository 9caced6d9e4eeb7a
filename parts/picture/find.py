"""Finding the mat in a picture: which one it is, its print's number, and its corners; or a sentence why not."""

from collections import Counter
from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from parts.fit.answer.listing import in_a_sentence
from parts.picture.camera import Array
from parts.picture.errors import PictureError
from parts.picture.mat import FIELDS, PRINT_MARK, RIM, SQUARE, Mat, frame_marks, print_marks

Grey = NDArray[np.uint8]
LEAST_SHARE = 0.5
"""Share of the mat's corners that must be seen, and"""
LEAST_A_SIDE = 4
"""how many on each of its four sides; common practice, no source."""
COARSE = 2000
"""Pixels along the longer side of the picture in which the marks are looked for."""
_WINDOW = 25
"""Side of the window, in pixels of that picture, that black and white are told apart in: wider than a mark's module."""
_WITHIN = 0.9
"""Share of the white round a mark that is looked at beside a square's edge: the mark itself must not be."""
_PAPER, _CUT = 1.5, 16.0
"""Paper round a print's mark, mm, and the pixels per mm in which it is read."""
_MOST_IN_A_ROW = 30_000
"""Points that the library takes in one row of a picture."""
BLUR = 0.25
"""Widest edge between black and white, 10 to 90 %, in mm on the mat; common practice, no source."""
GLARE = 0.04
"""Largest share of the field that may be burnt out beyond the paper's white; common practice, no source."""


@dataclass(frozen=True)
class Sighting:
    """A mat in a picture: its print's number (None where no mark of it is seen), its corners' places and pixels."""

    mat: Mat
    number: int | None
    places: Array
    pixels: Array


def find_mat(grey: Grey) -> Sighting:
    """The mat of a picture; PictureError where there is none, or too little of one.

    The marks are looked for in a picture of half the size, the corners between them refined in the whole one.
    """
    share = min(1.0, COARSE / max(grey.shape))
    coarse = cv2.resize(grey, None, fx=share, fy=share, interpolation=cv2.INTER_AREA)
    marks, numbers, _ = cv2.aruco.ArucoDetector(frame_marks(), _parameters()).detectMarkers(coarse)
    mat = _which(numbers)
    detector = cv2.aruco.CharucoDetector(mat.board, _charuco(), _parameters())
    corners, names, _, _ = detector.detectBoard(coarse, markerCorners=marks, markerIds=numbers)
    seen: dict[int, Array] = {}
    if names is not None:
        seen = dict(zip(np.ravel(names).astype(int).tolist(), np.reshape(corners, (-1, 2)), strict=True))
    whole = [name for name in seen if name in mat.corners]
    places: Array = np.array([mat.corners[name] for name in whole], dtype=np.float64).reshape(-1, 2)
    _refuse_too_few(mat, places)
    pixels: Array = (np.array([seen[name] for name in whole], dtype=np.float64) + 0.5) / share - 0.5
    pixels = _refined(grey, places, pixels)
    return Sighting(mat, _number(grey, mat, places, pixels), places, pixels)


def _refined(grey: Grey, places: Array, pixels: Array) -> Array:
    """The corners to a fraction of a pixel, each looked for within the white rim of the marks beside it."""
    apart = np.median(np.hypot(*(pixels - pixels.mean(0)).T)) / np.median(np.hypot(*(places - places.mean(0)).T))
    reach = max(2, int(_WITHIN * RIM * apart))
    until = (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_MAX_ITER, 40, 0.001)
    corners = np.ascontiguousarray(pixels, dtype=np.float32).reshape(-1, 1, 2)
    return cv2.cornerSubPix(grey, corners, (reach, reach), (-1, -1), until).reshape(-1, 2).astype(float)


def _parameters() -> cv2.aruco.DetectorParameters:
    parameters = cv2.aruco.DetectorParameters()
    parameters.adaptiveThreshWinSizeMin = parameters.adaptiveThreshWinSizeMax = _WINDOW
    return parameters


def _charuco() -> cv2.aruco.CharucoParameters:
    parameters = cv2.aruco.CharucoParameters()
    parameters.minMarkers = 2
    return parameters


def _which(numbers: Any) -> Mat:
    """The mat that most of the coded marks belong to."""
    kinds: Counter[int] = Counter()
    for number in [] if numbers is None else np.ravel(numbers).tolist():
        for field in FIELDS:
            ids = np.ravel(Mat(field).board.getIds())
            if ids[0] <= number <= ids[-1]:
                kinds[field] += 1
    if not kinds:
        raise PictureError(
            "No measuring mat was found in this picture.",
            "Lay the part in the empty field of a printed mat, and take the whole frame into the picture, sharp.",
        )
    return Mat(kinds.most_common(1)[0][0])


def _refuse_too_few(mat: Mat, places: Array) -> None:
    share = len(places) / len(mat.corners)
    reach = mat.half_field
    sides = {
        "left": (places[:, 0] < -reach).sum(),
        "right": (places[:, 0] > reach).sum(),
        "upper": (places[:, 1] < -reach).sum(),
        "lower": (places[:, 1] > reach).sum(),
    }
    bare = [side for side, count in sides.items() if count < LEAST_A_SIDE]
    if bare or share < LEAST_SHARE:
        where = f" Its {in_a_sentence(bare)} side is hidden or cut off." if bare else ""
        raise PictureError(
            f"Only {len(places)} of the mat's {len(mat.corners)} corners are seen.{where}",
            "Take the whole frame into the picture, sharp, with nothing on it.",
        )


def _number(grey: Grey, mat: Mat, places: Array, pixels: Array) -> int | None:
    """The number of the print, as most of its marks say; each is looked for where the frame says that it lies."""
    parameters = _parameters()
    parameters.errorCorrectionRate = 0.0
    detector = cv2.aruco.ArucoDetector(print_marks(), parameters)
    said: Counter[int] = Counter()
    for x, y in mat.print_marks:
        # The mark with a rim of paper, cut out of the picture as it would lie straight.
        onto = (places - [x - _PAPER, y - _PAPER]) * _CUT
        way, _ = cv2.findHomography(onto, pixels)
        side = round((PRINT_MARK + 2 * _PAPER) * _CUT)
        cut = cv2.warpPerspective(grey, way, (side, side), flags=cv2.INTER_AREA | cv2.WARP_INVERSE_MAP)
        _, numbers, _ = detector.detectMarkers(cut)
        said.update([] if numbers is None else np.ravel(numbers).astype(int).tolist())
    best = said.most_common(2)
    if not best or (len(best) == 2 and best[0][1] == best[1][1]):
        return None
    return best[0][0]


def edge_width(grey: Grey, scale: float, sighting: Sighting) -> float:
    """How wide the edges of the squares are, from 10 to 90 % of their step, in mm: the median over the mat.

    Taken across the middle of the squares' sides, between neighbouring corners; of the sides across and those down the
    wider, as a camera that moved blurs one of them alone.
    """
    widths: dict[bool, list[float]] = {True: [], False: []}
    where = {(round(x, 2), round(y, 2)): pixel for (x, y), pixel in zip(sighting.places, sighting.pixels, strict=True)}
    for (x, y), pixel in where.items():
        for dx, dy in ((SQUARE, 0.0), (0.0, SQUARE)):
            other = where.get((round(x + dx, 2), round(y + dy, 2)))
            if other is not None:
                width = _width(grey, pixel, other, _WITHIN * RIM * scale)
                widths[dx > 0] += [] if width is None else [width]
    return max(float(np.median(known)) / scale if known else float("inf") for known in widths.values())


def _width(grey: Grey, start: Array, end: Array, reach: float) -> float | None:
    along = end - start
    length = float(np.hypot(*along))
    across = np.array([-along[1], along[0]]) / length
    steps = np.linspace(-reach, reach, 41)
    lines = [start + along * share + steps[:, None] * across for share in (0.3, 0.4, 0.5, 0.6, 0.7)]
    profile = np.mean([sample(grey, line) for line in lines], axis=0)
    low, high = sorted((profile[:4].mean(), profile[-4:].mean()))
    if high - low < 30:
        return None
    rise = profile if profile[0] < profile[-1] else profile[::-1]
    first = np.argmax(rise > low + 0.1 * (high - low))
    last = np.argmax(rise > low + 0.9 * (high - low))
    return float(steps[last] - steps[first])


def sample(grey: Grey | NDArray[np.float32], points: Array) -> Array:
    """The picture's values at points between its pixels, bilinear."""
    rows = np.array_split(points.astype(np.float32), 1 + len(points) // _MOST_IN_A_ROW)
    values = [
        cv2.remap(grey, x[None], y[None], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)[0]
        for x, y in (r.T for r in rows)
    ]
    return np.concatenate(values).astype(np.float64)
