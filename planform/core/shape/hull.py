"""The convex hull of points in space, as a closed mesh."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.core.vectors import cross

Array = NDArray[np.float64]
Faces = NDArray[np.int64]

FLAT = 1e-10
"""What stands out of a face by less than this [m] is taken as on it."""


def convex_hull(points: Array) -> tuple[Array, Faces]:
    """Points (k, 3) [m] and outward faces (m, 3) of the hull of points (n, 3) not in one plane.

    Point by point: faces that a point stands out of give way to those from it to their outline.
    What is left outside is under `FLAT`. Raises ValueError where the points lie in one plane.
    """
    faces = _first(points)
    normals, offs = _planes(points, faces)
    while True:
        out = points @ normals.T - offs
        worst = int(np.argmax(out))
        point, _ = divmod(worst, len(faces))
        if out.flat[worst] <= FLAT:
            break
        seen = out[point] > FLAT
        edges = faces[seen][:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
        keys, backs = edges @ [len(points), 1], edges @ [1, len(points)]
        rim = edges[~np.isin(keys, backs)]
        new = np.column_stack([rim, np.full(len(rim), point)])
        normal, off = _planes(points, new)
        faces = np.concatenate([faces[~seen], new])
        normals = np.concatenate([normals[~seen], normal])
        offs = np.concatenate([offs[~seen], off])
    used, faces = np.unique(faces, return_inverse=True)
    return points[used], faces.reshape(-1, 3).astype(np.int64)


def _first(points: Array) -> Faces:
    """A tetrahedron of points far apart, its faces outward."""
    low = int(np.argmin(points[:, 0]))
    a = points[low]
    far = int(np.argmax(((points - a) ** 2).sum(axis=1)))
    along = points[far] - a
    beside = int(np.argmax((cross(points - a, along) ** 2).sum(axis=1)))
    normal = cross(along, points[beside] - a)
    over = (points - a) @ normal
    top = int(np.argmax(np.abs(over)))
    if not abs(over[top]) > FLAT * float(np.linalg.norm(normal)):
        raise ValueError("Expected points not in one plane, got such")
    base = [low, far, beside] if over[top] < 0.0 else [low, beside, far]
    p, q, r = base
    return np.array([[p, q, r], [q, p, top], [r, q, top], [p, r, top]], dtype=np.int64)


def _planes(points: Array, faces: Faces) -> tuple[Array, Array]:
    """Unit normals (m, 3) of faces, and their distances from the origin (m,) [m]."""
    a, b, c = (points[faces[:, k]] for k in range(3))
    normal = cross(b - a, c - a)
    size = np.linalg.norm(normal, axis=1)
    normal = normal / np.where(size > 0.0, size, 1.0)[:, None]
    return normal, (normal * a).sum(axis=1)
