"""Holders between outlines: against shapely, against the round ring, and over shapes that an outline may have."""

import io
from dataclasses import replace
from math import cos, pi, sin

import ezdxf
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon
from shapely.geometry import Point, box

from parts.fit import check_sheet
from parts.fit.arithmetic.outlines import Outline
from parts.fit.errors import SheetError
from parts.holder import edges
from parts.holder.drawings import picture_svg, plan_svg, section_svg, walls_svg
from parts.holder.files import mesh_files
from parts.holder.files.dxf import dxf
from parts.holder.findings.design import work_out
from parts.holder.mesh import cross_section, level, mesh_of, solid_of, splits_at
from parts.holder.parameters import CutOut, Key, as_plain, from_plain
from parts.holder.proposals import propose
from parts.holder.surroundings import surroundings
from tests.fit.sheets import sheet
from tests.holder.pieces import AROUND, around, ring, spacer
from tests.holder.readers import admesh, faults_of, read_3mf, read_stl, volume_of

SQUARE = Outline("rectangle", 24.0, 28.0, 3.0)
OVAL = Outline("oval", 25.0, 29.0)
CUSHION = Outline("polyline", points=tuple(
    (r * 13.0 * cos(t), r * 14.0 * sin(t)) for t in np.arange(0, 2 * pi, pi / 90)
    for r in [(abs(cos(t)) ** 3 + abs(sin(t)) ** 3) ** (-1 / 3)]
))  # fmt: skip
NOTCHED = Outline("polyline", points=((13, 14), (-13, 14), (-13, -14), (-2, -14), (-2, -12.5), (2, -12.5), (13, -14)))
"""Drawn in at 6 o'clock, and skewed."""
SHAPES = {"rectangle": SQUARE, "oval": OVAL, "cushion": CUSHION, "notched": NOTCHED}


def outlined(outside, **changes):
    """A ring round a movement of 20.00 mm, with that outside."""
    own = {"outside_diameter": 0.0, "outside_outline": outside, "inside_diameter": 20.0, "nub_count": 0.0}
    chamfer = {"chamfer": 0.0} if not edges.is_convex(outside) else {}
    return ring(**own | chamfer | changes)


def plane(outline):
    """The outline by shapely, y towards 12 o'clock."""
    if outline.shape == "polyline":
        return Polygon(outline.points)
    if outline.shape == "oval":
        t = np.linspace(0, 2 * pi, 4000)
        return Polygon(np.column_stack([outline.width / 2 * np.cos(t), outline.height / 2 * np.sin(t)]))
    x, y = outline.width / 2 - outline.corner, outline.height / 2 - outline.corner
    return box(-x, -y, x, y).buffer(outline.corner, quad_segs=1000)


@pytest.mark.parametrize("name", SHAPES)
def test_a_level_of_the_ring_is_what_lies_between_its_edges_less_the_channel(name):
    """Against shapely, at 1.0 mm: the channel is open to the dial and 1.60 mm wide, to 3 o'clock."""
    outside = SHAPES[name]
    polygons = level(solid_of(outlined(outside)), 1.0)
    wanted = plane(outside).difference(Point(0, 0).buffer(10.0, quad_segs=2000)).difference(box(0, -0.8, 40, 0.8))
    mine = cross_section(polygons).area()
    assert mine == pytest.approx(wanted.area, rel=3e-4)
    turned = Polygon(np.asarray(max(polygons, key=len)) * (1.0, -1.0))
    assert turned.buffer(0).symmetric_difference(Polygon(max([wanted], key=lambda p: p.area).exterior)).area < 0.3


@pytest.mark.parametrize("name", SHAPES)
def test_its_files_are_closed_and_in_one_piece(name, tmp_path):
    piece = outlined(SHAPES[name])
    mesh = mesh_of(solid_of(piece))
    stl = mesh_files.stl(mesh)
    triangles, (_, same) = read_stl(stl), read_3mf(mesh_files.threemf(mesh, name))
    assert (faults_of(triangles), faults_of(same), splits_at(piece)) == (0, 0, "")
    assert volume_of(triangles) == pytest.approx(mesh.volume, rel=1e-4)
    path = tmp_path / "piece.stl"
    path.write_bytes(stl)
    parts, _, repairs = admesh(path)
    assert (parts, set(repairs.values())) == (1, {0.0})


