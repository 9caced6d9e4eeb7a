"""Outlines in outlines, against an independent geometry library, and against the circle that an outline may be."""

import random
import time
from copy import deepcopy
from dataclasses import replace
from math import cos, pi, sin, tau

import numpy as np
import pytest
from shapely import affinity
from shapely.geometry import Point, Polygon

from parts.fit import check_sheet
from parts.fit.arithmetic import polyline
from parts.fit.arithmetic.outlines import Outline, along_ray, circle, clear, inner, outer, signed
from parts.fit.check import check_columns
from parts.fit.sheet import read_part, read_sheet
from tests.fit.constructions.sheets import RECTANGLE
from tests.fit.sheets import sheet

FINE = 1e-3
"""mm to which arcs of the other library are cut, and an oval's edge is found."""


def other(outline):
    """The same outline by the other library."""
    if outline.shape == "polyline":
        return Polygon(outline.points)
    if outline.shape in ("oval", "round"):
        return affinity.scale(Point(0, 0).buffer(1, quad_segs=400), outline.width / 2, outline.height / 2)
    x, y = outline.width / 2 - outline.corner, outline.height / 2 - outline.corner
    core = Polygon([(-x, -y), (x, -y), (x, y), (-x, y)])
    return core.buffer(outline.corner, quad_segs=300) if outline.corner else core


def measured(a, b):
    inside, outside = other(a), other(b)
    if outside.contains(inside):
        return inside.boundary.distance(outside.boundary)
    return -max(outside.distance(Point(at)) for at in inside.boundary.segmentize(0.2).coords)


def any_outline(chance, shape):
    width, height = chance.uniform(12, 30), chance.uniform(12, 30)
    if shape == "round":
        return circle(width)
    if shape != "polyline":
        corner = chance.uniform(0.1, min(width, height) / 2 - 0.1) if shape == "rectangle" else 0.0
        return Outline(shape, width, height, corner)
    count = chance.randint(5, 40)
    turns = [(i + chance.uniform(-0.3, 0.3)) * tau / count for i in range(count)]
    ring = Polygon([(width / 2 * cos(turn), height / 2 * sin(turn)) for turn in turns])
    return Outline("polyline", points=tuple(ring.exterior.coords[:-1]))


@pytest.mark.parametrize("b", ["round", "rectangle", "oval", "polyline"])
@pytest.mark.parametrize("a", ["round", "rectangle", "oval", "polyline"])
def test_how_one_lies_in_the_other_agrees_with_another_library(a, b):
    chance = random.Random(f"{a} {b}")
    for _ in range(12):
        mine, theirs = any_outline(chance, a), any_outline(chance, b)
        assert clear(mine, theirs) == pytest.approx(measured(mine, theirs), abs=FINE), (mine, theirs)


NOTCHED = ((10, 10), (2, 10), (1, 7), (-1, 7), (-2, 10), (-10, 10), (-10, -10), (10, -10))
UNDERCUT = ((10, 10), (3, 10), (4, 6), (-4, 6), (-3, 10), (-10, 10), (-10, -10), (4, -10), (6, -4), (7, -10), (10, -10))


@pytest.mark.parametrize("points", [NOTCHED, UNDERCUT])
@pytest.mark.parametrize("a", ["round", "rectangle", "oval", "polyline"])
def test_in_an_outline_with_corners_that_stand_in(a, points):
    bore, chance = Outline("polyline", points=tuple((float(x), float(y)) for x, y in points)), random.Random(a)
    assert polyline.prepared(bore.points).fault == ""
    for _ in range(8):
        part = any_outline(chance, a)
        small = part._replace(
            width=part.width / 3,
            height=part.height / 3,
            corner=part.corner / 3,
            points=tuple((x / 3, y / 3) for x, y in part.points),
        )
        assert clear(small, bore) == pytest.approx(measured(small, bore), abs=FINE)


