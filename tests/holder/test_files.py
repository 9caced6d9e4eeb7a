"""Written files read back by readers of their own, by Debian's admesh and by ezdxf's audit."""

import io
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import pairwise
from math import cos, radians, sin

import ezdxf
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from parts.fit.arithmetic.outlines import Outline
from parts.holder.drawings import picture_svg, plan_svg, section_svg, walls_svg
from parts.holder.drawings.plan import plan_levels
from parts.holder.files import mesh_files, step
from parts.holder.files.dxf import dxf
from parts.holder.findings.design import work_out
from parts.holder.mesh import for_printing, mesh_of, solid_of
from parts.holder.outline import Arc, circles_of, trace
from parts.holder.parameters import CutOut, FootNotch
from tests.holder.pieces import around, ring, rings, spacer, spacers
from tests.holder.readers import admesh, faults_of, read_3mf, read_stl, volume_of


@given(rings())
@settings(max_examples=12, deadline=None)
def test_both_formats_read_back_closed_with_the_same_volume(piece):
    mesh = mesh_of(solid_of(piece))
    triangles, (unit, same) = read_stl(mesh_files.stl(mesh)), read_3mf(mesh_files.threemf(mesh, "ring & <1>"))
    assert (faults_of(triangles), faults_of(same), unit) == (0, 0, "millimeter")
    assert volume_of(triangles) == pytest.approx(mesh.volume, rel=1e-4)
    assert volume_of(same) == pytest.approx(mesh.volume, rel=1e-4)


def test_an_open_surface_would_be_found():
    triangles = read_stl(mesh_files.stl(mesh_of(solid_of(spacer()))))
    assert faults_of(triangles[1:]) == 3


@pytest.mark.parametrize("piece", [ring(notch_width=3.0, lip=0.2), spacer(notches=(FootNotch(45.0, 12.0, 1.0),))])
def test_admesh_finds_nothing_to_repair(piece, tmp_path):
    mesh = mesh_of(solid_of(piece))
    path = tmp_path / "piece.stl"
    path.write_bytes(mesh_files.stl(mesh))
    parts, volume, repairs = admesh(path)
    assert (parts, set(repairs.values())) == (1, {0.0})
    assert volume == pytest.approx(mesh.volume, rel=1e-4)


def test_a_slivers_normal_is_as_exact_as_its_corners(tmp_path):
    """A facet of 0.00001 mm²: its normal worked out in single precision is one that admesh puts right."""
    outer = ((13.182, 4.164), (0.445, 15.172), (-13.082, 5.141), (-8.667, -12.16), (8.444, -13.555))
    inner = ((11.71573, 3.712998), (0.382853, 13.507479), (-11.606543, 4.616695), (-7.63675, -10.93968))
    edges = {"outside_diameter": 0.0, "outside_outline": Outline("polyline", points=outer)}
    edges |= {"inside_diameter": 0.0, "inside_outline": Outline("polyline", points=(*inner, (7.468364, -12.171147)))}
    channel = {"channel_angle": 67.06, "channel_width": 2.34, "channel_axis": 0.82, "channel_open": "back"}
    nub = {"nub_count": 1.0, "nub_diameter": 1.36, "nub_height": 0.47, "nub_angle": 299.15, "chamfer": 0.2}
    notch = {"notch_angle": 290.65, "notch_width": 2.31, "notch_depth": 0.52, "notch_height": 0.92, "height": 3.47}
    piece = ring(**edges | channel | nub | notch, cutouts=(CutOut(222.35, 1.77, 0.24, 0.68, 2.43),))
    path = tmp_path / "piece.stl"
    path.write_bytes(mesh_files.stl(mesh_of(solid_of(piece))))
    assert set(admesh(path)[2].values()) == {0.0}


def test_two_corners_a_hair_apart_stay_two_in_a_3mf():
    """Two of a ring lay to either side of 0.00005 mm, where corners are told apart, and were written alike."""
    mesh = mesh_of(solid_of(ring()))
    points = mesh.points.copy()
    points[:2] = [[1.0, 2.0, 3.0000498], [1.0, 2.0, 3.0000503]]
    _, same = read_3mf(mesh_files.threemf(replace(mesh, points=points), "two"))
    assert len(same) == len(mesh.faces)


