"""Heights in whole layers: what an outside slicer made of them, and what is said and proposed because of it."""

from dataclasses import replace
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from parts.fit import check_sheet
from parts.holder.coupon import PLAYS, coupon, heights
from parts.holder.layers import even_layers, printed, whole_below
from parts.holder.mesh import level, mesh_of, solid_of
from parts.holder.parameters import Made, from_plain
from parts.holder.proposals import propose
from parts.holder.surroundings import surroundings
from tests.fit.sheets import sheet
from tests.holder.pieces import AROUND, around, ring, spacer
from tests.holder.test_findings import found


@pytest.mark.parametrize(
    ("height", "layer", "first", "comes_out"),
    [
        (1.02, 0.15, 0.15, 1.05),  # seen in an outside slicer
        (1.02, 0.15, 0.20, 0.95),  # seen in an outside slicer
        (4.35, 0.20, 0.20, 4.40),  # seen in an outside slicer
        (0.05, 0.15, 0.20, 0.20),
        (0.30, 0.15, 0.15, 0.30),
        (0.374, 0.15, 0.15, 0.30),
        (0.376, 0.15, 0.15, 0.45),
        (3.50, 0.20, 0.20, 3.60),  # halfway, seen in an outside slicer
        (3.299999997, 0.20, 0.20, 3.40),  # as a mesh has 3.30, seen in an outside slicer
    ],
)
def test_a_height_comes_out_as_a_slicer_makes_it(height, layer, first, comes_out):
    assert printed(height, Made(layer=layer, first_layer=first)) == pytest.approx(comes_out)


def test_resin_goes_in_thin_layers_and_turning_in_none():
    assert printed(1.02, Made(process="resin")) == pytest.approx(1.0)
    assert printed(1.02, Made(process="turned")) == 1.02


@given(height=st.floats(0.3, 8), layer=st.floats(0.05, 0.3), first=st.floats(0.1, 0.3))
def test_a_height_of_whole_layers_comes_out_as_it_is_drawn(height, layer, first):
    made = Made(layer=layer, first_layer=first)
    whole = whole_below(height, made)
    assert whole <= max(height, first) + 1e-6
    assert printed(whole, made) == pytest.approx(whole, abs=1e-5)
    assert abs(printed(height, made) - height) <= max(layer / 2, first - height) + 1e-5


@given(thickness=st.floats(0.05, 3))
def test_even_layers_make_a_thickness_exactly(thickness):
    count, layer = even_layers(thickness, Made())
    assert count * layer == pytest.approx(thickness)
    assert 0.05 - 1e-9 <= layer <= 0.3 + 1e-9
    assert printed(thickness, Made(layer=layer, first_layer=layer)) == pytest.approx(thickness, abs=1e-5)


def test_what_is_thinner_than_a_layer_can_be_is_cut_or_turned():
    assert even_layers(0.049, Made()) is None
    proposals = propose("spacer", replace(around(), spacer=0.04))
    assert proposals["process"].value == "turned"


def test_a_spacer_is_proposed_in_layers_that_make_it():
    proposals = propose("spacer", replace(around(), spacer=1.02))
    assert proposals["layer"].value == proposals["first_layer"].value == pytest.approx(1.02 / 7, abs=1e-6)
    assert proposals["layer"].note == "7 even layers make 1.02 mm"


def test_a_spacer_that_prints_otherwise_says_as_what_and_how_it_would_come_out():
    piece = spacer(thickness=1.02, layer=0.15, first_layer=0.15)
    told = found(piece, replace(around(), spacer=1.02))["spacer-thickness"]
    assert str(told.verdict) == "work"
    assert told.sentence == (
        "In layers of 0.15 mm the spacer prints as 1.05 mm, 0.03 mm thicker than the fit check asks for."
    )
    assert [remedy.text for remedy in told.remedies] == [
        "Print it in 7 layers of 0.146 mm, the first one too, or print it thicker and lap it to 1.02 mm.",
        "Print it 0.90 mm, and lay shim of 0.12 mm with it.",
        "Have it turned, or printed in resin.",
    ]