@pytest.mark.parametrize("shape", ["round", "rectangle", "oval", "polyline"])
def test_radii_and_rays(shape):
    outline = any_outline(random.Random(3), shape)
    edge = other(outline).boundary
    assert inner(outline) == pytest.approx(edge.distance(Point(0, 0)), abs=FINE)
    assert outer(outline) == pytest.approx(edge.hausdorff_distance(Point(0, 0)), abs=FINE)
    for angle in (0.0, 37.0, 90.0, 200.0):
        reach, turn = along_ray(outline, angle), angle * pi / 180
        assert edge.distance(Point(reach * sin(turn), reach * cos(turn))) < FINE


def test_a_column_of_points_and_sizes_has_the_distances_of_each():
    x, y = np.linspace(-14, 14, 29), np.linspace(9, -11, 29)
    for shape in ("rectangle", "oval", "polyline"):
        outline = any_outline(random.Random(7), shape)
        each = [float(signed(outline, float(a), float(b))) for a, b in zip(x, y, strict=True)]
        assert signed(outline, x, y) == pytest.approx(each, abs=1e-8)
    size = np.linspace(18.0, 26.0, 9)
    bore = any_outline(random.Random(7), "polyline")
    for shape in ("rectangle", "oval"):
        rows = [float(clear(Outline(shape, float(width), 20.0, 2.0), bore)) for width in size]
        assert clear(Outline(shape, size, 20.0, 2.0), bore) == pytest.approx(rows, abs=1e-6)


@pytest.mark.parametrize("points", [NOTCHED, UNDERCUT, "noisy", "convex"])
def test_ovals_in_a_free_outline_lie_in_a_column_as_each_by_itself_and_as_another_library_has_it(points):
    chance = random.Random(8)
    if points in ("noisy", "convex"):
        rough = 0.03 if points == "noisy" else 0.0
        turns = [(i + 0.5) * tau / 48 for i in range(48)]
        points = [
            (12 * (1 - rough * chance.random()) * cos(t), 10 * (1 - rough * chance.random()) * sin(t)) for t in turns
        ]
    bore = Outline("polyline", points=tuple((float(x), float(y)) for x, y in points))
    widths, heights = (np.array([chance.uniform(4, 26) for _ in range(40)]) for _ in range(2))
    rows = clear(Outline("oval", np.append(widths, np.nan), np.append(heights, 20.0)), bore)
    assert np.isnan(rows[-1])
    for width, height, row in zip(widths.tolist(), heights.tolist(), rows.tolist(), strict=False):
        part = Outline("oval", width, height)
        assert clear(part, bore) == pytest.approx(row, abs=1e-9)
        if row > 0:
            assert row == pytest.approx(measured(part, bore), abs=2e-4)
    assert rows[:-1].min() < 0 < rows[:-1].max()


def test_an_oval_that_stands_out_of_a_convex_outline_by_two_places_is_told_by_the_farther():
    """Both lie between the places that a search begins at, and the nearer one nearer to one of those."""
    turns = [i * tau / 40 for i in range(40)]
    bore = Outline("polyline", points=tuple((15 * cos(turn), 13 * sin(turn)) for turn in turns))
    for size in np.linspace(29.6, 31.6, 21).tolist():
        part = Outline("oval", size, 27.6)
        reach = max(
            -signed(bore, size / 2 * cos(turn), 13.8 * sin(turn)) for turn in np.linspace(0, tau, 20_001).tolist()
        )
        assert clear(part, bore) == pytest.approx(-reach, abs=1e-6)


ROUND = {
    "case.bore_outline": ("case.bore_diameter", 28.7),
    "case.seat_outline": ("case.dial_seat_diameter", 28.6),
    "case.opening_outline": ("case.dial_opening_diameter", 27.6),
    "dial.outline": ("dial.diameter", 28.5),
    "movement.outline": ("movement.overall_diameter", 28.65),
    "movement.fit_outline": ("movement.fit_diameter", 28.6),
}


