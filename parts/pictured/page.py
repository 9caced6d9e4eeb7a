"""What the page of a picture shows: the picture with its picks, what to pick next, and the numbers that come of it."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, sin
from typing import TYPE_CHECKING, Any

from parts.fit.records import describe
from parts.picture.subjects import BOX, CIRCLE, OUTLINE, SUBJECTS
from parts.pictured.colours import colour_words
from parts.pictured.picking import key_of, points_wanted
from parts.pictured.reading import plane_of
from parts.pictured.using import lines_of

if TYPE_CHECKING:
    from parts.models import PartPicture

_POINT_WORDS = {
    CIRCLE: ("its middle", "its edge"),
    BOX: ("first corner", "second corner", "third corner", "fourth corner"),
}


@dataclass(frozen=True)
class Asked:
    """Something to pick, its state ("in", "proposed", "open") and how well it fits, with the words of each point."""

    key: str
    label: str
    how: str
    state: str
    fit: str
    optional: bool
    points: tuple[str, ...]
    is_outline: bool


def picture_context(picture: PartPicture) -> dict[str, Any]:
    """The context of the page of a picture that was read."""
    asked = [_asked(pick, picture) for pick in SUBJECTS[picture.subject].picks]
    open_now = [line for line in asked if line.state == "open"]
    must = [line for line in open_now if not line.optional]
    plane = plane_of(picture)
    half = (plane.side / plane.scale) / 2
    return {
        "subject": SUBJECTS[picture.subject],
        "asked": asked,
        "next": next(iter(must or open_now), None),
        "proposals": [line for line in asked if line.state == "proposed"],
        "shapes": [_shape(pick) for pick in picture.picks],
        "outlines": _outlines(picture),
        "half": half,
        "whole": 2 * half,
        "scale": plane.scale,
        "lines": [(describe(line.path).phrase, line) for line in lines_of(picture)],
        "colours": colour_words(picture),
        "tilt": plane.camera.tilt,
        "distance": plane.camera.distance,
    }


def _asked(pick, picture):
    there = [each for each in picture.picks if key_of(each) == pick.key]
    state = "open" if not there else "proposed" if any(each["proposed"] for each in there) else "in"
    fits = [each["fit"] for each in there if each["fit"]]
    count = points_wanted(pick)
    words = _POINT_WORDS.get(pick.kind) or (
        ("the place",) if count == 1 else tuple(f"place {i + 1}" for i in range(count))
    )
    fit = f"edge within {max(fits):.3f} mm of its shape" if fits else ""
    return Asked(pick.key, pick.label, pick.how, state, fit, pick.optional, words, pick.kind == OUTLINE)


def _outlines(picture):
    """The places of each outline that was picked, mm on the face."""
    keys = [pick.key for pick in SUBJECTS[picture.subject].picks if pick.kind == OUTLINE]
    drawn = ([pick["values"] for pick in picture.picks if key_of(pick) == key] for key in keys)
    return [places for places in drawn if places]


def _shape(pick):
    """What is drawn for a pick, in mm on the face."""
    values = pick["values"]
    shape = {"key": pick["key"], "proposed": pick["proposed"], "x": values[0], "y": values[1]}
    if len(values) == 2:
        return shape | {"kind": "place"}
    if "." in pick["key"]:
        dx, dy = 0.9 * cos(values[2]), 0.9 * sin(values[2])
        ends = {"x1": values[0] - dx, "y1": values[1] - dy, "x2": values[0] + dx, "y2": values[1] + dy}
        return shape | {"kind": "edge"} | ends
    return shape | {"kind": "circle", "r": values[2]}