def test_a_spacer_thinner_than_its_first_layer_has_no_print_to_lay_shim_with():
    piece = spacer(thickness=0.12, layer=0.15, first_layer=0.2, process="resin")
    filament = found(replace(piece, process="filament"), replace(around(), spacer=0.12))["spacer-thickness"]
    assert [remedy.text for remedy in filament.remedies] == [
        "Print it in one layer of 0.120 mm, or print it thicker and lap it to 0.12 mm.",
        "Have it turned, or printed in resin.",
    ]
    resin = found(replace(piece, thickness=0.128), replace(around(), spacer=0.128))["spacer-thickness"]
    assert [remedy.text for remedy in resin.remedies][1:] == [
        "Print it 0.10 mm, and lay shim of 0.03 mm with it.",
        "Have it turned.",
    ]


def test_a_ring_says_as_what_it_prints():
    told = found(ring(layer=0.2, first_layer=0.2, height=4.35))["printed-height"]
    assert told.sentence == "In layers of 0.20 mm it prints as 4.40 mm, 0.05 mm higher than drawn."
    assert "Set the height to 4.20 mm, or file the back down." in [remedy.text for remedy in told.remedies]


@pytest.mark.parametrize(
    ("nub", "verdict", "words"), [(0.05, "work", "vanish"), (0.2, "work", "one layer"), (0.4, "fits", "2 layers")]
)
def test_nubs_have_two_layers(nub, verdict, words):
    told = found(ring(layer=0.2, first_layer=0.2, height=3.6, nub_height=nub))["nub-layers"]
    assert (str(told.verdict), words in told.sentence) == (verdict, True)


def test_a_turned_ring_has_no_layers():
    assert "printed-height" not in found(ring(process="turned", nub_count=0.0))


def test_a_proposed_ring_is_drawn_as_high_as_it_prints():
    proposals = propose("ring", surroundings(check_sheet(sheet(AROUND | {"case.bore_diameter": 26.2}))))
    piece = from_plain("ring", {name: item.value for name, item in proposals.items() if name != "cutouts"})
    assert printed(piece.height, piece) == pytest.approx(piece.height)
    assert printed(piece.top, piece) == pytest.approx(piece.top)
    low, high = solid_of(piece).bounding_box()[2], solid_of(piece).bounding_box()[5]
    assert high - low == pytest.approx(piece.top, abs=1e-6)


@pytest.mark.parametrize(("layer", "first"), [(0.15, 0.2), (0.2, 0.2), (0.1, 0.3), (0.28, 0.28)])
def test_the_coupon_prints_as_it_is_drawn_and_holds_together(layer, first):
    made = Made(layer=layer, first_layer=first)
    low, middle, high = heights(made)
    assert low < middle < high
    assert [printed(height, made) for height in (low, middle, high)] == pytest.approx([low, middle, high])
    body = coupon(made)
    plug, _ = sorted(body.decompose(), key=lambda piece: -piece.bounding_box()[5])
    rings = [(30.0, 8.0, low), (22.0, 8.0, middle - low), (14.0, 11.0, high - middle)]
    assert plug.volume() == pytest.approx(sum(pi / 4 * (d**2 - b**2) * h for d, b, h in rings), rel=1e-3)
    assert mesh_of(body).open_edges == 0


@pytest.mark.parametrize(("layer", "first"), [(0.15, 0.2), (0.2, 0.2), (0.1, 0.3), (0.28, 0.28)])
def test_each_hole_of_the_coupons_plate_is_wider_than_the_plug_by_what_is_engraved_over_it(layer, first):
    made = Made(layer=layer, first_layer=first)
    low, middle, high = heights(made)
    plug, plate = sorted(coupon(made).decompose(), key=lambda piece: -piece.bounding_box()[5])
    assert plate.bounding_box()[5] == pytest.approx(low)
    assert low < high - middle  # the upper step goes right through
    edges = [Polygon(outline) for outline in level(plate, layer / 2)]
    whole = max(edges, key=lambda edge: edge.area)
    holes = sorted((edge for edge in edges if edge is not whole), key=lambda edge: edge.area)
    assert [hole.bounds[2] - hole.bounds[0] for hole in holes] == pytest.approx([14 + play for play in PLAYS], abs=1e-3)
    engraved = [Polygon(outline).centroid for outline in level(plate, low - layer / 2)]
    for hole in holes:
        assert whole.exterior.distance(hole) > 1.5
        above = [p for p in engraved if abs(p.x - hole.centroid.x) < 7 and 7 < p.y - hole.centroid.y < 11]
        assert len(above) >= 4  # a figure, a point and two figures
    assert plate.bounding_box()[4] < plug.bounding_box()[1]
