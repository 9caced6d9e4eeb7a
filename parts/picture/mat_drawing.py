"""The mat as a drawing for its sheet of paper: rectangles only, at 1:1."""

from collections.abc import Iterator

import cv2

from parts.fit.drawings.svg import el
from parts.picture.mat import (
    BAR,
    GREYS,
    MARK,
    MOST_PRINTS,
    PRINT_MARK,
    RIM,
    SQUARE,
    Mat,
    frame_marks,
    modules_of,
    print_marks,
)

PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Width and height of the sheet, mm."""
_PATCH = 9.0
_BAR_THICK = 3.0


def mat_svg(mat: Mat, *, number: int, paper: str) -> str:
    """The whole sheet's drawing with its print's number; the field's middle is at 0, 0."""
    width, height = PAPERS[paper]
    left, top = -width / 2, -(mat.half + 60.0)
    return el(
        "svg",
        *_frame(mat),
        *_number(mat, number % MOST_PRINTS),
        *_bars(mat),
        *_greys(mat),
        *_words(mat, number),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"{left:g} {top:g} {width:g} {height:g}",
        width=f"{width:g}mm",
        height=f"{height:g}mm",
        shape_rendering="crispEdges",
    )


def _black(x: float, y: float, width: float, height: float, fill: str = "#000") -> str:
    return el("rect", x=x, y=y, width=width, height=height, fill=fill)


def _frame(mat: Mat) -> Iterator[str]:
    """Black squares, and a coded mark in each white one, where the frame is printed."""
    marks = iter(mat.board.getIds())
    for row in range(mat.squares):
        for column in range(mat.squares):
            x, y = column * SQUARE - mat.half, row * SQUARE - mat.half
            black = is_black(column, row)
            number = None if black else int(next(marks))
            if not mat.is_printed(column, row):
                continue
            if number is None:
                yield _black(x, y, SQUARE, SQUARE)
            else:
                yield from _mark(x + RIM, y + RIM, MARK, frame_marks(), number)


def is_black(column: int, row: int) -> bool:
    """Whether a square of the board is black; the one at the upper left is."""
    return (column + row) % 2 == 0


def _mark(x: float, y: float, side: float, marks: cv2.aruco.Dictionary, number: int) -> Iterator[str]:
    """A coded mark: black, with runs of white on it."""
    rows = modules_of(marks, number)
    step = side / len(rows)
    yield _black(x, y, side, side)
    for j, row in enumerate(rows):
        start = None
        for i, white in enumerate([*row, 0]):
            if white and start is None:
                start = i
            elif not white and start is not None:
                yield _black(x + start * step, y + j * step, (i - start) * step, step, "#fff")
                start = None


def _number(mat: Mat, number: int) -> Iterator[str]:
    for x, y in mat.print_marks:
        yield from _mark(x, y, PRINT_MARK, print_marks(), number)


def _bars(mat: Mat) -> Iterator[str]:
    """The two control bars, across below the frame and down at its left."""
    below = mat.half + 22.0
    yield _black(-BAR / 2, below, BAR, _BAR_THICK)
    yield _black(-mat.half - 18.0, mat.half + 16.0 - BAR, _BAR_THICK, BAR)


def _greys(mat: Mat) -> Iterator[str]:
    start = -len(GREYS) * _PATCH / 2
    for i, grey in enumerate(GREYS):
        level = round(255 * grey)
        yield el(
            "rect",
            x=start + i * _PATCH,
            y=-mat.half - 16.0,
            width=_PATCH,
            height=_PATCH,
            fill=f"#{level:02x}{level:02x}{level:02x}",
            stroke="#000",
            stroke_width=0.1,
        )


def _words(mat: Mat, number: int) -> Iterator[str]:
    words = (
        (f"Measuring mat {mat.field} mm, print {number}", 5.0, mat.half + 38.0),
        ("Print at 100 %, not scaled to fit. Lay flat, on glass best.", 3.5, mat.half + 45.0),
        (
            f"Calliper over both black bars, end to end, near {BAR:.2f} mm, and type what it reads.",
            3.5,
            mat.half + 51.0,
        ),
        ("Light from two sides, the camera straight above and far: 300 mm or more.", 3.5, mat.half + 57.0),
    )
    for text, size, y in words:
        yield el("text", text, x=0.0, y=y, font_size=size, text_anchor="middle", font_family="Plex Sans, sans-serif")
