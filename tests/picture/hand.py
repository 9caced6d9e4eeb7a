"""A rendered picture of a hand of which every dimension is known."""

from dataclasses import dataclass

import cv2
import numpy as np

from parts.fit.drawings.hand_shapes import outline
from parts.picture.mat import Mat
from parts.picture.plane import Bars, Height, Plane, read_plane
from tests.picture.scene import TEXTURE, Part, disc, render

LENGTH, TAIL, HOLE, HUB = 11.0, 3.2, 0.9, 1.8
_FINE = 8
TURN = 35.0
"""How far the hand lies turned, degrees clockwise from straight up in the picture."""
PLACE = (-1.5, 2.0)
"""Where its hole lies, mm from the field's middle, x right and y down."""
BARS = {7: Bars(140.0, 140.0, 0.02)}


@dataclass
class Hand(Part):
    """A minute hand with a round hub and tail; `grey` is its face, the hole shows the paper."""

    shape: str = "sword"

    def texture(self):
        side = int(np.ceil((self.diameter + 2) * TEXTURE)) | 1
        corners = np.array(outline(self.shape, "minute", LENGTH, TAIL))
        c, s = np.cos(np.radians(TURN)), np.sin(np.radians(TURN))
        turned = np.column_stack([corners[:, 0] * c + corners[:, 1] * s, corners[:, 0] * s - corners[:, 1] * c])
        fine = np.zeros((side * _FINE, side * _FINE), np.uint8)
        places = (turned * TEXTURE + side / 2) * _FINE - 0.5
        cv2.fillPoly(fine, [np.round(places).astype(int)], 255)
        inside = cv2.resize(fine, (side, side), interpolation=cv2.INTER_AREA).astype(np.float32) / 255
        inside = np.maximum(inside, disc(side, 0.0, 0.0, HUB / 2)) * (1 - disc(side, 0.0, 0.0, HOLE / 2))
        return np.full((side, side), float(self.grey), np.float32), inside


def taken(shape="sword", **more):
    """A hand of that shape on the small mat."""
    hand = Hand(2 * LENGTH, 0.2, middle=PLACE, grey=70, shape=shape)
    return render(Mat(35), hand, **{"tilt": (4, -3), "k1": -0.05, "distance": 180.0, "seed": 5} | more)


def its_plane(picture) -> Plane:
    """The plane of that picture."""
    return read_plane(picture, bars=BARS, height=Height(0.2, 0.05))
