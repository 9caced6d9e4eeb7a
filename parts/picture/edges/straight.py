"""Straight edges: one near a guess, or the four of an opening, and how well each fits."""

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from parts.picture.camera import Array
from parts.picture.edges.face import EDGE, Face, Picked
from parts.picture.edges.fits import fit_line
from parts.picture.edges.rays import ALIKE, LEAST_SHARE, edges_along
from parts.picture.edges.strip import ACROSS, FLOOR, RAYS_A_PIECE, part_edges, room_of
from parts.picture.errors import PictureError

_FRAME = 2.0
"""Width of a strip all round an opening, pixels, from which it is its frame; common practice, no source."""
_FRAMED = 0.4
"""Uncertainty of an edge beside a narrow frame, pixels; common practice, no source."""
_EVEN = 1.5
"""How far a frame's width differs from side to side, pixels; common practice, no source."""
_BESIDE_LINE = 5
"""Rays side by side along a straight edge whose light is taken together: they lie a pixel apart."""


def line(face: Face, start: ArrayLike, end: ArrayLike, reach: float) -> Picked:
    """The strongest straight edge nearest to a guess: its middle's x and y, and its direction in radians."""
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
        across_it = edges_along(face, starts, np.tile(across, (count, 1)), step, beside=_BESIDE_LINE)
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


def box(face: Face, corners: ArrayLike, reach: float, *, framed: bool = False) -> list[Picked]:
    """The four edges of an opening, near those between its `corners` (4 x 2), one after another round it.

    Along each may lie the wall of the opening or its shadow. A strip along all four is a frame, and ends where
    the corners are; `framed` where that is known.
    """
    places = np.asarray(corners, dtype=np.float64)
    middle = places.mean(axis=0)
    pairs = list(zip(places, np.roll(places, -1, axis=0), strict=True))
    edges = [line(face, *pair, reach) for pair in pairs]
    of_part = edges
    if face.sharp and not framed:
        of_part = [_line_of_part(face, edge, *pair, middle) for edge, pair in zip(edges, pairs, strict=True)]
        framed = _is_frame(face, edges, of_part, middle)
    return [_beside_frame(face, edge) for edge in edges] if framed else of_part


def _beside_frame(face: Face, edge: Picked) -> Picked:
    """An edge that the far side of a narrow strip sways: its place is as uncertain as the blur reaches over."""
    across = np.array([-np.sin(edge.values[2]), np.cos(edge.values[2]), 0.0])
    return replace(edge, own=edge.own + np.outer(across, across) * (_FRAMED * face.pixel) ** 2)


def _is_frame(face: Face, inner: list[Picked], outer: list[Picked], middle: Array) -> bool:
    """Whether what lies between four edges of an opening and four farther out is as wide all round, or lighter.

    No wall and no shadow is.
    """
    within = np.array([edge.values[:2] for edge in inner])
    without = np.array([edge.values[:2] for edge in outer])
    inwards = (middle - within) / np.hypot(*(middle - within).T)[:, None]
    widths = ((within - without) * inwards).sum(axis=1) / face.pixel
    if widths.min() < _FRAME:
        return False
    if np.ptp(widths) < _EVEN:
        return True
    beyond = within + (within - without)
    return bool((face.values(0.5 * (within + without)) > face.values(beyond)).all())


def _line_of_part(face: Face, edge: Picked, start: Array, end: Array, middle: Array) -> Picked:
    """The part's edge near a straight one, by the light across it in pieces."""
    along = np.array([np.cos(edge.values[2]), np.sin(edge.values[2])])
    length = float(np.hypot(*(end - start)))
    inwards = np.array([-along[1], along[0]])
    inwards *= np.sign(inwards @ (middle - edge.values[:2]))
    pieces = int(np.clip(length / face.pixel / 4, 4, 12))
    steps = (np.arange(pieces * RAYS_A_PIECE) + 0.5) / (pieces * RAYS_A_PIECE) * 0.84 - 0.42
    starts = edge.values[:2] + np.outer(steps * length, along)
    seen = face.across(starts, np.tile(inwards, (len(starts), 1)), ACROSS)
    edges = part_edges(seen.reshape(pieces, RAYS_A_PIECE, -1).mean(axis=1), face.sharp)
    there = np.isfinite(edges.places)
    if there.sum() < 3:
        return edge
    stations = steps.reshape(pieces, -1).mean(axis=1)[there] * length
    weights = 1.0 / ((edges.uncertainties[there] ** 2 + FLOOR**2) * face.pixel**2)
    at = edges.places[there] * face.pixel
    slope, level, agreed = fit_line(stations, at, weights)
    stations, weights, off = stations[agreed], weights[agreed], (at - level - slope * stations)[agreed]
    turned = along + slope * inwards
    points = edge.values[:2] + np.outer(stations, along) + np.outer(level + slope * stations, inwards)
    beside = float(np.median(room_of(edges.strips[there])))
    own = _straight(face, edge.values[:2] + level * inwards, turned, points, stations, weights, off)
    of_strip = np.zeros((3, 3))
    of_strip[:2, :2] = np.outer(inwards, inwards) * (beside * face.pixel) ** 2
    return replace(own, own=own.own + of_strip)


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
