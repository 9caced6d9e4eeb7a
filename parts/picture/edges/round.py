"""Round edges: the circle nearest to a guess, of a part or of a hole in it, and how well it fits."""

from dataclasses import replace
from typing import Literal

import numpy as np

from parts.picture.camera import Array
from parts.picture.edges.face import EDGE, Face, Picked
from parts.picture.edges.fits import fit_circle, on_one_circle
from parts.picture.edges.rays import ALIKE, LEAST_SHARE, Found, edges_along
from parts.picture.edges.strip import ACROSS, RAYS_A_PIECE, part_edges
from parts.picture.edges.whole import weigh
from parts.picture.errors import PictureError

_RAYS = 240
_LAST, _LAST_PIXELS = 0.15, 6.0
"""How near to a round edge it is looked for in the end, mm and pixels, the larger; common practice, no source."""
ROUND = 0.03
"""Standard deviation of an edge about its circle, mm, beyond which it is none; common practice, no source."""
_HIDDEN = 0.5
"""Uncertainty of a circle of a few pixels, as a share of its wall: too little is seen beside its edge to tell it."""
_ASIDE = 4.0
"""How far aside of where it was first seen a circle's middle is looked for, pixels; common practice, no source."""
Side = Literal["inside", "outside"]
"""Where the part lies that a round edge is of: inside its circle, or outside it round a hole."""
_SECTORS = 36
_LEAST_SECTORS = 0.6
"""Share of the sectors whose edges lie on one circle, at least; common practice, no source."""


def circle(face: Face, x: float, y: float, radius: float, reach: float, part: Side) -> Picked:
    """The circle nearest to a guess, within `reach` of its radius: x, y and radius; `part` is where the part lies.

    PictureError where too little of an edge is seen.
    """
    centre, size = np.array([x, y], dtype=float), radius
    last = min(reach, max(_LAST, _LAST_PIXELS * face.pixel))
    for step in (reach, max(0.4 * reach, last), last):
        points = _round_edge(face, centre, size, step)
        centre, size, agreed = fit_circle(points)
    if face.sharp:
        return _circle_of_part(face, centre, size, part)
    _refuse_partial(agreed.sum() / _RAYS)
    points = points[agreed]
    weights = np.full(len(points), 1.0 / (ALIKE * np.var(np.hypot(*(points - centre).T) - size)))
    return _weighed(face, points, weights, float(agreed.sum() / _RAYS))


def _circle_of_part(face: Face, centre: Array, size: float, part: Side) -> Picked:
    """A part's round edge near a circle, by the light across it in every sector."""
    outwards = 1.0 if part == "inside" else -1.0
    angles = (np.arange(_SECTORS * RAYS_A_PIECE) + 0.5) * 2 * np.pi / (_SECTORS * RAYS_A_PIECE)
    directions = np.column_stack([np.cos(angles), np.sin(angles)])
    spokes = directions.reshape(_SECTORS, RAYS_A_PIECE, 2).mean(axis=1)
    spokes /= np.hypot(*spokes.T)[:, None]
    design = outwards * np.column_stack([spokes, np.ones(_SECTORS)])
    steps = [np.arange(-_ASIDE, _ASIDE + 1e-9, 0.5)] * 2 + [np.arange(-_ASIDE, _ASIDE + 1e-9, 0.25)]
    sharps = face.sharp_along(spokes)
    for _ in range(2):
        room = min(ACROSS, 0.8 * size / face.pixel)
        seen = face.across(centre + directions * size, outwards * directions, room)
        edges = part_edges(seen.reshape(_SECTORS, RAYS_A_PIECE, -1).mean(axis=1), sharps)
        _refuse_partial(np.isfinite(edges.places).mean())
        walls = face.walls(centre + spokes * size, outwards * spokes)
        shape = weigh(edges, design, steps, walls, face.sharp)
        centre, size = centre + shape.numbers[:2] * face.pixel, size + shape.numbers[2] * face.pixel
    if shape.share < _LEAST_SECTORS:
        seen_off = (edges.places - design @ shape.numbers)[np.isfinite(edges.places)]
        _refuse_oval(float(seen_off.std() * face.pixel))
    there = np.isfinite(shape.places)
    _refuse_partial(there.mean())
    off = outwards * (shape.places - design @ shape.numbers) * face.pixel
    points = (centre + spokes * (size + off)[:, None])[there]
    rooms = shape.rooms[there] * face.pixel
    hidden = _HIDDEN * walls.max() * (1 - room / ACROSS) * face.pixel
    picked = _weighed(face, points, rooms**-2, shape.share, hidden)
    return replace(picked, own=picked.own + shape.covariance * face.pixel**2)


def _round_edge(face: Face, centre: Array, radius: float, reach: float) -> Array:
    """The edge of the circle that most of the light's steps near another circle lie on.

    A part that throws a shadow is lighter than what lies beside it on one side and darker on the other: the edges
    of both senses lie on one circle, and the shadow's own edge does not.
    """
    edges, starts, directions = _rays(face, centre, radius, reach)
    candidates = starts + directions * edges.places[..., None]
    points = on_one_circle(candidates, edges.meant(reach), face.pixel)
    if len(points) < 8:
        raise PictureError("No edge is seen there.", "Pick nearer to the edge, or give more light from two sides.")
    return points


def _rays(face: Face, centre: Array, radius: float, reach: float) -> tuple[Found, Array, Array]:
    """The edges along rays across a circle, with the start and the direction of each ray."""
    angles = np.arange(_RAYS) * 2 * np.pi / _RAYS
    directions = np.column_stack([np.cos(angles), np.sin(angles)])
    starts = centre + directions * radius
    return edges_along(face, starts, directions, reach), starts, directions


def _weighed(face: Face, points: Array, weights: Array, share: float, room: float = 0.0) -> Picked:
    """The circle through places of its edge, each with a weight (1/mm²); all are uncertain by `room` together."""
    centre, size, _ = fit_circle(points, weights, outliers=False)
    off = np.hypot(*(points - centre).T) - size
    fit = float(off.std())
    if fit > max(ROUND, 0.6 * face.pixel):
        _refuse_oval(fit)
    normal = (points - centre) / np.hypot(*(points - centre).T)[:, None]
    design = np.column_stack([normal, np.ones(len(points))])
    own = np.linalg.pinv((design.T * weights) @ design)
    solve = own @ (design.T * weights)
    size += _curved(face, size)
    along = np.einsum("ij,ijk->ik", normal, face.plane.sway(points))
    own = own * max(1.0, float((weights * off**2).sum() / max(1, len(points) - 3)))
    room = np.hypot(room, 0.5 * _curved(face, size))
    own += np.diag([0.25 * room**2, 0.25 * room**2, room**2 + (EDGE * face.pixel) ** 2])
    return Picked(np.array([*centre, size]), solve @ along, own, fit, share)


def _curved(face: Face, size: float) -> float:
    """How much too small a blurred circle looks, mm: the steepest light lies so far within it."""
    return (face.sharp * face.pixel) ** 2 / (2 * size)


def _refuse_partial(share: float) -> None:
    if share < LEAST_SHARE:
        raise PictureError(
            f"Only {share:.0%} of a circle's edge is seen there.",
            "Pick nearer to the edge, or give more light from two sides.",
        )


def _refuse_oval(fit: float) -> None:
    raise PictureError(
        f"The edge that is seen there is no circle: it lies {fit:.2f} mm off one.",
        "Look for a shadow or a second edge beside it, and give light from two sides.",
    )
