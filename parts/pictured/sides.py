"""Front and back of one dial held against each other: what both pictures see, and 12 o'clock for a back without one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts.models import PartPicture
from parts.picture.subjects import (
    DIAL_BACK,
    DIAL_FRONT,
    LANDMARKS,
    SUBJECTS,
    angle_from_twelve,
    feet_by_landmark,
    readings,
)
from parts.pictured.reading import accepted, plane_of

if TYPE_CHECKING:
    from parts.picture.reading import Reading

_OTHER = {DIAL_FRONT.key: DIAL_BACK.key, DIAL_BACK.key: DIAL_FRONT.key}


def other_side(picture: PartPicture) -> PartPicture | None:
    """The newest picture of the same dial's other side on which something was picked; None where there is none."""
    if picture.subject not in _OTHER:
        return None
    same = PartPicture.objects.in_drawers().filter(dial=picture.dial, subject=_OTHER[picture.subject], fault="")
    return next((each for each in same.exclude(flat="").order_by("-pk") if accepted(each)), None)


def readings_of(picture: PartPicture, other: PartPicture | None = None) -> dict[str, Reading]:
    """What the accepted picks of a picture give, by path; `other` is the dial's other side, None for none.

    A picture from behind without 12 o'clock takes it from the front.
    """
    subject, plane, picked = SUBJECTS[picture.subject], plane_of(picture), accepted(picture)
    by_path = readings(plane, subject, picked)
    if other and (landmark := twelve_by(picture, other)):
        by_path |= feet_by_landmark(plane, picked, landmark, _angle(other, landmark))
    return {dimension.path: by_path[dimension.path] for dimension in subject.dimensions if dimension.path in by_path}


def twelve_by(picture: PartPicture, other: PartPicture) -> str | None:
    """The landmark by which a picture from behind without 12 o'clock takes it from the front; None for none."""
    picked = accepted(picture)
    if picture.subject != DIAL_BACK.key or "twelve.0" in picked:
        return None
    shown = (key for key, needs in LANDMARKS.items() if all(need in picked for need in ("hole", *needs)))
    return next((key for key in shown if _angle(other, key)), None)


def notch_angles(picture: PartPicture, other: PartPicture) -> tuple[Reading, Reading] | None:
    """Where the notch lies from 12 o'clock in this picture and in the other; None where one lacks it."""
    here, there = _angle(picture, "notch"), _angle(other, "notch")
    return (here, there) if here and there else None


def _angle(picture, landmark):
    return angle_from_twelve(plane_of(picture), SUBJECTS[picture.subject], accepted(picture), landmark)
