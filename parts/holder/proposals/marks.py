"""The marks that are proposed: a groove at 12 o'clock in the dial side, and words in the back where letters print."""

from math import ceil

from parts.fit.arithmetic.outlines import Outline
from parts.holder.edges import apart, narrowest_land, radius_at
from parts.holder.letters import STROKE, length_of
from parts.holder.parameters import Made
from parts.holder.process import finest_groove
from parts.holder.proposals.proposed import Proposed

BESIDE = 0.2
"""Least land left on both sides of the words, mm; common practice, no source."""
ROUND_MARK = 20.0
"""Degrees to both sides of the mark at 12 o'clock that channel and split keep out of; common practice, no source."""
_STEP = 5


def marks(inside: Outline, outside: Outline, ring: dict[str, Proposed], made: Made, words: str) -> dict[str, Proposed]:
    """The groove, and the words where they have a place."""
    if made.process == "turned":
        return {"mark_words": Proposed("", "words are not turned")}
    proposed = {}
    channel = ring["channel_angle"].value
    if channel is not None and apart(channel, 0.0) > ROUND_MARK:
        width = max(0.5, finest_groove(made) + 0.1)
        proposed["mark_width"] = Proposed(width, "shows the dial side and 12 o'clock")
    if not words:
        return proposed
    size = ceil(finest_groove(made) / STROKE * 10 - 1e-9) / 10
    angle = _place(inside, outside, ring, words, size)
    if angle is None:
        return proposed | {
            "mark_words": Proposed("", f"no place on the back for letters that print, {size:.1f} mm high")
        }
    return proposed | {
        "mark_words": Proposed(words, "what it is made for"),
        "mark_size": Proposed(size, "the smallest letters that print"),
        "mark_angle": Proposed(angle, "where the land is wide enough"),
    }


def _place(inside: Outline, outside: Outline, ring: dict[str, Proposed], words: str, size: float) -> float | None:
    """The middle of a stretch of the back that is wide enough all along, clear of channel, nubs, notch and cut-outs."""
    chamfer, count = ring["chamfer"].value, int(ring["nub_count"].value)
    taken = [ring["channel_angle"].value or 0.0, *(cut.angle for cut in ring["cutouts"].value)]
    taken += [ring["nub_angle"].value + 360 * i / count for i in range(count)]
    taken += [ring["notch_angle"].value] if "notch_width" in ring else []
    for middle in (180.0, *(float(angle) for angle in range(0, 360, _STEP))):
        radius = (radius_at(inside, middle) + radius_at(outside, middle)) / 2
        half = (length_of(words, size) / 2 + 1.0) / radius * 57.3
        if any(apart(middle, angle) < half + 5 for angle in taken):
            continue
        if narrowest_land(inside, outside, middle, half) >= size + 2 * (BESIDE + chamfer):
            return middle
    return None
