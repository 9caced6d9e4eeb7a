"""One ring and one spacer with invented sizes, and random ones; each test changes what it is about."""

from hypothesis import strategies as st

from parts.fit import check_sheet
from parts.holder.parameters import CutOut, FootNotch, Key, Ring, Spacer
from parts.holder.surroundings import surroundings
from tests.fit.sheets import sheet

RING = {
    "outside_diameter": 26.0,
    "inside_diameter": 22.0,
    "height": 3.6,
    "channel_angle": 90.0,
    "channel_width": 1.6,
    "channel_axis": 1.6,
    "plus_minus": 0.0,
    "heights_plus_minus": 0.0,
    "nub_angle": 150.0,
    "held_by": "clamps",
    "clamp_count": 3.0,
    "layer": 0.0005,
    "first_layer": 0.0005,
}
"""In layers so thin that every height comes out as drawn."""
SPACER = {"outside_diameter": 25.8, "inside_diameter": 21.0, "thickness": 0.4, "plus_minus": 0.0}
SPACER |= {"heights_plus_minus": 0.0, "layer": 0.0005, "first_layer": 0.0005}
AROUND = {"movement.fit_diameter": 22.0, "movement.overall_diameter": 22.0, "movement.date": None, "dial.feet": []}


def ring(**changes):
    return Ring(**RING | changes)


def spacer(**changes):
    return Spacer(**SPACER | changes)


def around(changes=None):
    """What stands round the ring of RING."""
    return surroundings(check_sheet(sheet(AROUND | {"case.bore_diameter": 26.2} | (changes or {}))))


@st.composite
def rings(draw):
    """Valid rings with every feature, such as a person may type."""

    def size(low, high):
        return round(draw(st.floats(low, high)), 2)

    inside, wall, height = size(12.0, 32.0), size(1.0, 4.0), size(2.0, 6.0)
    chamfer = draw(st.sampled_from([0.0, 0.1, 0.2]))
    flange = draw(st.booleans())
    cutouts = [CutOut(size(0, 360), size(0.5, 3), size(0.1, wall * 0.7), 0.0, size(0.3, height)) for _ in range(2)]
    keys = [Key(size(0, 360), size(0.5, 3), size(0.2, 0.8) * draw(st.sampled_from([1, -1])), 0.5, size(0.8, height))]
    return Ring(
        outside_diameter=inside + 2 * wall,
        inside_diameter=inside,
        height=height,
        chamfer=chamfer,
        flange_diameter=round(inside + 0.3, 2) if flange else 0.0,
        flange_depth=size(0.4, height * 0.6) if flange else 0.0,
        channel_angle=size(0, 360),
        channel_width=size(0.8, 2.5),
        channel_axis=size(0.3, height - 0.3),
        channel_open=draw(st.sampled_from(["dial", "back", "closed"])),
        nub_count=float(draw(st.integers(0, 6))),
        nub_diameter=size(0.4, 1.5),
        nub_height=size(0.05, 0.4),
        nub_angle=size(0, 360),
        notch_angle=size(0, 360),
        notch_width=draw(st.sampled_from([0.0, 3.0])),
        notch_depth=round(wall * 0.4, 2),
        notch_height=size(0.3, height * 0.4),
        lip=draw(st.sampled_from([0.0, 0.2])),
        cutouts=tuple(cutouts[: draw(st.integers(0, 2))]),
        keys=tuple(keys[: draw(st.integers(0, 1))]),
    )


@st.composite
def spacers(draw):
    """Valid spacers with notches and at times a split."""

    def size(low, high):
        return round(draw(st.floats(low, high)), 2)

    inside, wall = size(8.0, 30.0), size(0.8, 4.0)
    outside = round(inside + 2 * wall, 2)
    notches = [FootNotch(size(0, 360), size(inside / 2, outside / 2), size(0.5, 1.5)) for _ in range(2)]
    return Spacer(
        outside_diameter=outside,
        inside_diameter=inside,
        thickness=size(0.1, 2.0),
        split_width=draw(st.sampled_from([0.0, 1.0])),
        split_angle=size(0, 360),
        notches=tuple(notches[: draw(st.integers(0, 2))]),
    )
