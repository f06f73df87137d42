"""A convex solid cut off at a height: what of a loaded tyre stands over the floor."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.loft import Mesh

Array = NDArray[np.float64]


def above(points: Array, faces: NDArray[np.int64], height: float) -> Mesh:
    """What of a closed convex mesh lies over a height, closed again by a flat face there.

    points : (n, 3) [m] ; faces : (m, 3), outward ; height : of the plane, along z [m]
    A mesh that lies over the plane, or has nothing over it, is given back as it is.
    """
    over = points[:, 2] > height
    if over.all() or not over.any():
        return points, faces
    cut = _Cut(points, over, height)
    kept: list[tuple[int, int, int]] = []
    for face in faces.tolist():
        kept += _fan(cut.ring(face))
    kept += _fan(cut.lid())
    used, index = np.unique(np.array(kept, dtype=np.int64), return_inverse=True)
    return np.array(cut.corners)[used], index.reshape(-1, 3).astype(np.int64)


def _fan(ring: list[int]) -> list[tuple[int, int, int]]:
    return [(ring[0], ring[k], ring[k + 1]) for k in range(1, len(ring) - 1)]


class _Cut:
    """The corners of a mesh that is cut, and the rim where the plane goes through its faces."""

    def __init__(self, points: Array, over: NDArray[np.bool_], height: float) -> None:
        self.points, self.over, self.height = points, over, height
        self.corners = list(points)
        self._made: dict[tuple[int, int], int] = {}
        self._rim: dict[int, int] = {}

    def _crossing(self, a: int, b: int) -> int:
        """The corner where an edge goes through the plane."""
        key = (min(a, b), max(a, b))
        if key not in self._made:
            low, high = self.points[a], self.points[b]
            corner = low + (self.height - low[2]) / (high[2] - low[2]) * (high - low)
            corner[2] = self.height
            self._made[key] = len(self.corners)
            self.corners.append(corner)
        return self._made[key]

    def ring(self, face: list[int]) -> list[int]:
        """What of a face lies over the plane; its side on the plane is kept as rim."""
        out: list[int] = []
        leaving = entering = -1
        for a, b in zip(face, face[1:] + face[:1], strict=True):
            if self.over[a]:
                out.append(a)
            if self.over[a] == self.over[b]:
                continue
            out.append(self._crossing(a, b))
            if self.over[a]:
                leaving = out[-1]
            else:
                entering = out[-1]
        if leaving >= 0:
            self._rim[entering] = leaving
        return out

    def lid(self) -> list[int]:
        """The rim as a ring, the way round that closes the faces over it."""
        loop = [next(iter(self._rim))]
        while self._rim[loop[-1]] != loop[0]:
            loop.append(self._rim[loop[-1]])
        return loop
