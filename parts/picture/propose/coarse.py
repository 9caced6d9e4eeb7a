"""The rectified picture in fewer pixels, in which what is proposed is looked for; and snapping to the edge there."""

from dataclasses import replace

import cv2

from parts.picture.edges.face import Face, Picked
from parts.picture.edges.round import Side, circle
from parts.picture.errors import PictureError
from parts.picture.plane import Plane

COARSE = 10.0
"""Pixels per mm in which circles are looked for."""


def flat(face: Face, scale: float, *, even: bool = True) -> tuple[cv2.typing.MatLike, Plane]:
    """The field near a scale, with its light evened out if wanted, and the plane of that picture."""
    straight = face.plane.rectified(face.grey) if face.straight is None else face.straight
    whole = len(straight)
    side = min(whole, 2 * round(face.plane.half * scale) + 1)
    scale = face.plane.scale * side / whole
    grey = cv2.resize(straight, (side, side), interpolation=cv2.INTER_AREA)
    plane = replace(face.plane, scale=scale, half=(side - 1) / 2 / scale)
    return cv2.createCLAHE(2.0, (4, 4)).apply(grey) if even else grey, plane


def snapped(face: Face, x: float, y: float, radius: float, reach: float, part: Side) -> Picked | None:
    try:
        return circle(face, x, y, radius, reach, part)
    except PictureError:
        return None
