"""Bodies against closed forms, against an independent geometry library, and over random valid parameters."""

from dataclasses import replace
from math import asin, pi, radians, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold
from shapely import affinity
from shapely.geometry import Point, Polygon, box

from parts.fit.arithmetic.outlines import Outline
from parts.fit.errors import SheetError
from parts.holder.closed_form import exact_volume
from parts.holder.mesh import along, cross_section, level, mesh_of, solid_of, splits_at
from parts.holder.parameters import CutOut, FootNotch, Key, Ring, as_plain, from_plain
from parts.holder.thin import splinters
from tests.holder.pieces import ring, rings, spacer, spacers


def test_a_plain_washer_has_the_volume_of_its_formula():
    mesh = mesh_of(solid_of(spacer()))
    wanted = pi / 4 * (25.8**2 - 21.0**2) * 0.4
    assert exact_volume(spacer()) == pytest.approx(wanted)
    assert mesh.volume == pytest.approx(wanted, rel=3e-4)


def test_a_chamfered_ring_loses_four_truncated_cones():
    """Pappus: each chamfer is a triangle of c²/2 turned about a circle through its centroid."""
    plain = ring(channel_open="closed", channel_width=0.001, chamfer=0.2, nub_count=0.0)
    corners = 4 * 0.2**2 / 2 * 2 * pi * (13.0 + 11.0) / 2
    wanted = pi * (13**2 - 11**2) * 3.6 - corners
    assert mesh_of(solid_of(plain)).volume == pytest.approx(wanted, rel=3e-4)


def test_each_nub_adds_its_cylinder():
    bare, with_nubs = (mesh_of(solid_of(ring(nub_count=n))).volume for n in (0.0, 3.0))
    assert with_nubs - bare == pytest.approx(3 * pi * 0.5**2 * 0.15, rel=5e-3)


@pytest.mark.parametrize("side", ["dial", "back", "closed"])
def test_the_channel_takes_what_the_layers_reckon(side):
    piece = ring(channel_open=side, nub_count=0.0)
    assert mesh_of(solid_of(piece)).volume == pytest.approx(exact_volume(piece), rel=3e-4)


def test_an_open_channel_without_chamfers_in_closed_form():
    """Half a bore and a strip to the dial side; the strip between arcs from the integral of the circle."""

    def strip(radius, width):
        return width / 2 * sqrt(radius**2 - width**2 / 4) + radius**2 * asin(width / 2 / radius)

    piece = ring(chamfer=0.0, nub_count=0.0, channel_width=2.0)
    slot = (strip(13, 2.0) - strip(11, 2.0)) * 1.6
    above = pi * (13**2 - 11**2) * 3.6 - slot - exact_volume(piece)
    assert above == pytest.approx(pi / 2 * 2.0, rel=0.01)


def test_a_layer_with_cut_outs_and_keys_against_shapely():
    """At 1.0 mm: ring, open channel, one cut-out, one inward and one outward key."""
    cuts, keys = (CutOut(200.0, 2.0, 0.8, 0.0, 1.5),), (Key(300.0, 1.5, -0.5, 0.5, 3.0), Key(20.0, 2.0, 0.4, 0.0, 2.0))
    piece = ring(cutouts=cuts, keys=keys, nub_count=0.0)
    area = cross_section(level(solid_of(piece), 1.0)).area()

    def disc(radius):
        return Point(0, 0).buffer(radius, quad_segs=2000)

    def strip(angle, width, inner, outer):
        bar = affinity.rotate(box(0, -width / 2, 40, width / 2), angle - 90, origin=(0, 0))
        return bar.intersection(disc(outer)).difference(disc(inner))

    wanted = disc(13).difference(disc(11)).union(strip(300, 1.5, 10.5, 12)).union(strip(20, 2, 12, 13.4))
    wanted = wanted.difference(strip(200, 2, 5, 11.8)).difference(strip(90, 1.6, 5, 15))
    assert area == pytest.approx(wanted.area, rel=3e-4)
    mine = Polygon(max(level(solid_of(piece), 1.0), key=len))
    assert mine.symmetric_difference(Polygon(wanted.exterior)).area < 0.2


def test_features_stand_at_their_angles_clockwise_from_twelve():
    """A cut-out at 0° lies towards -y (12 o'clock), at 90° towards +x (3 o'clock), y pointing to 6 o'clock."""
    for angle, x, y in ((0.0, 0.0, -1.0), (90.0, 1.0, 0.0), (180.0, 0.0, 1.0)):
        piece = ring(channel_angle=45.0, cutouts=(CutOut(angle, 2.0, 1.0, 0.0, 1.5),), nub_count=0.0)
        inside = cross_section(level(solid_of(piece), 1.0))
        spot = cross_section([[(x * 11.5 + a, y * 11.5 + b) for a, b in ((-0.1, -0.1), (0.1, -0.1), (0.1, 0.1))]])
        assert (inside ^ spot).area() == 0.0


