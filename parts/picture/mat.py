"""The measuring mat: a frame of chessboard squares with coded marks round an empty field, and its print's own number.

Lengths in mm on the paper, from the middle of the field, x to the right and y down. A face that lies `height` above the
mat lies at z = -height: z goes into the paper, so that the three make a right-handed frame as the camera sees it.

Chessboard corners between coded marks carry the scale: they are found more exactly than the marks' own corners
(documentation of the library that finds them). Only corners with all four squares printed are used.
"""

from dataclasses import dataclass
from functools import cache, cached_property

import cv2
import numpy as np
from numpy.typing import NDArray

SQUARE, MARK = 6.0, 4.5
"""Sides of a square and of the coded mark in each white one, mm."""
RIM = (SQUARE - MARK) / 2
"""White round a coded mark in its square, mm."""
THICK = 3
"""Squares from the field to the frame's outer edge."""
BAR = 140.0
"""Length of the two control bars, mm: what a common calliper still spans."""
MOST_PRINTS = 1000
"""Print numbers begin anew after so many: the coded marks of a print's number have no more."""
GREYS = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)
"""Steps of the grey scale, from black to the bare paper."""
PRINT_MARK = 8.0
"""Side of each mark of the print's number, mm."""
_FIRST_MARK = {35: 0, 50: 100, 75: 300}
_EMPTY = {35: 6, 50: 9, 75: 13}
FIELDS = tuple(_EMPTY)
"""Sides of the empty field, mm: the part to be measured lies in it."""


@dataclass(frozen=True)
class Mat:
    """A mat by the side of its field, mm."""

    field: int

    @property
    def squares(self) -> int:
        """Squares along a side of the frame, those of the empty field counted."""
        return _EMPTY[self.field] + 2 * THICK

    @property
    def half(self) -> float:
        """From the middle to the frame's outer edge, mm."""
        return 0.5 * self.squares * SQUARE

    @property
    def half_field(self) -> float:
        """From the middle to the edge of the empty field, mm."""
        return 0.5 * _EMPTY[self.field] * SQUARE

    def is_printed(self, column: int, row: int) -> bool:
        """Whether a square is there: inside the frame and not in the empty field."""
        span = range(THICK, THICK + _EMPTY[self.field])
        inside = 0 <= column < self.squares and 0 <= row < self.squares
        return inside and not (column in span and row in span)

    @cached_property
    def board(self) -> cv2.aruco.CharucoBoard:
        """The whole board as the library knows it; the field's own squares are never printed."""
        count = self.squares * self.squares // 2
        first = _FIRST_MARK[self.field]
        marks = np.arange(first, first + count, dtype=np.int32)
        return cv2.aruco.CharucoBoard((self.squares, self.squares), SQUARE, MARK, frame_marks(), marks)

    @cached_property
    def corners(self) -> dict[int, tuple[float, float]]:
        """The chessboard corners that are whole, by the board's numbers: x and y on the paper."""
        places = {}
        for number, (x, y, _) in enumerate(np.asarray(self.board.getChessboardCorners())):
            column, row = round(x / SQUARE), round(y / SQUARE)
            if all(self.is_printed(c, r) for c in (column - 1, column) for r in (row - 1, row)):
                places[number] = (float(x) - self.half, float(y) - self.half)
        return places

    @property
    def print_marks(self) -> list[tuple[float, float]]:
        """Upper left corners of the marks that carry the print's number, outside the frame's corners."""
        near, far = -self.half - 2.0 - PRINT_MARK, self.half + 2.0
        return [(x, y) for y in (near, far) for x in (near, far)]


@cache
def frame_marks() -> cv2.aruco.Dictionary:
    """The coded marks of the frames: each kind of mat has numbers of its own."""
    return cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_5X5_1000)


@cache
def print_marks() -> cv2.aruco.Dictionary:
    """The coded marks of the print's number."""
    return cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_1000)


def modules_of(marks: cv2.aruco.Dictionary, number: int) -> NDArray[np.uint8]:
    """A coded mark as its rows of black (0) and white (1), the black border included."""
    side = marks.markerSize + 2
    return (cv2.aruco.generateImageMarker(marks, number, side) > 127).astype(np.uint8)
