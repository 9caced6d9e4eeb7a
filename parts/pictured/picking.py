"""What a person points at in a picture, snapped to the edge that is there."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from parts.picture.edges.round import circle
from parts.picture.edges.straight import box, line
from parts.picture.errors import PictureError
from parts.picture.subjects import BOX, CIRCLE, MOST_OF_OUTLINE, OUTLINE, SUBJECTS
from parts.pictured.reading import POINTED, as_pick, face_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from parts.models import PartPicture
    from parts.picture.subjects import Pick

_REACH, _REACH_SHARE = 0.25, 0.03
"""How far from where it was pointed at an edge is looked for, mm, or as a share of a circle's radius; the larger."""


def points_wanted(pick: Pick) -> int:
    """How many points a person gives for a pick: middle and edge of a circle, corners of a box, least of an outline."""
    return {CIRCLE: 2, BOX: 4}.get(pick.kind, pick.least)


def put_pick(picture: PartPicture, key: str, points: Sequence[tuple[float, float]]) -> None:
    """Put what was pointed at (mm on the face) into the picture's picks, in place of what stood there.

    Raises PictureError where there is no edge, KeyError for what is not asked for.
    """
    pick = next(pick for pick in SUBJECTS[picture.subject].picks if pick.key == key)
    if pick.kind == OUTLINE:
        if not pick.least <= len(points) <= MOST_OF_OUTLINE:
            raise PictureError(
                f"{pick.label}: {len(points)} places; an outline takes {pick.least} to {MOST_OF_OUTLINE}.",
                "Pick them once round.",
            )
    elif len(points) != points_wanted(pick):
        raise PictureError(f"{pick.label} takes {points_wanted(pick)} points.", "Pick them again.")
    face = face_of(picture)
    if pick.kind == CIRCLE:
        (x, y), (ex, ey) = points
        radius = ((ex - x) ** 2 + (ey - y) ** 2) ** 0.5
        if radius < 0.05:
            raise PictureError("The two points lie on one place.", "Point at the middle first, then at the edge.")
        seen = circle(face, x, y, radius, max(_REACH, _REACH_SHARE * radius), pick.part or "inside")
        picked = [as_pick(key, face.raised(seen, pick.rises))]
    elif pick.kind == BOX:
        if pick.part:
            edges = box(face, points, _REACH)
        else:
            edges = [line(face, points[i], points[(i + 1) % 4], _REACH) for i in range(4)]
        picked = [as_pick(f"{key}.{i}", edge) for i, edge in enumerate(edges)]
    else:
        picked = [as_pick(f"{key}.{i}", face.point(x, y, POINTED)) for i, (x, y) in enumerate(points)]
    drop_pick(picture, key)
    picture.picks = [*picture.picks, *picked]


def drop_pick(picture: PartPicture, key: str) -> None:
    """Take a pick back."""
    picture.picks = [pick for pick in picture.picks if key_of(pick) != key]


def accept_proposals(picture: PartPicture) -> None:
    """Take what the program proposed as if it were picked."""
    picture.picks = [pick | {"proposed": False} for pick in picture.picks]


def key_of(pick: dict[str, Any]) -> str:
    """What was asked for, of a kept pick: "window" of "window.2", which is one of its edges."""
    head, dot, number = pick["key"].rpartition(".")
    return head if dot and number.isdecimal() else pick["key"]
