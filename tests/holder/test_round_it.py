"""What is indicated round a piece in the 3D view stands where the section draws it."""

import pytest

from parts.holder.drawings import ghosts
from parts.holder.drawings.round_it import base_of
from tests.holder.pieces import around, ring, spacer


def test_movement_dial_and_bore_in_the_bodys_frame():
    stands = around()
    shown = {item["name"]: item for item in ghosts(ring(), stands)}
    assert set(shown) == {"movement", "dial", "bore"}
    assert shown["movement"]["heights"] == [0.0, stands.back_height.value]
    assert shown["dial"]["heights"] == [-stands.dial_thickness.value, 0.0]
    assert shown["bore"]["heights"][1] == pytest.approx(stands.back_room.value)
    for name, radius in (("movement", 11.0), ("bore", 13.1)):
        assert all((x**2 + y**2) ** 0.5 == pytest.approx(radius, abs=0.01) for x, y in shown[name]["points"])


def test_a_ring_that_starts_deeper_has_everything_nearer_to_the_dial():
    stands = around()
    shown = {item["name"]: item for item in ghosts(ring(start=0.5), stands)}
    assert shown["movement"]["heights"][0] == -0.5


def test_a_spacer_in_front_of_the_dial_lies_before_it():
    stands = around({"spacer.placement": "front"})
    piece = spacer()
    assert base_of(piece, stands) == pytest.approx(-0.4 - stands.dial_thickness.value)
    assert all(item["heights"][0] >= 0 for item in ghosts(piece, stands))
