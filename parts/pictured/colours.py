"""The colour difference of two spots that were picked on one picture."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from PIL import Image

from parts.picture.colour import difference, in_words, lab_of, spot
from parts.picture.subjects import COLOURS
from parts.pictured.picking import key_of
from parts.pictured.reading import plane_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from parts.models import PartPicture
    from parts.picture.camera import Array
    from parts.picture.plane import Plane

_SPOT = 0.25
"""Radius of a spot whose colour counts, mm; common practice, no source."""
_CORNER = 2.0
"""From the field's corner to the bare paper that counts as white, mm."""


def colour_words(picture: PartPicture) -> str:
    """The colour difference of the two picked spots in a sentence; empty while not both are picked."""
    places = {key_of(pick): pick["values"] for pick in picture.picks}
    if not set(COLOURS) <= places.keys():
        return ""
    if picture.scanner_id:
        return "A scan shows no bare mat to take for white. Take a picture on a mat to compare colours."
    plane = plane_of(picture)
    with picture.flat.open("rb") as file, Image.open(file) as opened:
        pixels = np.asarray(opened.convert("RGB"))
    first, second = (_seen(pixels, plane, places[key], _SPOT) for key in COLOURS)
    reach = plane.half - _CORNER
    corners = [_seen(pixels, plane, (x, y), 1.0) for x in (-reach, reach) for y in (-reach, reach)]
    white = [corner for corner in corners if corner is not None]
    if first is None or second is None or not white:
        return "A spot is burnt out or black: its colour cannot be told. Pick another place, or give softer light."
    paper = np.median(white, axis=0)
    value = difference(lab_of(first, paper), lab_of(second, paper))
    return f"Colour difference {value:.1f} (CIEDE2000): {in_words(value)}."


def _seen(pixels: NDArray[np.uint8], plane: Plane, place: Sequence[float], radius: float) -> Array | None:
    """The colour within `radius` mm of a place on the face."""
    x, y = plane.to_pixels(np.array(place))
    return spot(pixels, float(x), float(y), radius * plane.scale)
