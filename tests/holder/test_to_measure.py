"""Which dimensions of a made piece are measured, and their limits."""

import pytest

from parts.holder.to_measure import OFF, sizes_of
from tests.holder.pieces import ring, spacer


def test_a_ring_is_measured_where_it_seats_holds_and_clears_the_stem():
    assert [size.name for size in sizes_of(ring())] == [
        "outside_diameter",
        "inside_diameter",
        "height",
        "channel_width",
        "channel_axis",
    ]
    stepped = {size.name: size.drawn for size in sizes_of(ring(flange_diameter=22.4, flange_depth=0.8))}
    assert stepped["flange_diameter"] == 22.4
    assert [size.name for size in sizes_of(spacer())] == ["outside_diameter", "inside_diameter", "thickness"]


@pytest.mark.parametrize(("process", "off"), OFF.items())
def test_the_limits_count_as_within(process, off):
    outside = sizes_of(ring(process=process))[0]
    assert (outside.least, outside.most) == (26.0 - off, 26.0 + off)
    assert [outside.holds(26.0 + step) for step in (-off - 0.01, -off, 0.0, off, off + 0.01)] == [
        False,
        True,
        True,
        True,
        False,
    ]