def test_a_chamfer_runs_round_the_outline():
    """Of a rounded rectangle each takes c²/2 along its edge; Steiner's formula has the rest of the corners."""
    plain, bevelled = (mesh_of(solid_of(outlined(SQUARE, chamfer=c, channel_width=0.01))).volume for c in (0.0, 0.2))
    outside = 2 * (18.0 + 22.0) + 2 * pi * 3.0
    wanted = 2 * (outside * 0.02 - pi * 0.2**3 / 3) + 2 * (2 * pi * 10.0 * 0.02 + pi * 0.2**3 / 3)
    assert plain - bevelled == pytest.approx(wanted, rel=0.01)


@pytest.mark.parametrize("circle", [Outline("oval", 26.0, 26.0), Outline("rectangle", 26.0, 26.0, 13.0)])
def test_a_circle_given_as_an_outline_answers_as_the_circle_does(circle):
    plain = {"shape": circle.shape, "width": 26.2, "height": 26.2}
    plain |= {"corner": 13.1} if circle.shape == "rectangle" else {}
    stands = around({"case.bore_diameter": None, "case.bore_outline": plain})
    answers = []
    for piece, whose in ((ring(), around()), (outlined(circle, inside_diameter=22.0, nub_count=3.0), stands)):
        design = work_out(piece, whose)
        answers.append((design.mesh.volume, {c.key: (c.value.value, c.sentence) for c in design.findings}))
    assert answers[1][0] == pytest.approx(answers[0][0], abs=1e-6)
    assert answers[1][1].keys() == answers[0][1].keys()
    for key, (value, sentence) in answers[0][1].items():
        assert answers[1][1][key] == (pytest.approx(value, abs=1e-6), sentence), key


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize("by", [-0.1, 0.25])
def test_an_edge_grows_by_so_much_all_round(name, by):
    """Against shapely's parallel: an oval stays one, and is off by the hundredth part of the way at most."""
    grown, wanted = plane(edges.grown(SHAPES[name], by)), plane(SHAPES[name]).buffer(by, quad_segs=200)
    assert grown.hausdorff_distance(wanted) < 0.003
    assert grown.area == pytest.approx(wanted.area, rel=1e-4)


def test_an_outline_reads_back_as_it_is_kept():
    for outside in SHAPES.values():
        piece = outlined(outside)
        assert from_plain("ring", as_plain(piece)) == piece


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"inside_diameter": 24.5}, "inside_diameter"),
        ({"outside_outline": Outline("rectangle", 24.0, 28.0, 12.5)}, "outside_outline"),
        ({"outside_outline": Outline("rectangle", float("nan"), 28.0)}, "outside_outline"),
        ({"outside_outline": Outline("polyline", points=((1, 1), (2, 1), (2, 2)))}, "outside_outline"),
        ({"outside_outline": None}, "outside_diameter"),
        ({"outside_diameter": 26.0}, "outside_diameter"),
        ({"outside_outline": NOTCHED, "chamfer": 0.1}, "chamfer"),
        ({"flange_outline": Outline("rectangle", 19.0, 22.0), "flange_depth": 1.0}, "flange_outline"),
    ],
)
def test_what_no_outline_of_a_ring_can_be_is_refused(changes, key):
    with pytest.raises(SheetError) as refused:
        outlined(**{"outside": SQUARE} | {k: v for k, v in changes.items() if k != "outside_outline"}) if (
            "outside_outline" not in changes
        ) else ring(**{"outside_diameter": 0.0, "inside_diameter": 20.0} | changes)
    assert refused.value.key == key
    assert refused.value.limit


RECTANGULAR = AROUND | {
    "case.bore_diameter": None,
    "case.bore_outline": {"shape": "rectangle", "width": [26.2, 0.02], "height": [29.0, 0.02], "corner": [2.0, 0.05]},
}


def proposed(changes):
    stands = surroundings(check_sheet(sheet(RECTANGULAR | changes)))
    proposals = propose("ring", stands)
    plain = {name: item.value for name, item in proposals.items() if item.value is not None and name != "cutouts"}
    return proposals, from_plain("ring", plain), stands


def test_a_ring_for_a_rectangular_bore_is_proposed_and_passes():
    proposals, piece, stands = proposed({})
    assert proposals["outside_outline"].note == "bore minus 0.10 mm all round"
    assert piece.outside_outline == Outline("rectangle", 26.0, 28.8, 1.95)
    design = work_out(
        replace(piece, channel_width=1.6, held_by="clamps", clamp_count=3.0, heights_plus_minus=0.02), stands
    )
    assert {c.key: c.sentence for c in design.findings if c.verdict != "fits"} == {}
    room = next(c for c in design.findings if c.key == "bore-room")
    assert room.value.value == pytest.approx(0.2, abs=1e-6)


