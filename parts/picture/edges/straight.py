"""Straight edges: one near a guess, or the four of an opening, and how well each fits."""

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from parts.picture.camera import Array
from parts.picture.edges.face import EDGE, Face, Picked
from parts.picture.edges.fits import fit_line
from parts.picture.edges.frame import in_frame
from parts.picture.edges.rays import ALIKE, LEAST_SHARE, edges_along
from parts.picture.edges.strip import ACROSS, RAYS_A_PIECE, part_edges
from parts.picture.edges.whole import weigh
from parts.picture.errors import PictureError

_FRAMED = 0.6
"""Uncertainty of an edge beside a narrow frame, pixels; common practice, no source."""
_FADE = 0.6
"""Share of a frame's width within which its inner edge is looked for; common practice, no source."""
_WITHIN = 0.84
"""Share of a side of an opening whose light is looked at: its corners are rounded."""
_ASIDE = 4.0
"""How far aside of where it was first seen an edge is looked for, at its middle and, aslant, at its ends, pixels."""
_HIDDEN = 0.5
"""Uncertainty of an edge, as a share of its wall where that faces the camera and is not told from the face."""
_BESIDE_LINE = 5
"""Rays side by side along a straight edge whose light is taken together: they lie a pixel apart."""


def line(face: Face, start: ArrayLike, end: ArrayLike, reach: float, *, rise: float = 0.0) -> Picked:
    """The strongest straight edge nearest to a guess: its middle's x and y, and its direction in radians.

    `rise` is 1 where its light steps up to the right of the way from start to end, -1 where it steps down, 0 for
    either.
    """
    begin, finish = np.asarray(start, dtype=np.float64), np.asarray(end, dtype=np.float64)
    if np.hypot(*(finish - begin)) < 2 * reach:
        raise PictureError("The two points lie too near each other.", "Point at both ends of the edge.")
    for step in (reach, 0.5 * reach):
        along = (finish - begin) / np.hypot(*(finish - begin))
        across = np.array([-along[1], along[0]])
        length = float(np.hypot(*(finish - begin)))
        count = max(12, int(length / face.pixel))
        shares = np.linspace(0.08, 0.92, count)
        starts = begin + np.outer(shares, finish - begin)
        across_it = edges_along(face, starts, np.tile(across, (count, 1)), step, beside=_BESIDE_LINE, rise=rise)
        places = across_it.nearest(step)
        seen = np.isfinite(places)
        if seen.sum() < max(6, LEAST_SHARE * count):
            raise PictureError(
                "No straight edge is seen there.", "Pick along the edge, or give more light from two sides."
            )
        stations, places = shares[seen] * length, places[seen]
        slope, level, agreed = fit_line(stations, places)
        begin, finish = (at + across * (level + slope * place) for at, place in ((begin, 0.0), (finish, length)))
    stations, places = stations[agreed], places[agreed]
    fit = float((places - level - slope * stations).std())
    points = begin + np.outer(stations / length, finish - begin)
    middle = 0.5 * (begin + finish)
    along = (finish - begin) / np.hypot(*(finish - begin))
    across = np.array([-along[1], along[0]])
    design = np.column_stack([np.ones(len(stations)), stations - 0.5 * length])
    solve = np.linalg.pinv(design)
    moved = solve @ np.einsum("j,ijk->ik", across, face.plane.sway(points))
    alike = max(float(_BESIDE_LINE), ALIKE / 3)
    own = solve @ solve.T * (fit**2 * alike)
    own[0, 0] += (EDGE * face.pixel) ** 2
    spread = np.array([[across[0], 0.0], [across[1], 0.0], [0.0, 1.0]])
    angle = float(np.arctan2(along[1], along[0]))
    return Picked(np.array([*middle, angle]), spread @ moved, spread @ own @ spread.T, fit, float(agreed.mean()))


def box(face: Face, corners: ArrayLike, reach: float) -> list[Picked]:
    """The four edges of an opening, near those between its `corners` (4 x 2), one after another round it.

    Along each may lie the wall of the opening or its shadow; a strip along all four is its frame, which it ends in.
    """
    places = np.asarray(corners, dtype=np.float64)
    if face.sharp and (framed := in_frame(face, places, reach)):
        near = min(reach, max(_FADE * framed.width, 2 * face.pixel))
        sides = zip(_sides(framed.corners), framed.rises, strict=True)
        return [_beside_frame(face, line(face, *side, near, rise=float(rise))) for side, rise in sides]
    edges = [line(face, *pair, reach) for pair in _sides(places)]
    if not face.sharp:
        return edges
    outer = _crossings(edges)
    middle = outer.mean(axis=0)
    return [_line_of_part(face, edge, *pair, middle) for edge, pair in zip(edges, _sides(outer), strict=True)]


