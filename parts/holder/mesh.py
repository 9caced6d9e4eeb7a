"""Steps of building to a mesh, by manifold3d; the mesh made fit for files, and cut for drawings."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, TypeAlias

import numpy as np
from manifold3d import CrossSection, FillRule, Manifold, Mesh64
from numpy.typing import NDArray

from parts.holder.body import HAIR, named_steps, steps
from parts.holder.edges import Polygon, direction, facets, rings
from parts.holder.parameters import Piece
from parts.holder.shapes import Bore, Engraving, Pin, Prism, Shape, Step, Strip, Turned, set_off
from parts.holder.thin import splinters

Outline: TypeAlias = NDArray[Any]
"""A polygon as rows of (x, y)."""
CRUMB = 0.05
"""Pieces of less than this, mm³, are left out: no process makes them; common practice, no source."""
_TRIES = 3
GRID = 1e-4
"""Vertices nearer than this are one, mm: single precision in a file would make cracks of less (measured)."""
MOST_CHANGED = 1e-4
"""Most that simplifying a body may change it, mm³ (measured: less where it is right, 7 to 25 times that where not)."""


@dataclass(frozen=True, slots=True)
class Mesh:
    """A triangle mesh: corners in mm as rows of `points`, `faces` as rows of three of their numbers."""

    points: NDArray[np.float32]
    faces: NDArray[Any]

    @property
    def open_edges(self) -> int:
        """How many edges have not exactly one face on either side; 0 for a watertight body."""
        ends = np.concatenate([self.faces[:, [0, 1]], self.faces[:, [1, 2]], self.faces[:, [2, 0]]]).astype(np.int64)
        count = len(self.points)
        there, counts = np.unique(ends[:, 0] * count + ends[:, 1], return_counts=True)
        back = (there % count) * count + there // count
        return int(np.count_nonzero(counts != 1) + np.count_nonzero(~np.isin(back, there)))

    @property
    def volume(self) -> float:
        """mm³, by the divergence theorem."""
        a, b, c = (self.points[self.faces[:, i]].astype(float) for i in range(3))
        return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)


@dataclass(frozen=True, slots=True)
class Body:
    """A piece as it is built: its steps, what they make, its mesh, and the heights of splinters that stay, mm."""

    steps: tuple[Step, ...]
    solid: Manifold
    mesh: Mesh
    splinters: tuple[float, ...]


@lru_cache(maxsize=64)
def body_of(parameters: Piece) -> Body:
    """The piece's Body; where it would be open or splinter, what nearly touches is set off by hairs."""
    plain = steps(parameters)
    body = _body(plain)
    for hairs in range(1, _TRIES + 1):
        if not body.mesh.open_edges and not body.splinters:
            break
        body = _body(set_off(step, HAIR * hairs * (1 + 0.37 * (i % 4))) for i, step in enumerate(plain))
    return body


def _body(plan: Iterable[Step]) -> Body:
    done = tuple(plan)
    solid = _without_crumbs(_built(done))
    return Body(done, solid, mesh_of(solid), tuple(splinters(solid)))


def solid_of(parameters: Piece) -> Manifold:
    """The piece as a Manifold, without crumbs that no process makes."""
    return body_of(parameters).solid


def splits_at(parameters: Piece) -> str:
    """The name of the dimension whose step leaves the piece in more than one; empty where it is all in one."""
    return _first(parameters, lambda solid: len(solid.decompose()) > 1)


def opens_at(parameters: Piece) -> str:
    """The name of the dimension whose step leaves the surface open, although set off; empty where it is closed."""
    return _first(parameters, lambda solid: bool(mesh_of(solid).open_edges))


def _first(parameters: Piece, wrong: Callable[[Manifold], bool]) -> str:
    """The name of the first step after which that is so; empty where it is not so in the end."""
    if not wrong(solid_of(parameters)):
        return ""
    done: list[Step] = []
    name = ""
    for (name, _), step in zip(named_steps(parameters), body_of(parameters).steps, strict=True):
        done.append(step)
        if wrong(_without_crumbs(_built(done))):
            return name
    return name


def _built(plan: Iterable[Step]) -> Manifold:
    body = None
    for step in plan:
        solid = solid_in(step.solid)
        body = solid if body is None else body - solid if step.cut else body + solid
    return body


def _without_crumbs(solid: Manifold) -> Manifold:
    pieces = solid.decompose()
    if len(pieces) < 2:
        return solid
    whole = [piece for piece in pieces if piece.volume() >= CRUMB]
    return Manifold.compose(whole) if whole else solid


