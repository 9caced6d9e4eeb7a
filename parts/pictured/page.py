"""What the page of a picture shows: the picture with its picks, what to pick next, and the numbers that come of it."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, sin
from typing import TYPE_CHECKING, Any

from parts.fit.records import describe
from parts.picture.subjects import BOX, CIRCLE, DIAL_BACK, OUTLINE, RAISED, SUBJECTS
from parts.pictured.colours import colour_words
from parts.pictured.picking import key_of, points_wanted
from parts.pictured.reading import plane_of
from parts.pictured.sides import notch_angles, other_side, twelve_by
from parts.pictured.sketches import outlines_of, sketches_of
from parts.pictured.using import lines_of, show_reading

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
    other = other_side(picture)
    landmark = twelve_by(picture, other) if other else None
    asked = _asked_of(picture, given={"twelve"} if landmark else set())
    open_now = [line for line in asked if line.state == "open"]
    must = [line for line in open_now if not line.optional]
    plane, subject = plane_of(picture), SUBJECTS[picture.subject]
    half = (plane.side / plane.scale) / 2
    return {
        "subject": subject,
        "sketches": sketches_of(subject),
        "drawn_on": outlines_of(subject),
        "asked": asked,
        "next": next(iter(must or open_now), None),
        "proposals": [line for line in asked if line.state == "proposed"],
        "shapes": [_shape(pick) for pick in picture.picks],
        "outlines": _outlines(picture),
        "half": half,
        "whole": 2 * half,
        "scale": plane.scale,
        "other": other,
        "landmark": landmark,
        "notch": _notch(picture, other),
        "from_behind": picture.subject == DIAL_BACK.key,
        "lines": [(describe(line.path).phrase, line) for line in lines_of(picture)],
        "colours": colour_words(picture),
        "tilt": plane.camera.tilt,
        "distance": plane.camera.distance,
    }


def _asked_of(picture, given):
    """What to pick; `given` are the keys of what another picture tells. Of raised markers no more than one is open."""
    rows = picture.dial.furniture.all() if picture.dial else ()
    names = {key: row.name for key, row in zip(RAISED, rows, strict=False) if row.name}
    asked, more = [], True
    for pick in SUBJECTS[picture.subject].picks:
        line = _asked(pick, picture, names.get(pick.key, pick.label), pick.optional or pick.key in given)
        another = pick.key in RAISED and pick.key not in names and line.state == "open"
        if more or not another:
            asked.append(line)
        more = more and not another
    return asked


def _asked(pick, picture, label, optional):
    there = [each for each in picture.picks if key_of(each) == pick.key]
    state = "open" if not there else "proposed" if any(each["proposed"] for each in there) else "in"
    fits = [each["fit"] for each in there if each["fit"]]
    count = points_wanted(pick)
    words = (
        pick.places
        or _POINT_WORDS.get(pick.kind)
        or (("the place",) if count == 1 else tuple(f"place {i + 1}" for i in range(count)))
    )
    fit = f"edge within {max(fits):.3f} mm of its shape" if fits else ""
    return Asked(pick.key, label, pick.how, state, fit, optional, words, pick.kind == OUTLINE)


def _notch(picture, other):
    """What a dial's two pictures say of its notch, in words; None where one of them does not show it."""
    angles = notch_angles(picture, other) if other else None
    if angles is None:
        return None
    here, there = angles
    shown = [show_reading(angle, "deg") for angle in angles]
    return {"here": shown[0], "there": shown[1], "agrees": here.agrees(there, degrees=True)}


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
