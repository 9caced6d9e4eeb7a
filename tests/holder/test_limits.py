"""Boundary rows of the holder's and the spacer's findings: each limit by its number, an edge for the better."""

import pytest

from parts.holder.findings.design import work_out
from tests.holder.pieces import around, ring, spacer

A_HAIR = 0.004
BORE, FIT, THREAD, BACK_ROOM = 26.2, 22.0, 0.9, 3.7
SEAT, OPENING, DIAL = 28.9, 27.0, 28.8


def wide_spacer(**changes):
    return spacer(outside_diameter=29.5, **changes)


def layered(height):
    """A ring that prints as 3.60 mm whatever is drawn near to it."""
    return ring(height=height, layer=0.2, first_layer=0.2)


# finding, piece made so that the finding's value is v, [(edge, verdict just below, at the edge, just above)]
ROWS = [
    ("bore-room", lambda v: ring(outside_diameter=BORE - v), (0.0, "no", "work", "work")),
    ("bore-room", lambda v: ring(outside_diameter=BORE - v), (0.05, "work", "fits", "fits")),
    ("bore-room", lambda v: ring(outside_diameter=BORE - v), (0.40, "fits", "fits", "work")),
    ("movement-room", lambda v: ring(inside_diameter=FIT + v), (-0.10, "no", "work", "work")),
    ("movement-room", lambda v: ring(inside_diameter=FIT + v), (0.0, "work", "fits", "fits")),
    ("movement-room", lambda v: ring(inside_diameter=FIT + v), (0.15, "fits", "fits", "work")),
    ("stem-room", lambda v: ring(channel_width=THREAD + 2 * v), (0.0, "no", "work", "work")),
    ("stem-room", lambda v: ring(channel_width=THREAD + 2 * v), (0.10, "work", "fits", "fits")),
    ("ring-gap", lambda v: ring(height=BACK_ROOM - v, nub_count=0.0), (0.0, "no", "work", "work")),
    ("ring-gap", lambda v: ring(height=BACK_ROOM - v, nub_count=0.0), (0.05, "work", "fits", "fits")),
    ("printed-height", lambda v: layered(3.6 - v), (-0.02, "work", "fits", "fits")),
    ("printed-height", lambda v: layered(3.6 - v), (0.02, "fits", "fits", "work")),
    ("nub-press", lambda v: ring(nub_height=0.1 + v), (0.02, "work", "fits", "fits")),
    ("nub-press", lambda v: ring(nub_height=0.1 + v), (0.12, "fits", "fits", "work")),
    ("nub-press", lambda v: ring(nub_height=0.1 + v), (0.30, "work", "work", "no")),
    (
        "dial-support",
        lambda v: wide_spacer(inside_diameter=DIAL - 2 * v),
        (0.10, "no", "work", "work"),
    ),
    (
        "dial-support",
        lambda v: wide_spacer(inside_diameter=DIAL - 2 * v),
        (0.20, "work", "fits", "fits"),
    ),
    ("seat-room", lambda v: spacer(outside_diameter=SEAT - v), (0.0, "no", "fits", "fits")),
    ("seat-room", lambda v: spacer(outside_diameter=SEAT - v), (0.30, "fits", "fits", "work")),
    (
        "opening-room",
        lambda v: wide_spacer(inside_diameter=OPENING + v),
        (0.0, "work", "fits", "fits"),
    ),
    ("spacer-thickness", lambda v: spacer(thickness=0.4 + v), (-0.02, "work", "fits", "fits")),
    ("spacer-thickness", lambda v: spacer(thickness=0.4 + v), (0.02, "fits", "fits", "work")),
]


def stands(key):
    """What stands round the piece: a spacer of 0.40 mm in front of the dial for the spacer's own findings."""
    in_front = key in ("dial-support", "seat-room", "opening-room", "spacer-thickness")
    changes = {"case.dial_seat_diameter": SEAT, "case.dial_opening_diameter": OPENING, "dial.diameter": DIAL}
    changes |= {"case.back_depth": 4.1, "dial.thickness": 0.4, "movement.stem_thread": THREAD}
    if in_front:
        changes |= {"case.stem_axis_depth": 2.4, "spacer.placement": "front", "case.back_depth": 5.0}
    return around(changes)


def finding(piece, key):
    return next(item for item in work_out(piece, stands(key)).findings if item.key == key)


@pytest.mark.parametrize(("key", "make", "row"), ROWS, ids=[f"{key} {row[0]}" for key, _, row in ROWS])
def test_each_limit_stands_where_it_is_said_to_stand(key, make, row):
    edge, *wanted = row
    items = [finding(make(edge + step), key) for step in (-A_HAIR, 0.0, A_HAIR)]
    assert [item.value.value for item in items] == pytest.approx([edge - A_HAIR, edge, edge + A_HAIR], abs=1e-9)
    assert [str(item.verdict) for item in items] == wanted