def mesh_of(solid: Manifold) -> Mesh:
    """The Manifold's mesh with near-equal corners made one.

    It is simplified first, but not where that takes off or fills in more than the grid does: it skews a side at times.
    """
    simpler = solid.simplify(GRID)
    raw = (simpler if abs(simpler.volume() - solid.volume()) <= MOST_CHANGED else solid).to_mesh()
    points = np.asarray(raw.vert_properties[:, :3], dtype=np.float32)
    _, first, number = np.unique(
        np.round(points / GRID).astype(np.int64), axis=0, return_index=True, return_inverse=True
    )
    faces = number.reshape(-1)[np.asarray(raw.tri_verts)]
    a, b, c = faces.T
    return Mesh(points[first], faces[(a != b) & (b != c) & (a != c)])


def for_printing(mesh: Mesh, *, upside_down: bool) -> Mesh:
    """The mesh as it lies on the plate, z from 0 upwards; turned over about the x axis where that is wanted."""
    points = mesh.points.astype(float)
    if upside_down:
        points = points * (1.0, -1.0, -1.0)
    points = points - (0.0, 0.0, points[:, 2].min())
    return Mesh(points.astype(np.float32), mesh.faces)


def level(solid: Manifold, z: float) -> list[Outline]:
    """The outlines of the piece at a height, as lists of (x, y)."""
    return [np.asarray(ring) for ring in solid.slice(z).to_polygons()]


def along(solid: Manifold, angle: float) -> list[Outline]:
    """The outlines of the section through the axis at an angle, as lists of (distance along that angle, z)."""
    turned = solid.rotate((0.0, 0.0, 90.0 - angle)).rotate((-90.0, 0.0, 0.0))
    return [np.asarray(ring) for ring in turned.slice(1e-6).to_polygons()]


def disc(x: float, y: float, radius: float) -> CrossSection:
    """A full circle as a CrossSection."""
    return CrossSection.circle(radius, facets(radius)).translate((x, y))


def cross_section(outlines: Iterable[Outline]) -> CrossSection:
    """Outlines, holes included, as one CrossSection."""
    return CrossSection([np.asarray(ring) for ring in outlines], FillRule.EvenOdd)


def solid_in(shape: Shape) -> Manifold:
    """One of the shapes as a Manifold."""
    match shape:
        case Turned(corners):
            outline = CrossSection([np.asarray(corners)], FillRule.NonZero)
            return outline.revolve(facets(max(radius for radius, _ in corners)))
        case Strip(angle, width, inner, outer, low, high):
            bar = CrossSection([[(0, -width / 2), (outer * 2, -width / 2), (outer * 2, width / 2), (0, width / 2)]])
            area = (bar ^ disc(0, 0, outer)) - disc(0, 0, inner) if inner > 0 else bar ^ disc(0, 0, outer)
            return area.rotate(angle - 90).extrude(high - low).translate((0, 0, low))
        case Pin(angle, radius, diameter, low, high):
            x, y = direction(angle)
            return disc(x * radius, y * radius, diameter / 2).extrude(high - low).translate((0, 0, low))
        case Bore(angle, diameter, axis, inner, outer):
            rod = Manifold.cylinder(outer - inner, diameter / 2, diameter / 2, facets(diameter / 2))
            return rod.rotate((0, 90, 0)).translate((inner, 0, axis)).rotate((0, 0, angle - 90))
        case Engraving(contours, low, high):
            return cross_section(map(np.asarray, contours)).extrude(high - low).translate((0, 0, low))
        case Prism(outline, levels):
            return _lofted(rings(outline, [by for _, by in levels]), [z for z, _ in levels])
    raise TypeError(shape)


def _lofted(polygons: list[Polygon], heights: list[float]) -> Manifold:
    """The body through polygons of as many corners, one above the other; straight up where they are all the same."""
    first = polygons[0]
    if all(ring is first for ring in polygons):
        area = CrossSection([first], FillRule.NonZero)
        return area.extrude(heights[-1] - heights[0]).translate((0, 0, heights[0]))
    count, tall = len(first), len(polygons)
    points = np.concatenate([np.insert(ring, 2, z, axis=1) for ring, z in zip(polygons, heights, strict=True)])
    here, after = np.arange(count), np.roll(np.arange(count), -1)
    faces = []
    for below in range(0, count * (tall - 1), count):
        above = below + count
        faces += [np.column_stack([below + here, below + after, above + after])]
        faces += [np.column_stack([below + here, above + after, above + here])]
    fan = np.column_stack([np.zeros(count - 2, int), here[1:-1], here[2:]])
    faces += [fan[:, ::-1], fan + count * (tall - 1)]
    return Manifold(Mesh64(points, np.concatenate(faces).astype(np.uint64)))
