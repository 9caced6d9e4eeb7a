"""Where each pick lies on its part, as a sketch: that of the dimension which comes of it."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from parts.library.kinds import KIND_OF
from parts.library.sketches import sketch_of

if TYPE_CHECKING:
    from parts.library.sketches import Sketch
    from parts.picture.subjects import Pick, Subject


@cache
def sketches_of(subject: Subject) -> list[tuple[str, Sketch]]:
    """The picks that a sketch shows, by key; what gives no dimension of its own has none."""
    sketches = ((pick.key, _sketch_of(pick, subject)) for pick in subject.picks)
    return [(key, sketch) for key, sketch in sketches if sketch]


def outlines_of(subject: Subject) -> str:
    """The template with the outlines that the sketches are drawn on."""
    return KIND_OF[subject.dimensions[0].path.partition(".")[0]].outlines if subject.dimensions else ""


def _sketch_of(pick: Pick, subject: Subject) -> Sketch | None:
    """The sketch of the last dimension that ends at the pick, else of the first that begins there."""
    ends, begins = [], []
    for dimension in subject.dimensions:
        *before, last = (need.partition(".")[0] for need in dimension.needs)
        if last == pick.key:
            ends.append(dimension.path)
        elif pick.key in before:
            begins.append(dimension.path)
    return next(filter(None, map(sketch_of, (*reversed(ends), *begins))), None)
