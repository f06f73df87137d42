"""The least distances of all meshes of a group to all of a group of convex ones, measured at once.

The same exact distances as `planform.core.shape.distance` gives for one pair. The triangles of all
pairs are measured together, and of a convex mesh only what faces the other one: what is nearest
lies on a face that the other is outside of.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.distance import (
    BATCH,
    BLOCK,
    TOUCHING,
    Nearest,
    box_gap,
    normals_of,
    point_within,
    triangle_triangle,
)

Array = NDArray[np.float64]
Ints = NDArray[np.int64]

Mesh = tuple[Array, Ints]
"""Points, shape (n, 3) [m], and faces, shape (m, 3)."""

FIRST_ROWS, FIRST_PAIRS = 2, 3
"""Triangles of a mesh, and pairs of triangles, that the first distance of two meshes is the least
of; any number gives the same answer."""


def nearest_of_all(
    firsts: Sequence[Mesh], seconds: Sequence[Mesh], limit: float
) -> Iterator[tuple[int, int, Nearest]]:
    """The least distance of each of the first meshes to each of the second, where within a limit.

    seconds : convex ones, their faces wound outward
    limit : distances above this are of no interest [m]
    Zero where two cross, or one holds the other. In the order of the first meshes.
    """
    if not firsts or not seconds:
        return
    found: dict[tuple[int, int], Nearest] = {}
    sizes = np.cumsum([len(faces) for _, faces in firsts])
    start = 0
    most = max(len(faces) for _, faces in seconds)
    step = max(1, 10 * BLOCK // (int(sizes[-1]) * most))
    while start < len(seconds):
        some = seconds[start : start + step]
        for (i, j), nearest in _Group(firsts, some, limit).search().items():
            found[i, start + j] = nearest
        start += step
    for i, j in itertools.product(range(len(firsts)), range(len(seconds))):
        near = found.get((i, j))
        if near is None or near.distance > 0.0:
            held = _held(firsts[i], seconds[j])
            near = near if held is None else Nearest(0.0, held, held)
        if near is not None and near.distance <= limit:
            yield i, j, near


def _held(one: Mesh, other: Mesh) -> Array | None:
    """A point of a piece of one of two meshes that lies inside the other, None where there is none.

    Only pieces of meshes whose boxes overlap can.
    """
    low = np.maximum(one[0].min(axis=0), other[0].min(axis=0))
    high = np.minimum(one[0].max(axis=0), other[0].max(axis=0))
    if (low > high).any():
        return None
    inner = point_within(*one, *other)
    return point_within(*other, *one) if inner is None else inner


class _Triangles:
    """The triangles of several meshes in one row, and whose each is."""

    def __init__(self, meshes: Sequence[Mesh]) -> None:
        counts = [len(faces) for _, faces in meshes]
        self.all = np.concatenate([np.asarray(points)[faces] for points, faces in meshes])
        self.owner = np.repeat(np.arange(len(meshes)), counts)
        self.ends = np.concatenate([[0], np.cumsum(counts)])
        self.low, self.high = self.all.min(axis=1), self.all.max(axis=1)
        firsts = self.ends[:-1]
        self.mesh_low = np.minimum.reduceat(self.low, firsts)
        self.mesh_high = np.maximum.reduceat(self.high, firsts)
        self.largest = np.maximum(np.abs(self.mesh_low), np.abs(self.mesh_high)).max(axis=1)


class _Group:
    """The pairs of some meshes while the nearest triangles of each are looked for."""

    def __init__(self, firsts: Sequence[Mesh], seconds: Sequence[Mesh], limit: float) -> None:
        self.a, self.b = _Triangles(firsts), _Triangles(seconds)
        self.slack = TOUCHING * np.maximum(self.a.largest[:, None], self.b.largest[None])
        self.best = limit + self.slack
        self.found: dict[tuple[int, int], Nearest] = {}
        self.way = np.zeros((len(firsts), len(seconds), 3))
        self.beyond = np.full(self.best.shape, np.inf)
        self.far, self.faced = self._apart()

    def _apart(self) -> tuple[Array, NDArray[np.bool_]]:
        """How far triangles are from the convex meshes at least [m], and which faces they face.

        Shapes (triangles of the first meshes, second meshes) and (those, faces of the second).
        """
        a, b = self.a, self.b
        normals = normals_of(b.all)
        planes = np.column_stack([normals, np.einsum("ij,ij->i", normals, b.all[:, 0])])
        planes, which = np.unique(planes, axis=0, return_inverse=True)
        corners = a.all.reshape(-1, 3) @ planes[:, :3].T - planes[:, 3]
        heights = corners.reshape(len(a.all), 3, -1)
        first, second, third = (heights[:, k] for k in range(3))
        lowest = np.minimum(np.minimum(first, second), third)
        highest = np.maximum(np.maximum(first, second), third)
        outside = np.maximum.reduceat(lowest[:, which], b.ends[:-1], axis=1)
        boxes = box_gap(a.low[:, None], a.high[:, None], b.mesh_low[None], b.mesh_high[None])
        return np.maximum(outside, boxes), (highest > -self.slack.max())[:, which]

    def search(self) -> dict[tuple[int, int], Nearest]:
        """The nearest triangles of each pair of meshes within the limit."""
        first = self.far < self.best[self.a.owner]
        for start, end in itertools.pairwise(self.a.ends):
            if end - start > FIRST_ROWS:
                rows = self.far[start:end]
                near = np.partition(rows, FIRST_ROWS - 1, axis=0)[FIRST_ROWS - 1]
                first[start:end] &= rows <= near
        self._measure_least(*self._triangles_of(first), rounds=1)
        self._measure_least(*self._triangles_of(self.far < self.best[self.a.owner]))
        return self.found

    def _triangles_of(self, wanted: NDArray[np.bool_]) -> tuple[Ints, Ints]:
        """Each wanted triangle of the first meshes with each of the second mesh it is wanted for.

        wanted : shape (triangles of the first, second meshes)
        """
        row, mesh = np.nonzero(wanted)
        counts = np.diff(self.b.ends)[mesh]
        rows = np.repeat(row, counts)
        within = np.arange(len(rows)) - np.repeat(np.cumsum(counts) - counts, counts)
        columns = np.repeat(self.b.ends[mesh], counts) + within
        faced = self.faced[rows, columns]
        return rows[faced], columns[faced]

    def _measure_least(self, rows: Ints, columns: Ints, rounds: int | None = None) -> None:
        """Measure pairs of triangles, of each pair of meshes those with the least bound first."""
        bound = self._bound(rows, columns)
        size = FIRST_PAIRS
        for _ in itertools.count() if rounds is None else range(rounds):
            owners = self.a.owner[rows], self.b.owner[columns]
            bound = np.maximum(bound, self._along(rows, owners))
            open_still = np.flatnonzero(bound < self.best[owners])
            if not len(open_still):
                return
            rows, columns, bound = rows[open_still], columns[open_still], bound[open_still]
            pair = self.a.owner[rows] * len(self.best[0]) + self.b.owner[columns]
            order = np.lexsort((bound, pair))
            pair = pair[order]
            begins = np.flatnonzero(np.concatenate([[True], pair[1:] != pair[:-1]]))
            rank = np.arange(len(pair)) - np.repeat(begins, np.diff([*begins, len(pair)]))
            now, later = order[rank < size], order[rank >= size]
            for k in range(0, len(now), BATCH):
                self._measure(rows[now[k : k + BATCH]], columns[now[k : k + BATCH]])
            rows, columns, bound = rows[later], columns[later], bound[later]
            size *= 4

    def _bound(self, rows: Ints, columns: Ints) -> Array:
        """A distance that pairs of triangles are apart at least, shape (n,) [m]."""
        a, b = self.a, self.b
        bound = np.empty(len(rows))
        for k in range(0, len(rows), BLOCK):
            r, c = rows[k : k + BLOCK], columns[k : k + BLOCK]
            gap = box_gap(a.low[r], a.high[r], b.low[c], b.high[c])
            bound[k : k + BLOCK] = np.maximum(gap, self.far[r, b.owner[c]])
        return bound

    def _along(self, rows: Ints, pairs: tuple[Ints, Ints]) -> Array:
        """How far triangles are from a convex mesh at least [m], seen along the nearest distance.

        No point of it is farther that way than where the plane square to it touches it.
        """
        seen = np.einsum("nki,ni->nk", self.a.all[rows], self.way[pairs]).min(axis=1)
        return np.asarray(seen - self.beyond[pairs])

    def _measure(self, rows: Ints, columns: Ints) -> None:
        """Measure pairs of triangles and keep the nearest of each pair of meshes."""
        distance, on_a, on_b = triangle_triangle(self.a.all[rows], self.b.all[columns])
        owners = self.a.owner[rows], self.b.owner[columns]
        for k in np.lexsort((distance, *owners)):
            i, j = int(owners[0][k]), int(owners[1][k])
            if distance[k] < self.best[i, j]:
                least = float(distance[k])
                self.best[i, j] = 0.0 if least <= self.slack[i, j] else least
                self.found[i, j] = Nearest(float(self.best[i, j]), on_a[k], on_b[k])
                if least > self.slack[i, j]:
                    corners = self.b.all[self.b.ends[j] : self.b.ends[j + 1]].reshape(-1, 3)
                    self.way[i, j] = (on_a[k] - on_b[k]) / least
                    self.beyond[i, j] = (corners @ self.way[i, j]).max()
