"""A flat scanner: its scale from a scan of a mat, and a dial measured without one."""

from functools import cache

import cv2
import numpy as np
import pytest

from parts.picture import propose
from parts.picture.edges.face import Face
from parts.picture.errors import PictureError
from parts.picture.mat import Mat
from parts.picture.plane import Bars
from parts.picture.scan import MOST_SIDE, calibrate, scan_plane
from parts.picture.subjects import DIAL_FRONT, readings
from tests.picture.dial import DIAL
from tests.picture.scene import TEXTURE, sheet_picture

DOTS = 600 / 25.4
ACROSS, DOWN = 1.003, 0.9965
"""True pixels per mm of the scanner over those that its files state."""
STRETCH = (1.002, 0.999)
BARS = {7: Bars(140.28, 139.86, 0.02)}


def scanned(texture, *, turn=0.0, stretch=(1.0, 1.0), seed=2):
    """What the scanner makes of a face of TEXTURE pixels per mm that lies turned on its glass, degrees."""
    c, s = np.cos(np.radians(turn)), np.sin(np.radians(turn))
    scale = np.array([DOTS * ACROSS, DOTS * DOWN])
    size = np.ceil(np.array(texture.shape[::-1]) / TEXTURE * scale + 60).astype(int)
    print_scale = np.diag(stretch) / TEXTURE
    linear = np.diag(scale) @ np.array([[c, -s], [s, c]]) @ print_scale
    middle = (np.array(texture.shape[::-1]) - 1) / 2
    move = np.column_stack([linear, (size - 1) / 2 - linear @ middle])
    seen = cv2.warpAffine(texture.astype(np.float32), move, tuple(size), flags=cv2.INTER_AREA, borderValue=235)
    noise = np.random.default_rng(seed).normal(0, 2, seen.shape)
    return np.clip(cv2.GaussianBlur(seen, (0, 0), 0.7) + noise, 0, 255).astype(np.uint8)


@cache
def scan_of_a_mat():
    """A small mat's print, its frame and the marks of its number, as the scanner sees it."""
    sheet, mat = sheet_picture(Mat(35), 7), Mat(35)
    row, column = round((mat.half + 60.0) * TEXTURE), sheet.shape[1] // 2
    reach = round((mat.half + 14.0) * TEXTURE)
    return scanned(sheet[row - reach : row + reach, column - reach : column + reach], turn=1.5, stretch=STRETCH)


@pytest.fixture
def mat_scan():
    return scan_of_a_mat()


def test_the_scale_of_a_scanner_is_read_off_a_mat(mat_scan):
    scale = calibrate(mat_scan, bars=BARS, stated=(DOTS, DOTS))
    assert scale.across == pytest.approx(ACROSS, abs=scale.plus_minus)
    assert scale.down == pytest.approx(DOWN, abs=scale.plus_minus)
    assert scale.plus_minus < 0.0015


def test_a_print_whose_bars_are_not_measured_tells_no_scale(mat_scan):
    with pytest.raises(PictureError, match="print 7 are not measured"):
        calibrate(mat_scan, bars={8: BARS[7]}, stated=(DOTS, DOTS))


def test_a_dial_on_the_glass_is_measured_without_a_mat():
    face, inside = DIAL.texture()
    scan = scanned(face * inside + 250 * (1 - inside), turn=20)
    square = cv2.resize(scan, (scan.shape[1], round(scan.shape[0] * ACROSS / DOWN)), interpolation=cv2.INTER_AREA)
    plane = scan_plane((square.shape[1], square.shape[0]), per_mm=DOTS * ACROSS, plus_minus=0.0008)
    seen = Face(square, plane)
    rim = propose.rim(seen)
    hole = propose.hole(seen, rim)
    read = readings(plane, DIAL_FRONT, {"rim": rim, "hole": hole})
    for path, true in (("dial.diameter", 28.5), ("dial.centre_hole_diameter", 2.0)):
        assert read[path].value == pytest.approx(true, abs=min(0.03, read[path].plus_minus)), path


@pytest.mark.parametrize(
    ("per_mm", "side", "words"),
    [(11.9, 30.0, "only 12 pixels"), (23.6, MOST_SIDE + 1, f"at most {MOST_SIDE:.0f} mm"), (12.0, MOST_SIDE, "")],
)
def test_a_scan_that_is_too_coarse_or_too_large_is_refused(per_mm, side, words):
    size = (int(side * per_mm), int(20 * per_mm))
    if not words:
        assert scan_plane(size, per_mm=per_mm, plus_minus=0.001).half == pytest.approx(side / 2, abs=0.05)
        return
    with pytest.raises(PictureError, match=words):
        scan_plane(size, per_mm=per_mm, plus_minus=0.001)