def test_a_thin_wall_beside_a_rectangle_is_printed_in_resin_for_it_cannot_be_turned():
    proposals, piece, _ = proposed({"movement.fit_diameter": 25.0, "movement.overall_diameter": 25.0})
    assert (proposals["process"].value, round(piece.wall, 3)) == ("resin", 0.485)


def test_an_outlined_movement_has_a_ring_with_its_own_inside_and_step():
    fit = {"shape": "rectangle", "width": 18.0, "height": 21.0, "corner": 1.0}
    wide = fit | {"width": 18.4, "height": 21.4, "corner": 1.2}
    changes = {"movement.fit_diameter": None, "movement.overall_diameter": None, "movement.date": None}
    _, piece, stands = proposed(changes | {"movement.fit_outline": fit, "movement.outline": wide})
    assert piece.inside_outline == Outline("rectangle", 18.05, 21.05, 1.025)
    assert piece.flange_outline == Outline("rectangle", 18.5, 21.5, 1.25)
    keys = {c.key: str(c.verdict) for c in work_out(piece, stands).findings}
    assert (keys["movement-room"], keys["flange-room"], keys["one-piece"], keys["watertight"]) == ("fits",) * 4


@pytest.mark.parametrize("name", ["cushion", "notched"])
def test_bore_and_movement_may_both_be_polylines(name):
    bore = {"shape": "polyline", "points": [list(point) for point in SHAPES[name].points]}
    inner = edges.grown(SHAPES[name], -2.0)
    fit = {"shape": "polyline", "points": [list(point) for point in inner.points]}
    movement = {"movement.fit_diameter": None, "movement.overall_diameter": None, "movement.date": None}
    movement |= {"movement.fit_outline": fit, "movement.outline": fit}
    proposals, piece, stands = proposed({"case.bore_outline": bore} | movement)
    assert proposals["inside_outline"].note == "the movement's fit outline plus 0.05 mm"
    assert piece.wall == pytest.approx(2.0 - 0.1 - 0.027, abs=1e-3)
    verdicts = {c.key: str(c.verdict) for c in work_out(piece, stands).findings}
    assert {verdicts[key] for key in ("bore-room", "movement-room", "one-piece", "watertight")} == {"fits"}
    assert "no" not in verdicts.values()


def test_nubs_stand_where_the_wall_is_widest():
    _, piece, stands = proposed({"movement.fit_diameter": 25.0, "movement.overall_diameter": 25.0})
    design = work_out(piece, stands)
    assert {str(c.verdict) for c in design.findings if c.key in ("nub-stand", "nub-land")} == {"fits"}


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize("draw", [plan_svg, section_svg, walls_svg, picture_svg])
def test_every_drawing_of_an_outlined_ring_is_sound(draw, name):
    text = draw(work_out(outlined(SHAPES[name]), around()))
    assert text.startswith("<svg")
    assert "nan" not in text
    assert "None" not in text


def test_the_dxf_has_the_corners_as_arcs():
    doc = ezdxf.read(io.StringIO(dxf(work_out(outlined(SQUARE, chamfer=0.0), around()), "a ring")))
    assert not doc.audit().errors
    drawn = [e for e in doc.modelspace() if e.dxf.layer == "dial-side"]
    arcs = [part for e in drawn for part in e.virtual_entities() if part.dxftype() == "ARC"]
    radii = sorted(round(arc.dxf.radius, 6) for arc in arcs)
    assert radii.count(3.0) == 4
    assert set(radii) == {3.0, 10.0}
    corners = {(round(a.dxf.center.x, 6), round(a.dxf.center.y, 6)) for a in arcs if round(a.dxf.radius, 6) == 3.0}
    assert corners == {(9.0, 11.0), (-9.0, 11.0), (-9.0, -11.0), (9.0, -11.0)}


def test_a_polyline_stands_with_twelve_oclock_up():
    """Its inward corner is at 6 o'clock, where the bodies' y points to."""
    polygons = level(solid_of(outlined(NOTCHED)), 3.0)
    spot = cross_section([[(x, 13.2 + y) for x, y in ((-0.5, -0.1), (0.5, -0.1), (0.0, 0.1))]])
    assert (cross_section(polygons) ^ spot).area() == 0.0


def test_an_outlined_spacer_has_the_area_between_its_edges():
    piece = spacer(outside_diameter=0.0, outside_outline=SQUARE, inside_diameter=20.0)
    wanted = plane(SQUARE).area - pi * 10.0**2
    assert mesh_of(solid_of(piece)).volume == pytest.approx(wanted * 0.4, rel=3e-4)