def as_outline(shape, size):
    if shape == "rectangle":
        return {"shape": shape, "width": size, "height": size, "corner": size / 2}
    if shape == "oval":
        return {"shape": shape, "width": size, "height": size}
    count = 20_000
    turns = [i * tau / count for i in range(count)]
    return {"shape": shape, "points": [[size / 2 * cos(turn), size / 2 * sin(turn)] for turn in turns]}


ONE_BY_ONE = [(shape, [name]) for shape in ("rectangle", "oval", "polyline") for name in ROUND]


@pytest.mark.parametrize(("shape", "which"), [*ONE_BY_ONE, ("rectangle", list(ROUND)), ("oval", list(ROUND))])
def test_a_circle_given_as_an_outline_answers_as_the_circle_does(shape, which):
    changes = {}
    for name in which:
        diameter, size = ROUND[name]
        changes |= {diameter: None, name: as_outline(shape, size)}
    told, plain = check_sheet(sheet(changes)), check_sheet(sheet())
    assert told.verdict == plain.verdict
    for item in plain.checks:
        assert told[item.key].verdict == item.verdict
        assert told[item.key].value.value == pytest.approx(item.value.value, abs=1e-6), item.key


@pytest.mark.parametrize("shape", ["oval", "rectangle"])
@pytest.mark.parametrize("near", [0.01, 0.5, 8.0], ids="within {} mm".format)
def test_an_oval_lies_in_another_shape_as_far_as_the_nearest_of_all_places_on_its_edge(shape, near):
    chance = np.random.default_rng(4)
    turns = np.linspace(0.0, pi / 2, 4001)
    for _ in range(60):
        width, height = chance.uniform(8.0, 40.0, 2)
        other_width, other_height = np.array([width, height]) + chance.uniform(-near, near, 2) * [1.0, 0.7]
        other_width, other_height = max(other_width, 5.0), max(other_height, 5.0)
        corner = chance.uniform(0.0, 0.5) * min(other_width, other_height) if shape == "rectangle" else 0.0
        b = Outline(shape, other_width, other_height, corner)
        searched = np.min(signed(b, width / 2 * np.cos(turns), height / 2 * np.sin(turns)))
        assert clear(Outline("oval", width, height), b) == pytest.approx(searched, abs=1e-5)


def test_of_ovals_that_cross_it_is_neither_their_width_nor_their_height_that_tells():
    a, b = Outline("oval", 20.0, 30.0), Outline("oval", 21.8, 31.76)
    least = clear(a, b)
    assert least < min(b.width - a.width, b.height - a.height) / 2 - 1e-4
    assert least == pytest.approx(clear(Outline("oval", *(np.full(3, size) for size in (20.0, 30.0))), b)[1], abs=1e-12)


def test_an_outline_may_stand_beside_the_diameter_that_it_has():
    assert check_sheet(sheet({"case.bore_outline": as_outline("oval", 28.7)}))["case-bore"].verdict == "fits"


def test_ten_thousand_movements_are_ranked_for_a_rectangular_case_in_two_seconds():
    whole, rules = read_sheet(sheet(deepcopy(RECTANGLE)))
    chance = np.random.default_rng(1)
    columns = [[chance.normal(size, 1.0, 10_000), np.full(10_000, 0.02)] for size in (24.0, 27.0, 3.0)]
    shape = dict(zip(("width", "height", "corner"), columns, strict=True)) | {"shape": "rectangle"}
    movement = read_part("movement", {"outline": shape, "fit_outline": shape})
    many = replace(whole.movement, outline=movement.outline, fit_outline=movement.fit_outline)
    started = time.perf_counter()
    with np.errstate(all="ignore"):
        found = check_columns(replace(whole, movement=many), rules)
    assert time.perf_counter() - started < 2.0
    assert len(set(np.broadcast_to(next(item.rank for item in found if item.key == "case-bore"), 10_000))) > 2
