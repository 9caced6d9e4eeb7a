"""Which dimensions of a made piece are measured, and their limits."""

import pytest

from parts.fit.arithmetic.outlines import Outline
from parts.holder.parameters.to_measure import LEAST_OFF, sizes_of
from tests.holder.pieces import ring, spacer


def drawn(piece):
    return {size.name: size.drawn for size in sizes_of(piece)}


def test_a_ring_is_measured_where_it_seats_holds_and_clears_the_stem():
    assert drawn(ring()) == {
        "outside_diameter": 26.0,
        "inside_diameter": 22.0,
        "channel_width": 1.6,
        "height": 3.6,
        "channel_axis": 1.6,
    }
    assert drawn(ring(flange_diameter=22.4, flange_depth=0.8))["flange_diameter"] == 22.4
    assert list(drawn(spacer())) == ["outside_diameter", "inside_diameter", "thickness"]


def test_an_edge_that_is_not_round_is_measured_both_ways_through_its_middle():
    outline = Outline("rectangle", 24.0, 30.0, 2.0)
    piece = ring(outside_diameter=0.0, outside_outline=outline, inside_diameter=20.0, chamfer=0.0)
    sizes = drawn(piece)
    assert "outside_diameter" not in sizes
    assert (sizes["outside_9_to_3"], sizes["outside_12_to_6"]) == pytest.approx((24.0, 30.0))
    assert sizes_of(piece)[1].label == "outside, from 9 to 3 o'clock"


def test_widths_and_heights_are_as_true_as_the_piece_is_drawn_for():
    sizes = {size.name: size.off for size in sizes_of(ring(plus_minus=0.07, heights_plus_minus=0.12))}
    assert (sizes["outside_diameter"], sizes["height"], sizes["channel_axis"]) == (0.07, 0.12, 0.12)
    assert {size.off for size in sizes_of(ring())} == {LEAST_OFF}


def test_the_limits_count_as_within():
    outside = sizes_of(ring(plus_minus=0.1))[0]
    measured = (25.89, 25.9, 26.0, 26.1, 26.11)
    assert [outside.holds(size) for size in measured] == [False, True, True, True, False]