@pytest.mark.parametrize("turned", [False, True])
def test_a_piece_lies_on_the_plate_without_being_mirrored(turned):
    mesh = mesh_of(solid_of(ring()))
    laid = for_printing(mesh, upside_down=turned)
    assert laid.points[:, 2].min() == 0.0
    assert laid.points[:, 2].max() == pytest.approx(3.75, abs=1e-4)
    assert laid.volume == pytest.approx(mesh.volume, rel=1e-5)


def drafted(piece):
    doc = ezdxf.read(io.StringIO(dxf(work_out(piece, around()), "a ring")))
    audit = doc.audit()
    assert not audit.errors
    assert not audit.fixes
    assert doc.units == ezdxf.units.MM
    return doc.modelspace()


def outlines(space, layer):
    """The layer's entities, none of them open, and the arcs that they are made of."""
    drawn = [e for e in space if e.dxf.layer == layer]
    assert {e.dxftype() for e in drawn} <= {"LWPOLYLINE", "CIRCLE"}
    assert all(e.closed for e in drawn if e.dxftype() == "LWPOLYLINE")
    pieces = [part for e in drawn for part in (e.virtual_entities() if e.dxftype() == "LWPOLYLINE" else [e])]
    return drawn, [part for part in pieces if part.dxftype() != "LINE"]


def test_the_dxf_has_its_circles_as_arcs_of_the_exact_radius():
    drawn, arcs = outlines(drafted(ring(cutouts=(CutOut(200.0, 2.0, 0.8, 0.0, 1.5),))), "dial-side")
    assert len(drawn) == 1
    assert {round(e.dxf.radius, 6) for e in arcs} == {11.0, 11.8, 13.0}
    assert all(abs(e.dxf.center.x) + abs(e.dxf.center.y) < 1e-6 for e in arcs)
    half = np.degrees(np.arcsin(0.8 / 13.0))
    outer = [e for e in arcs if round(e.dxf.radius, 6) == 13.0]
    assert sum((e.dxf.end_angle - e.dxf.start_angle) % 360 for e in outer) == pytest.approx(360 - 2 * half, abs=0.01)
    assert min(e.dxf.start_angle % 360 for e in outer) == pytest.approx(half, abs=0.01)


@pytest.mark.parametrize("width", [0.05, 0.15, 1.0])
def test_a_split_stays_open_however_narrow_it_is(width):
    """A split of 0.15 mm in a washer of 25.80 mm leaves arcs of 359.3 degrees, which are no circles."""
    piece = spacer(split_width=width)
    drawn, arcs = outlines(drafted(piece), "dial-side")
    assert [e.dxftype() for e in drawn] == ["LWPOLYLINE"]
    for radius in (10.5, 12.9):
        turned = sum((e.dxf.end_angle - e.dxf.start_angle) % 360 for e in arcs if abs(e.dxf.radius - radius) < 1e-6)
        gap = 2 * radius * sin(radians((360 - turned) / 2))
        assert gap == pytest.approx(width, abs=0.002)
    path = re.search(r'<path d="([^"]+)"[^>]*dial-side', plan_svg(work_out(piece, around())))[1]
    assert path.count("M") == path.count("Z") == 1
    assert path.count("L") == 2


def test_no_layers_name_has_a_space():
    doc = ezdxf.read(io.StringIO(dxf(work_out(ring(), around()), "a ring")))
    assert [layer.dxf.name for layer in doc.layers if " " in layer.dxf.name] == []


@given(st.one_of(rings(), spacers()))
@settings(max_examples=25, deadline=None)
def test_every_outline_of_the_dxf_is_the_bodys_own(piece):
    """Against shapely: within three micrometres all along the body's own outline, and nowhere open."""
    design = work_out(piece, around())
    for name, polygons in plan_levels(design):
        for polygon in polygons:
            pieces = trace(polygon, circles_of(piece))
            for last, following in pairwise([*pieces, pieces[0]]):
                assert last.end == following.start
            corners = [
                point
                for part in pieces
                for point in ([p.end for p in part.in_parts(0.5)] if isinstance(part, Arc) else [part.end])
            ]
            off = Polygon(corners).symmetric_difference(Polygon(polygon)).area
            assert off <= 0.003 * Polygon(polygon).length, name


