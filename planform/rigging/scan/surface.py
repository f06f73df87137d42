"""The built surface as points with their outward directions, for what is laid on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part
from planform.core.vectors import Array, cross

SPACING = 0.02
"""How far apart the points of the surface lie [m]; what is off it is measured to the facet."""


@dataclass(frozen=True, eq=False)
class SkinPoints:
    """Points of built surfaces.

    at, out : (n, 3) points and unit outward directions of their facets [m]
    part : (n,) number of the part in `parts`
    """

    parts: tuple[Part, ...]
    at: Array
    out: Array
    part: NDArray[np.int64]


def skin_of(parts: Sequence[Part], spacing: float = SPACING) -> SkinPoints:
    """The surfaces of parts as points about this far apart; every facet has one at least."""
    at, out, owner = [], [], []
    for number, part in enumerate(parts):
        points, normals = _facets(part, spacing)
        at.append(points)
        out.append(normals)
        owner.append(np.full(len(points), number))
    return SkinPoints(tuple(parts), np.concatenate(at), np.concatenate(out), np.concatenate(owner))


def _facets(part: Part, spacing: float) -> tuple[Array, Array]:
    """Points on each facet in rows across its shortest side; and their outward directions."""
    corners = part.points[part.faces]
    sides = np.linalg.norm(np.roll(corners, -1, axis=1) - corners, axis=2)
    turn = (np.argmin(sides, axis=1)[:, None] + np.arange(3)) % 3
    corners = np.take_along_axis(corners, turn[:, :, None], axis=1)  # the shortest side first
    square = cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    twice = np.linalg.norm(square, axis=1)
    solid = twice > 1e-12
    corners, normal = corners[solid], square[solid] / twice[solid, None]
    base = corners[:, 1] - corners[:, 0]
    along = corners[:, 2] - 0.5 * (corners[:, 0] + corners[:, 1])
    across, rows = (
        np.maximum(np.ceil(np.linalg.norm(line, axis=1) / spacing).astype(int), 1)
        for line in (base, along)
    )
    found, out = [np.zeros((0, 3))], [np.zeros((0, 3))]
    for wide, deep in np.unique(np.column_stack([across, rows]), axis=0):
        here = (across == wide) & (rows == deep)
        u, v = _grid(int(wide), int(deep))
        spots = (
            corners[here, 0][:, None]
            + u[None, :, None] * base[here][:, None]
            + v[None, :, None] * (corners[here, 2] - corners[here, 0])[:, None]
        )
        found.append(spots.reshape(-1, 3))
        out.append(np.repeat(normal[here], len(u), axis=0))
    return np.concatenate(found), np.concatenate(out)


def _grid(across: int, rows: int) -> tuple[Array, Array]:
    """Shares along a facet's shortest side and toward its far corner, in rows that narrow."""
    v = np.repeat((np.arange(rows) + 0.5) / rows, across)
    u = np.tile((np.arange(across) + 0.5) / across, rows) * (1.0 - v)
    return u, v
