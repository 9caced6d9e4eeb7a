"""Holders as an outside slicer cuts them: outlines within 0.01 mm, heights as the findings say that they print."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, dwithin, get_coordinates, points, prepare

from parts.holder.coupon import coupon
from parts.holder.layers import printed
from parts.holder.mesh import for_printing, level, mesh_of, solid_of
from parts.holder.parameters import FootNotch, Made
from tests.holder.pieces import ring, rings, spacer, spacers
from tests.holder.slicer import sliced
from tests.holder.test_outlines import SHAPES, outlined
from tests.holder.test_standing import FRONT, LEDGE, proposed

PIECES = {name: outlined(shape) for name, shape in SHAPES.items()} | {
    "lip and tabs": ring(lip_reach=0.5, lip_height=0.8, tab_count=3.0, nub_count=0.0),
    "tongues": ring(held_by="tongues", tongue_length=6.0, flange_diameter=22.7, flange_depth=0.8),
    "split": ring(split_width=1.0, split_angle=200.0),
    "notch to both edges": spacer(
        outside_diameter=19.7, inside_diameter=17.5, thickness=1.0, notches=(FootNotch(0.0, 9.25, 1.2),)
    ),
    "with words": ring(mark_words="12", mark_depth=0.4, inside_diameter=19.0, nub_count=0.0),
}
STANDING = {"on the floor": FRONT, "on a ledge": LEDGE}
LAYERS = [(0.2, 0.2), (0.15, 0.2)]


def area_at(solid, z):
    """What the piece covers at a height: what is inside an odd number of its outlines."""
    area = Polygon()
    for outline in level(solid, z):
        area = area.symmetric_difference(Polygon(outline).buffer(0))
    return area


def lie_within(distance, one, other):
    """Whether every corner of either outline lies so near to the other, mm."""
    for line in (one, other):
        prepare(line)
    pairs = (one, other), (other, one)
    return all(dwithin(line, points(get_coordinates(corners)), distance).all() for corners, line in pairs)


def printed_height(solid, layer, first):
    """How high the slicer's layers are together, mm, after holding each against the piece's own cut at its middle.

    A middle at which the piece itself changes, such as just over a round channel, says nothing of the slicer.
    """
    layers = sliced(for_printing(mesh_of(solid), upside_down=False), layer=layer, first=first)
    bottom, compared = solid.bounding_box()[2], 0
    for number, area in enumerate(layers):
        middle = bottom + (first / 2 if number == 0 else first + (number - 0.5) * layer)
        below, ours, above = (area_at(solid, middle + step) for step in (-0.001, 0.0, 0.001))
        if not above.is_empty and lie_within(0.005, below.boundary, above.boundary):
            compared += 1
            assert lie_within(0.01, area.boundary, ours.boundary), f"layer {number}, {middle:.3f} mm up"
    assert compared >= len(layers) / 2
    return first + (len(layers) - 1) * layer


def height_of(solid):
    """From the plate to its highest point, mm."""
    box = solid.bounding_box()
    return box[5] - box[2]


@pytest.mark.parametrize(("layer", "first"), [(0.15, 0.15), (0.15, 0.20), (0.2, 0.2)])
@pytest.mark.parametrize("thickness", [0.40, 0.95, 1.02, 1.26])
def test_a_spacer_is_sliced_into_the_height_that_is_said(thickness, layer, first):
    piece = spacer(thickness=thickness, layer=layer, first_layer=first)
    assert printed_height(solid_of(piece), layer, first) == pytest.approx(printed(thickness, piece))


@pytest.mark.parametrize(("layer", "first"), LAYERS)
@pytest.mark.parametrize("name", [*PIECES, *STANDING, "coupon"])
def test_every_construction_is_sliced_into_its_own_cuts(name, layer, first):
    made = Made(layer=layer, first_layer=first)
    if name == "coupon":
        solid = coupon(made)
    else:
        solid = solid_of(proposed(STANDING[name])[1] if name in STANDING else PIECES[name])
    assert printed_height(solid, layer, first) == pytest.approx(printed(height_of(solid), made))


@settings(max_examples=6)
@given(piece=st.one_of(rings(), spacers()), layers=st.sampled_from(LAYERS))
def test_any_piece_is_sliced_into_its_own_cuts(piece, layers):
    printed_height(solid_of(piece), *layers)


@pytest.mark.long
@settings(max_examples=60)
@given(piece=st.one_of(rings(), spacers()), layers=st.sampled_from(LAYERS))
def test_hundreds_of_pieces_are_sliced_into_their_own_cuts(piece, layers):
    printed_height(solid_of(piece), *layers)