@st.composite
def outlined_rings(draw):
    """Rings between edges of every kind, with features that a person may type."""

    def size(low, high):
        return round(draw(st.floats(low, high)), 2)

    inside, wall, height = size(12.0, 24.0), size(1.0, 3.0), size(2.0, 5.0)
    wide, tall = inside + 2 * wall, inside + 2 * wall + size(0.0, 6.0)
    shape = draw(st.sampled_from(["rectangle", "oval", "polyline"]))
    outside = Outline(shape, wide, tall, size(0.0, 2.0) if shape == "rectangle" else 0.0)
    if shape == "polyline":
        x, y, cut = wide / 2 + 1, tall / 2 + 1, size(0.1, 1.0)
        corners = ((x - cut, y), (-x, y), (-x, -y), (x, -y), (x, y - cut))
        outside = Outline("polyline", points=tuple((round(a, 2), round(b, 2)) for a, b in corners))
    inner = {"inside_diameter": inside}
    if draw(st.booleans()):
        corner = size(0.0, inside / 8)
        own = Outline("rectangle", round(inside * 0.7, 2), round(inside * 0.7, 2), corner)
        inner = {"inside_diameter": 0.0, "inside_outline": own}
    return ring(
        outside_diameter=0.0,
        outside_outline=outside,
        **inner,
        height=height,
        chamfer=draw(st.sampled_from([0.0, 0.1, 0.2])),
        channel_angle=size(0, 360),
        channel_width=size(0.8, 2.0),
        channel_axis=size(0.3, height - 0.3),
        channel_open=draw(st.sampled_from(["dial", "back", "closed"])),
        nub_count=float(draw(st.integers(0, 4))),
        nub_diameter=size(0.4, 0.8),
        nub_angle=size(0, 360),
        lip_reach=draw(st.sampled_from([0.0, 0.5])),
        tab_count=float(draw(st.sampled_from([0, 3]))),
        split_width=draw(st.sampled_from([0.0, 0.0, 1.0])),
        mark_width=draw(st.sampled_from([0.0, 0.4])),
    )


@given(outlined_rings())
@settings(max_examples=12, deadline=None)
def test_every_outlined_ring_is_closed(piece):
    mesh = mesh_of(solid_of(piece))
    assert mesh.open_edges == 0
    assert mesh.volume == pytest.approx(solid_of(piece).volume(), rel=1e-4)


@st.composite
def touching_rings(draw):
    """Rings between outlines whose features touch each other and the outlines' own straight sides exactly."""

    def one_of(*sizes):
        return float(draw(st.sampled_from(sizes)))

    corner = one_of(0, 1, 2)
    height = one_of(2, 3)
    levels = [0.0, 1.0, height / 2, height]
    low, high = sorted(draw(st.lists(st.sampled_from(levels), min_size=2, max_size=2, unique=True)))
    return ring(
        outside_diameter=0.0,
        outside_outline=Outline("rectangle", 18.0, one_of(18, 20, 22), corner),
        inside_diameter=0.0,
        inside_outline=Outline("rectangle", 14.0, 14.0, min(corner, 1.0)),
        height=height,
        chamfer=one_of(0, 0.5),
        channel_angle=one_of(0, 90, 45),
        channel_width=one_of(1, 2),
        channel_axis=one_of(0, 1, height / 2, height),
        channel_open=draw(st.sampled_from(["dial", "back", "closed"])),
        nub_count=one_of(0, 2, 4),
        nub_diameter=one_of(1, 2),
        nub_angle=one_of(0, 30, 90),
        lip_reach=one_of(0, 1),
        lip_height=one_of(0.5, 1),
        tab_count=one_of(0, 3),
        split_width=one_of(0, 1),
        split_angle=one_of(0, 90, 180),
        mark_width=one_of(0, 1),
        cutouts=(CutOut(one_of(0, 45, 90), one_of(1, 2), one_of(1, 2), low, high),),
        keys=(Key(one_of(0, 90, 135), one_of(1, 2), one_of(-1, 1), low, high),),
    )


@given(touching_rings())
@settings(max_examples=12, deadline=None)
def test_what_touches_exactly_leaves_a_closed_surface(piece):
    assert mesh_of(solid_of(piece)).open_edges == 0


@pytest.mark.long
@given(st.one_of(outlined_rings(), touching_rings()))
@settings(max_examples=300, deadline=None)
def test_three_hundred_outlined_rings_read_back_closed(piece):
    mesh = mesh_of(solid_of(piece))
    assert faults_of(read_stl(mesh_files.stl(mesh))) == 0
    assert faults_of(read_3mf(mesh_files.threemf(mesh, "ring"))[1]) == 0