def test_the_section_through_the_channel_shows_its_width_and_axis():
    (wall,) = [outline for outline in along(solid_of(ring(nub_count=0.0)), 90.0) if outline[:, 0].mean() > 0]
    assert wall[:, 1].min() == pytest.approx(1.6 + 0.8, abs=0.002)
    assert wall[:, 1].max() == pytest.approx(3.6, abs=1e-4)
    (other,) = [outline for outline in along(solid_of(ring(nub_count=0.0)), 270.0) if outline[:, 0].mean() > 0]
    assert (other[:, 1].min(), other[:, 0].max()) == pytest.approx((0.0, 13.0), abs=0.002)


@given(rings())
@settings(max_examples=60, deadline=None)
def test_every_valid_ring_is_closed_and_says_into_how_many_pieces_it_falls(piece):
    solid = solid_of(piece)
    mesh = mesh_of(solid)
    assert mesh.open_edges == 0
    assert mesh.volume == pytest.approx(solid.volume(), rel=1e-4)
    assert as_plain(from_plain("ring", as_plain(piece))) == as_plain(piece)


@pytest.mark.parametrize("axis", [0.86, 1.14, 1.1399])
def test_a_channel_that_only_just_touches_a_face_breaks_through(axis):
    piece = ring(height=2.0, channel_width=2.28, channel_axis=axis, nub_count=0.0)
    assert mesh_of(solid_of(piece)).open_edges == 0


def test_nubs_as_wide_as_the_land_touch_none_of_its_edges():
    piece = ring(outside_diameter=14.24, inside_diameter=12.0, height=2.0, channel_width=1.0, nub_count=2.0)
    assert mesh_of(solid_of(replace(piece, nub_diameter=1.12, chamfer=0.0))).open_edges == 0


@given(spacers())
@settings(max_examples=40, deadline=None)
def test_every_valid_spacer_is_closed(piece):
    assert mesh_of(solid_of(piece)).open_edges == 0


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"inside_diameter": 26.0}, "inside_diameter"),
        ({"outside_diameter": -1.0}, "outside_diameter"),
        ({"height": float("nan")}, "height"),
        ({"flange_diameter": 21.0}, "flange_diameter"),
        ({"flange_diameter": 23.0, "flange_depth": 3.6}, "flange_depth"),
        ({"flange_diameter": 23.0, "flange_depth": 5.0, "rim_height": 5.0}, "rim_height"),
        ({"nose_diameter": 26.5, "nose_height": 1.0}, "nose_diameter"),
        ({"chamfer": 1.2}, "chamfer"),
        ({"nub_count": 2.5}, "nub_count"),
        ({"channel_open": "sideways"}, "channel_open"),
        ({"channel_width": 23.0}, "channel_width"),
        ({"cutouts": (CutOut(0, 2.0, 1.0, 2.0, 1.0),)}, "cutouts"),
        ({"keys": (Key(0, 0.0, 1.0, 0.0, 1.0),)}, "keys"),
    ],
)
def test_what_cannot_be_made_is_refused_by_its_key_and_limit(changes, key):
    with pytest.raises(SheetError) as refused:
        ring(**changes)
    assert refused.value.key == key
    assert refused.value.limit


@pytest.mark.parametrize(
    ("make", "told"),
    [
        (lambda: ring(cutouts=(CutOut(0, 2.0, 1.0, 0.0, 1.0), CutOut(0, 2.0, 1.0, 0.0, 9.0))), "from 0.00 to 9.00 mm"),
        (lambda: ring(keys=(Key(0, 2.0, 1.0, 0.0, 1.0), Key(0, 0.0, 1.0, 0.0, 1.0))), "0.00 mm wide"),
        (lambda: ring(keys=(Key(0, 2.0, 1.0, 0.0, 1.0), Key(0, 1.0, 12.0, 0.0, 1.0))), "12.00 mm deep"),
        (lambda: spacer(notches=(FootNotch(0.0, 11.0, 1.0), FootNotch(0.0, 11.0, 30.0))), "a diameter of 30.00 mm"),
        (lambda: spacer(notches=(FootNotch(0.0, 11.0, 1.0), FootNotch(0.0, 101.0, 1.0))), "a radius of 101.00 mm"),
    ],
)
def test_a_line_that_cannot_be_made_is_told_with_its_number_and_its_value(make, told):
    with pytest.raises(SheetError) as refused:
        make()
    assert refused.value.value == f"Line 2, {told},"


TOUCHING = [0.5, 1.0, 1.5, 2.0, 2.5, 3.0]
"""Sizes on one grid, so that faces, rounds and ends of features meet exactly."""