def _sides(corners: Array) -> list[tuple[Array, Array]]:
    return list(zip(corners, np.roll(corners, -1, axis=0), strict=True))


def _crossings(edges: list[Picked]) -> Array:
    """Where each of four edges meets the one before it."""
    along = np.array([[np.cos(edge.values[2]), np.sin(edge.values[2])] for edge in edges])
    across = np.column_stack([-along[:, 1], along[:, 0]])
    level = (across * np.array([edge.values[:2] for edge in edges])).sum(axis=1)
    pairs = [[i - 1, i] for i in range(4)]
    return np.array([np.linalg.solve(across[pair], level[pair]) for pair in pairs])


def _beside_frame(face: Face, edge: Picked) -> Picked:
    """An edge that the far side of a narrow strip sways, and the wall behind it: uncertain by as much."""
    across = np.array([-np.sin(edge.values[2]), np.cos(edge.values[2])])
    wall = float(max(face.walls(edge.values[None, :2], way * across[None])[0] for way in (1.0, -1.0)))
    room = float(np.hypot(_FRAMED, _HIDDEN * wall)) * face.pixel
    sway = np.append(across, 0.0)
    return replace(edge, own=edge.own + np.outer(sway, sway) * room**2)


def _line_of_part(face: Face, edge: Picked, start: Array, end: Array, middle: Array) -> Picked:
    """The part's edge near a straight one, by the light across it in pieces."""
    along = np.array([np.cos(edge.values[2]), np.sin(edge.values[2])])
    half = 0.5 * float(np.hypot(*(end - start)))
    centre = edge.values[:2] + along * (along @ (0.5 * (start + end) - edge.values[:2]))
    inwards = np.array([-along[1], along[0]])
    inwards *= np.sign(inwards @ (middle - centre))
    pieces = int(np.clip(half / face.pixel / 2, 4, 12))
    shares = ((np.arange(pieces * RAYS_A_PIECE) + 0.5) / (pieces * RAYS_A_PIECE) * 2 - 1) * _WITHIN
    starts = centre + np.outer(shares * half, along)
    seen = face.across(starts, np.tile(inwards, (len(starts), 1)), ACROSS)
    sharps = face.sharp_along(inwards[None])
    edges = part_edges(seen.reshape(pieces, RAYS_A_PIECE, -1).mean(axis=1), np.repeat(sharps, pieces))
    if np.isfinite(edges.places).sum() < 3:
        return edge
    middles = shares.reshape(pieces, -1).mean(axis=1)
    design = np.column_stack([np.ones(pieces), middles])
    shape = weigh(edges, design, [np.arange(-_ASIDE, _ASIDE + 1e-9, 0.25)] * 2, np.zeros(pieces), face.sharp)
    there = np.isfinite(shape.places)
    if there.sum() < 3:
        return edge
    to_mm = face.pixel * np.array([1.0, 1.0 / half])
    level, slope = shape.numbers * to_mm
    turned = along + slope * inwards
    stations, off = middles[there] * half, (shape.places - design @ shape.numbers)[there] * face.pixel
    points = centre + np.outer(stations, along) + np.outer(level + slope * stations, inwards)
    own = _straight(
        face, centre + level * inwards, turned, points, stations, (shape.rooms[there] * face.pixel) ** -2, off
    )
    wall = float(face.walls(centre[None], inwards[None])[0])
    strip = float(np.nanmean(edges.strips))
    hidden = _HIDDEN * max(0.0, wall - strip)
    spread = np.column_stack([np.append(inwards, 0.0), [0.0, 0.0, np.sign(inwards @ [-along[1], along[0]])]])
    shared = shape.covariance * np.outer(to_mm, to_mm)
    shared[0, 0] += (hidden * face.pixel) ** 2
    return replace(own, own=own.own + spread @ shared @ spread.T)


def _straight(
    face: Face, middle: Array, along: Array, points: Array, stations: Array, weights: Array, off: Array
) -> Picked:
    """The straight edge through places of it, `stations` along it and `off` it by so much, with weights (1/mm²)."""
    along = along / np.hypot(*along)
    across = np.array([-along[1], along[0]])
    design = np.column_stack([np.ones(len(stations)), stations])
    own = np.linalg.pinv((design.T * weights) @ design)
    moved = own @ (design.T * weights) @ np.einsum("j,ijk->ik", across, face.plane.sway(points))
    own = own * max(1.0, float((weights * off**2).sum() / max(1, len(stations) - 2)))
    own[0, 0] += (EDGE * face.pixel) ** 2
    spread = np.array([[across[0], 0.0], [across[1], 0.0], [0.0, 1.0]])
    angle = float(np.arctan2(along[1], along[0]))
    return Picked(np.array([*middle, angle]), spread @ moved, spread @ own @ spread.T, float(off.std()), 1.0)