def test_the_dxf_has_each_nub_in_its_place():
    places = sorted((e.dxf.center.x, e.dxf.center.y) for e in drafted(ring()).query("CIRCLE") if e.dxf.layer == "nubs")
    wanted = sorted((12 * sin(radians(a)), 12 * cos(radians(a))) for a in (150, 270, 30))
    assert np.allclose(places, wanted, atol=1e-6)


@pytest.mark.parametrize("draw", [plan_svg, section_svg, walls_svg, picture_svg])
@pytest.mark.parametrize("piece", [ring(notch_width=3.0), spacer(notches=(FootNotch(45.0, 12.0, 1.0),))])
def test_every_drawing_is_sound(draw, piece):
    text = draw(work_out(piece, around()))
    root = ET.fromstring(text)
    assert root.get("role") == "img"
    assert not re.search(r"nan|None|inf\b|style|<script|javascript", text)


def test_the_plan_is_to_scale_and_states_its_dimensions():
    design = work_out(ring(), around())
    root = ET.fromstring(plan_svg(design, around(), 5))
    width = float(root.get("viewBox").split()[2])
    assert float(root.get("width").removesuffix("mm")) == pytest.approx(5 * width, abs=1e-3)
    words = {node.text for node in root.iter() if node.text}
    assert {"outside ⌀26.00", "inside ⌀22.00", "1.60 at 90°", "3 nubs"} <= words
    assert "A 13 13" in plan_svg(design)


def test_step_without_its_kernel_says_what_to_do(monkeypatch):
    assert "make step" in step.MISSING
    monkeypatch.setattr(step, "find_spec", lambda name: None)
    assert not step.installed()


def test_step_holds_the_same_body():
    pytest.importorskip("OCP", reason="STEP's kernel is an optional extra; `make step` installs it")
    text = step.step_file(ring(), "Ring, revision 2")
    assert text.startswith(b"ISO-10303-21")
    assert b"MANIFOLD_SOLID_BREP" in text
    assert b"FILE_NAME('Ring, revision 2'" in text
    assert b"PRODUCT('Ring, revision 2" in text


@pytest.mark.parametrize("corner", [0.0, 0.19, 0.5])
def test_step_is_made_of_a_rectangle_with_sharp_and_round_corners(corner):
    """Its chamfer rounds a sharp corner of the inside, so both of its edges must have as many pieces."""
    pytest.importorskip("OCP", reason="STEP's kernel is an optional extra; `make step` installs it")
    edges = {"outside_outline": Outline("rectangle", 33.56, 22.96, corner), "outside_diameter": 0.0}
    edges |= {"inside_outline": Outline("rectangle", 30.88, 20.28), "inside_diameter": 0.0}
    assert step.step_file(ring(**edges, chamfer=0.2, nub_count=0.0)).startswith(b"ISO-10303-21")


def test_a_body_that_the_kernel_gives_up_is_refused_in_words(monkeypatch):
    failure = type("StdFail_NotDone", (Exception,), {"__module__": "OCP.OCP.StdFail"})

    def give_up(_):
        raise failure("command not done")

    monkeypatch.setattr(step, "_body", give_up)
    with pytest.raises(step.NotTheBody, match="the kernel cannot build it"):
        step._checked_body(ring())


def test_step_that_lost_a_cut_is_not_handed_out(monkeypatch):
    pytest.importorskip("OCP", reason="STEP's kernel is an optional extra; `make step` installs it")
    whole = step._body
    monkeypatch.setattr(step, "_body", lambda steps: whole(steps[:-5]))
    with pytest.raises(step.NotTheBody, match=r"mm³ are drawn"):
        step.step_file(ring())


def test_the_still_picture_is_no_mirror_image():
    """Seen from behind with 12 o'clock far, a cut-out at 3 o'clock lies at the left; the drawing's own x is turned."""
    text = picture_svg(work_out(ring(), around()))
    moved = set(re.findall(r"matrix\((\S+) 0 0 (\S+) ", text))
    assert {x for x, _ in moved} == {"-1"}
    assert all(float(y) > 0 for _, y in moved)
