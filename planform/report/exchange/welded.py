"""Meshes made ready for other programs: each point once, no facet without an area."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Index = NDArray[np.int64]

PLACES = 6
"""Decimal places of a coordinate in mm: a millionth of a millimetre."""
THIN = 1e-4
"""A facet less high than this is taken out, by turning the edge that it lies along [mm]."""


def welded(points: Array, faces: Index) -> tuple[Array, Index]:
    """The same closed mesh with rounded points, each held once, and without thin facets.

    points : (n, 3) [mm]; faces : (m, 3), outward
    Where points that fall together would open the mesh or join it to itself, they stay apart.
    """
    fine = np.round(points, PLACES) + 0.0  # no minus zero
    once, where = np.unique(fine, axis=0, return_inverse=True)
    joined = where.reshape(-1)[faces]
    same = (joined == np.roll(joined, 1, axis=1)).any(axis=1)
    if not closed(joined[~same]):
        return fine, without_thin(fine, faces)
    joined = without_thin(once, joined[~same])
    used, again = np.unique(joined, return_inverse=True)
    return once[used], again.reshape(-1, 3)


def closed(faces: Index) -> bool:
    """Whether every edge has one facet on each side, turning the same way around."""
    ends = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    if not len(ends):
        return False
    size = int(ends.max()) + 1
    there, back = ends[:, 0] * size + ends[:, 1], ends[:, 1] * size + ends[:, 0]
    edges = np.unique(there)
    return len(edges) == len(there) and bool(np.array_equal(edges, np.unique(back)))


def heights(points: Array, faces: Index) -> Array:
    """How high each facet is over its longest edge, shape (m,)."""
    corners = points[faces]
    sides = np.roll(corners, -1, axis=1) - corners
    longest = np.linalg.norm(sides, axis=2).max(axis=1)
    twice = np.linalg.norm(np.cross(sides[:, 0], sides[:, 1]), axis=1)
    return np.asarray(twice / np.where(longest > 0.0, longest, 1.0))


def without_thin(points: Array, faces: Index) -> Index:
    """The faces without thin ones; one whose edge cannot be turned stays.

    A thin facet and the one across its longest edge are a quadrilateral; it is cut along its
    other diagonal. Its surface moves by no more than the thin facet was high.
    """
    faces = faces.copy()
    kept: set[int] = set()
    for _ in range(2 * len(faces)):
        thin = [k for k in np.flatnonzero(heights(points, faces) < THIN) if k not in kept]
        if not thin:
            break
        if not _turned(points, faces, int(thin[0])):
            kept.add(int(thin[0]))
    return faces


def _turned(points: Array, faces: Index, thin: int) -> bool:
    """Turn the longest edge of a facet, in place; whether that could be done."""
    face = faces[thin]
    k = int(np.linalg.norm(points[np.roll(face, -1)] - points[face], axis=1).argmax())
    i, j, apex = (int(face[(k + step) % 3]) for step in range(3))
    for step in range(3):
        across = np.flatnonzero((faces[:, step] == j) & (faces[:, (step + 1) % 3] == i))
        if len(across) == 1:
            other = int(across[0])
            far = int(faces[other, (step + 2) % 3])
            both = (faces == far).any(axis=1) & (faces == apex).any(axis=1)
            if far == apex or both.any():
                return False  # they have an edge already
            faces[thin], faces[other] = (apex, i, far), (j, apex, far)
            return True
    return False
