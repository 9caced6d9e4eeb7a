"""Colours of spots: neutral beside the mat's white, whatever the light; and what a difference means."""

import numpy as np
import pytest

from parts.picture.colour import difference, in_words, lab_of, spot


@pytest.mark.parametrize("white", [(255, 255, 255), (250, 235, 200), (180, 200, 240)])
def test_white_is_neutral_in_any_light(white):
    colour = lab_of(np.array(white), np.array(white))
    assert colour.lightness == pytest.approx(100, abs=0.01)
    assert (colour.a, colour.b) == pytest.approx((0, 0), abs=0.02)


def test_a_mid_grey_is_as_light_as_the_standard_has_it():
    """SRGB 119 is 18.4 % grey, L* near 50 (IEC 61966-2-1, CIE 15)."""
    assert lab_of(np.array([119, 119, 119]), np.array([255, 255, 255])).lightness == pytest.approx(50.0, abs=0.1)


def test_the_same_paint_in_two_lights_is_the_same():
    daylight = lab_of(np.array([214, 196, 150]), np.array([255, 255, 255]))
    linear = ((np.array([214, 196, 150]) / 255 + 0.055) / 1.055) ** 2.4 * (
        (np.array([250, 225, 180]) / 255 + 0.055) / 1.055
    ) ** 2.4
    lamp = (1.055 * linear ** (1 / 2.4) - 0.055) * 255
    assert difference(daylight, lab_of(lamp, np.array([250, 225, 180]))) < 0.2


def test_a_spot_leaves_out_glints_and_shadows():
    picture = np.full((60, 60, 3), (180, 160, 120), np.uint8)
    picture[25:32, 25:32] = 255
    assert spot(picture, 30, 30, 15) == pytest.approx((180, 160, 120))
    assert spot(np.full((60, 60, 3), 255, np.uint8), 30, 30, 15) is None


@pytest.mark.parametrize(
    ("value", "words"), [(0.99, "no difference"), (1.0, "passes"), (2.99, "passes"), (3.0, "differ")]
)
def test_a_difference_in_words(value, words):
    assert words in in_words(value)