@st.composite
def touching_rings(draw):
    """Rings whose features touch each other and the ring's own faces exactly."""

    def one_of(*sizes):
        return float(draw(st.sampled_from(sizes or TOUCHING)))

    inside, wall, height = one_of(12, 15, 18, 24), one_of(1, 1.5, 2.5, 3), one_of(2, 3, 4, 5)
    levels = [0.0, 0.5, 1.0, height / 2, height]

    def feature(cls, depths):
        low, high = sorted(draw(st.lists(st.sampled_from(levels), min_size=2, max_size=2, unique=True)))
        return cls(one_of(*range(0, 360, 15)), one_of(), one_of(*depths), low, high)

    return Ring(
        outside_diameter=inside + 2 * wall,
        inside_diameter=inside,
        height=height,
        chamfer=one_of(0, 0.1),
        channel_angle=one_of(*range(0, 360, 15)),
        channel_width=one_of(),
        channel_axis=one_of(0, 0.5, height / 2, height),
        channel_open=draw(st.sampled_from(["dial", "back", "closed"])),
        nub_count=one_of(0, 3, 4),
        nub_diameter=one_of(wall, 1, 2 * wall),
        nub_angle=one_of(*range(0, 360, 15)),
        notch_angle=one_of(*range(0, 360, 15)),
        notch_width=one_of(0, 2, 3),
        notch_depth=one_of(wall, wall / 2),
        notch_height=one_of(0.5, 1, 1.5),
        lip=one_of(0, 0.5),
        cutouts=tuple(feature(CutOut, (wall, wall / 2, 0.5)) for _ in range(draw(st.integers(0, 3)))),
        keys=tuple(feature(Key, (0.5, -0.5, 1, -1)) for _ in range(draw(st.integers(0, 2)))),
    )


@settings(max_examples=30)
@given(touching_rings())
def test_features_that_touch_exactly_leave_a_closed_surface(piece):
    assert mesh_of(solid_of(piece)).open_edges == 0


def test_a_piece_of_which_nothing_hangs_splits_nowhere():
    assert splits_at(ring()) == ""


def test_what_splits_a_piece_is_named():
    assert splits_at(ring(channel_open="back", nub_angle=90.0)) == "nub_count"


def test_crumbs_are_left_out():
    crumb = Key(0.0, 0.3, 0.5, 0.0, 0.3)
    assert len(solid_of(ring(cutouts=(CutOut(0.0, 1.0, 2.0, 0.0, 3.6),), keys=(crumb,))).decompose()) == 1


def test_a_mesh_has_no_corner_of_a_cut_out_filled_in():
    """Simplified, this ring's had one cut off by 0.10 mm, at 282 degrees and up to 1.59 mm."""
    piece = Ring(
        outside_diameter=0.0, outside_outline=Outline("rectangle", 14.68, 16.01, 2.19), inside_diameter=9.72,
        height=2.64, chamfer=0.2, channel_angle=134.22, channel_width=2.27, channel_axis=1.4, channel_open="back",
        nub_count=5.0, nub_diameter=1.16, nub_height=0.1, nub_angle=344.86, held_by="tongues",
        tongue_length=4.83, tongue_thickness=0.48, tongue_gap=0.57,
        split_width=0.65, split_angle=177.08, mark_words="A7", mark_depth=0.3, mark_size=1.44, mark_angle=34.18,
        cutouts=(CutOut(206.93, 2.42, 0.26, 0.79, 2.15), CutOut(272.68, 2.71, 0.22, 1.13, 1.59)),
    )  # fmt: skip
    solid = solid_of(piece)
    assert mesh_of(solid).volume == pytest.approx(solid.volume(), abs=2e-4)


@pytest.mark.parametrize(
    ("outline", "splinter"),
    [
        ([(0, 0), (4, 0), (4, 4), (0, 4)], False),
        ([(0, 0), (4, 0), (4, 0.1)], True),  # a corner of 1.4 degrees
        ([(0, 0), (4, 0), (4, 0.2)], False),  # and one of 2.9
        ([(0, 0), (4, 0), (4, 4), (2.001, 4), (2.001, 1), (2, 1), (2, 4), (0, 4)], True),  # a slit 1 µm wide
        ([(0, 0), (4, 0), (4, 4), (2.1, 4), (2.1, 1), (2, 1), (2, 4), (0, 4)], False),
    ],
)
def test_what_a_slicer_loses_is_a_splinter(outline, splinter):
    solid = cross_section([outline]).extrude(2.0)
    assert splinters(solid) == ([1.0] if splinter else [])


@pytest.mark.parametrize(("size", "splinter"), [(0.001, True), (0.049, True), (0.051, False)])
def test_a_hair_that_stands_alone_is_a_splinter_and_so_is_its_hole(size, splinter):
    block = Manifold.cube((4.0, 4.0, 2.0)) - Manifold.cube((2.0, 2.0, 1.0)).translate((1.0, 1.0, 0.5))
    hair = Manifold.cube((size, size, 1.0))
    wanted = [1.0] if splinter else []
    assert (splinters(block), splinters(block + hair.translate((2.0, 2.0, 0.5)))) == ([], wanted)
    assert splinters(block - hair.translate((0.5, 0.5, 0.5))) == wanted


def test_cuts_that_leave_a_splinter_are_set_off_until_there_is_none():
    """Two cuts a degree apart, whose sides would meet within the wall; a slicer drew their tip 0.06 mm short."""
    apart = 0.5
    width = 2 * 11.3 * sin(radians(apart))
    cuts = tuple(CutOut(200.0 + side, width, 0.8, 0.0, 3.6) for side in (-apart, apart))
    assert splinters(solid_of(ring(cutouts=cuts))) == []
