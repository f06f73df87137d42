"""Edges of a mesh that may be lines of a view: silhouettes, creases, joints of two solids."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.drawing.lines.united import CAP, Array, Numbers, United

CREASE = np.radians(40.0)
"""Folds sharper than this are lines; of round legs and hulls the facets meet flatter [rad]."""
NOSE = np.radians(60.0)
"""The same of lofted surfaces: at the round nose of a profile the facets meet flatter [rad]."""
NEUTRAL = 1e-6
"""A facet whose unit normal has less than this along the view is seen edge on."""

SILHOUETTE, FOLD, JOINT, CUT = 0, 1, 2, 3
"""What an edge is; a joint is where facets of two solids meet, a cut where a plane ended one."""


@dataclass(frozen=True, eq=False)
class Edges:
    """Edges as pairs of points in the picture's axes: right, up, toward the eye [m].

    ends : (n, 2, 3); kind : (n,) one of the four above; owner : (n,) the solid's number
    outward : (n, 2)    unit vectors across each edge, away from its facet toward the eye
    """

    ends: Array
    kind: Numbers
    owner: Numbers
    outward: Array

    def __len__(self) -> int:
        return len(self.kind)

    def chosen(self, which: NDArray[np.bool_]) -> Edges:
        """Those of the edges."""
        return Edges(self.ends[which], self.kind[which], self.owner[which], self.outward[which])


def facing(points: Array, faces: Numbers) -> Array:
    """Of each facet the part of its unit normal toward the eye, shape (m,), and 0 if it is none.

    points : in the picture's axes, shape (n, 3)
    """
    corners = points[faces]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(normal, axis=1)
    return np.asarray(np.where(size > 0.0, normal[:, 2] / np.where(size > 0.0, size, 1.0), 0.0))


def edges_of(solid: United, points: Array, *, back: bool = False) -> Edges:
    """The edges of a solid that may be lines of a view.

    points : those of the solid in the picture's axes, shape (n, 3)
    back : those too that can only lie behind, as both their facets face away
    """
    one, two, first, second = _shared(solid.faces)
    toward = facing(points, solid.faces)
    front, away = toward > NEUTRAL, toward < -NEUTRAL
    turn = _turns(points, solid.faces, first, second)
    near = np.where(front[first], first, second)
    far = np.where(front[first], second, first)
    seen = front[first] | front[second]
    if back:
        seen |= away[first] & away[second]
    silhouette = front[first] ^ front[second]
    one_solid, other = solid.owner[first], solid.owner[second]
    cut = seen & ((one_solid == CAP) != (other == CAP))
    near = np.where(cut, np.where(one_solid == CAP, second, first), near)
    limit = np.where(solid.lofted[one_solid] | solid.lofted[other], NOSE, CREASE)
    fold = seen & (turn > limit)
    joint = seen & _meet(solid, one_solid, other) & ~cut
    hollow = silhouette & ~away[far] & joint
    kept = silhouette | joint | fold | cut
    kind = np.where(silhouette & ~hollow, SILHOUETTE, np.where(joint, JOINT, FOLD))
    kind = np.where(cut, CUT, kind)
    ends = points[np.stack([one, two], axis=1)]
    return Edges(
        ends[kept],
        kind[kept].astype(np.int64),
        solid.owner[near[kept]],
        _outward(ends[kept], points[solid.faces[near[kept]]].mean(axis=1)),
    )


def _meet(solid: United, one: Numbers, other: Numbers) -> NDArray[np.bool_]:
    """Whether facets of these owners are of two things; the two halves of a thing are one."""
    return np.asarray((one != other) & (solid.halves[one] != solid.halves[other]))


def _shared(faces: Numbers) -> tuple[Numbers, Numbers, Numbers, Numbers]:
    """Both points of each edge that two facets share, and the numbers of the two facets."""
    pairs = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    number = np.tile(np.arange(len(faces)), 3)
    low, high = pairs.min(axis=1), pairs.max(axis=1)
    order = np.lexsort((number, high, low))
    low, high, number = low[order], high[order], number[order]
    same = (low[1:] == low[:-1]) & (high[1:] == high[:-1])
    at = np.flatnonzero(same)
    return low[at], high[at], number[at], number[at + 1]


def _turns(points: Array, faces: Numbers, first: Numbers, second: Numbers) -> Array:
    """The angle between the normals of two facets [rad]."""
    corners = points[faces]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    a, b = normal[first], normal[second]
    cross = np.linalg.norm(np.cross(a, b), axis=1)
    return np.asarray(np.arctan2(cross, (a * b).sum(axis=1)))


def _outward(ends: Array, middles: Array) -> Array:
    """Across each edge in the picture, away from the middle of its facet; unit vectors."""
    along = ends[:, 1, :2] - ends[:, 0, :2]
    across = np.stack([-along[:, 1], along[:, 0]], axis=1)
    size = np.linalg.norm(across, axis=1)
    across = across / np.where(size > 0.0, size, 1.0)[:, None]
    inward = ((middles[:, :2] - ends[:, 0, :2]) * across).sum(axis=1) > 0.0
    return np.asarray(np.where(inward[:, None], -across, across))
