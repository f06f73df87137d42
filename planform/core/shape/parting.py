"""Cutting a piece off a closed mesh along planes, so that both are closed and meet exactly."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.prism import triangulated

Array = NDArray[np.float64]
Faces = NDArray[np.int64]

Mask = NDArray[np.bool_]

ON = 1e-9
"""What is nearer to a plane than this [m] lies on it."""


@dataclass(frozen=True, eq=False)
class Plane:
    """A plane: what is on its side along the normal belongs to the piece.

    point, normal : shape (3,) [m]
    """

    point: Array
    normal: Array

    def over(self, points: Array) -> Array:
        """Distances of points (n, 3) on the normal's side, shape (n,) [m]; zero on the plane."""
        off = (points - self.point) @ (self.normal / np.linalg.norm(self.normal))
        return np.where(np.abs(off) < ON, 0.0, off)


@dataclass(frozen=True, eq=False)
class Cut:
    """One of two closed meshes: points (n, 3) [m], faces (m, 3), of which the last close it.

    walls : how many of the faces are not of the skin of the mesh that was cut
    """

    points: Array
    faces: Faces
    walls: int


def part_off(points: Array, faces: Faces, caps: int, planes: Sequence[Plane]) -> tuple[Cut, Cut]:
    """What is left of a closed mesh, and the piece that lies within all the planes.

    caps : how many of the last faces are no skin
    planes : the last of them meets every other one
    Raises ValueError where the piece is not cut off along one line round it.
    """
    flags = np.arange(len(faces)) >= len(faces) - caps
    *ends, last = planes
    for plane in ends:
        near = last.over(points)[faces].max(axis=1) > 0.0
        points, faces, flags = _split(points, faces, flags, plane, near)
    middle = points[faces].mean(axis=1)
    near = np.all([plane.over(middle) > 0.0 for plane in ends], axis=0) | (not ends)
    points, faces, flags = _split(points, faces, flags, last, near)
    middle = points[faces].mean(axis=1)
    inside = np.all([plane.over(middle) > 0.0 for plane in planes], axis=0)
    loop = _boundary(faces[inside], len(points))
    walls = [_wall(points, loop, plane) for plane in planes]
    closing = np.concatenate([wall for wall in walls if len(wall)])
    left = _closed(points, faces[~inside], flags[~inside], closing)
    return left, _closed(points, faces[inside], flags[inside], closing[:, ::-1])


def _split(
    points: Array, faces: Faces, flags: Mask, plane: Plane, near: Mask
) -> tuple[Array, Faces, Mask]:
    """The same mesh with its faces parted where a plane goes through them.

    near : which of the faces are to be parted; of the others those that share a parted edge are
        parted there
    """
    over = plane.over(points)
    sign = np.sign(over)
    edges = faces[:, [[0, 1], [1, 2], [2, 0]]]
    low, high = edges.min(axis=2), edges.max(axis=2)
    keys = low * len(points) + high
    through = sign[low] * sign[high] < 0.0
    cut = np.unique(keys[through & near[:, None]])
    if not len(cut):
        return points, faces, flags
    a, b = cut // len(points), cut % len(points)
    share = (over[a] / (over[a] - over[b]))[:, None]
    new = points[a] + share * (points[b] - points[a])
    slot = np.minimum(np.searchsorted(cut, keys), len(cut) - 1)
    at = np.where(cut[slot] == keys, slot + len(points), -1)
    parted = (at >= 0).any(axis=1)
    found: list[list[int]] = []
    marks: list[bool] = []
    for face, middles, flag in zip(faces[parted], at[parted], flags[parted], strict=True):
        pieces = _pieces(face.tolist(), middles.tolist())
        found += pieces
        marks += [bool(flag)] * len(pieces)
    return (
        np.concatenate([points, new]),
        np.concatenate([faces[~parted], np.array(found, dtype=np.int64)]),
        np.concatenate([flags[~parted], np.array(marks)]),
    )


def _pieces(face: list[int], at: list[int]) -> list[list[int]]:
    """The triangles of a face of which one edge or two are parted, wound as it is.

    at : the new vertex on the edge that begins at each of its vertices; -1: none
    """
    parted = [k for k in range(3) if at[k] >= 0]
    if len(parted) == 1:
        k = parted[0]
        a, b, c = face[k], face[(k + 1) % 3], face[(k + 2) % 3]
        return [[a, at[k], c], [at[k], b, c]]
    k = next(k for k in range(3) if at[k] >= 0 and at[k - 1] >= 0)
    a, b, c = face[k], face[(k + 1) % 3], face[(k + 2) % 3]
    p, q = at[k], at[k - 1]
    return [[a, p, q], [p, b, c], [p, c, q]]


def _boundary(faces: Faces, count: int) -> list[int]:
    """The vertices round an open mesh, in the order of its faces' edges.

    count : of all vertices
    """
    start, end = faces.ravel(), np.roll(faces, -1, axis=1).ravel()
    lone = ~np.isin(start * count + end, end * count + start)
    after = dict(zip(start[lone].tolist(), end[lone].tolist(), strict=True))
    if not after:
        raise ValueError("Expected a piece that the planes cut off, got none")
    loop = [min(after)]
    while after[loop[-1]] != loop[0] and len(loop) <= len(after):
        loop.append(after[loop[-1]])
    if len(loop) != int(lone.sum()):
        raise ValueError("Expected one line round the piece, got several")
    return loop


def _wall(points: Array, loop: list[int], plane: Plane) -> Faces:
    """Triangles on a plane within the line round a piece, wound as the line runs."""
    on = plane.over(points[loop]) == 0.0
    ring = np.array(loop)[on]
    if len(ring) < 3:
        return np.empty((0, 3), dtype=np.int64)
    line = points[ring] - points[ring].mean(axis=0)
    u = line[int(np.argmax((line * line).sum(axis=1)))]
    u = u / np.linalg.norm(u)
    v = np.cross(plane.normal / np.linalg.norm(plane.normal), u)
    flat = np.stack([line @ u, line @ v], axis=1)
    x, y = flat.T
    if float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum()) < 0.0:
        return np.asarray(ring[::-1][monotone(flat[::-1])][:, ::-1])
    return np.asarray(ring[monotone(flat)])


def monotone(ring: Array) -> Faces:
    """Triangles (n - 2, 3) of a polygon (n, 2) counter-clockwise that runs out and back along x.

    Any other simple polygon is cut ear by ear. From left to right, what is seen from the next
    vertex is cut off (M. Garey, D. Johnson, F. Preparata, R. Tarjan, 1978, from memory).
    """
    count = len(ring)
    order = sorted(range(count), key=lambda k: (ring[k][0], ring[k][1]))
    rank = {k: place for place, k in enumerate(order)}
    first, last = order[0], order[-1]
    below = [(first + k) % count for k in range((last - first) % count + 1)]
    above = [(last + k) % count for k in range((first - last) % count + 1)]
    steady = all(rank[a] < rank[b] for a, b in itertools.pairwise(below)) and all(
        rank[a] > rank[b] for a, b in itertools.pairwise(above)
    )
    if not steady:
        return triangulated(ring)
    lower = set(below)
    x: list[float] = ring[:, 0].tolist()
    y: list[float] = ring[:, 1].tolist()
    faces: list[tuple[int, int, int]] = []

    def turn(a: int, b: int, c: int) -> float:
        return (x[b] - x[a]) * (y[c] - y[a]) - (y[b] - y[a]) * (x[c] - x[a])

    def cut(a: int, b: int, c: int) -> None:
        faces.append((a, b, c) if turn(a, b, c) >= 0.0 else (a, c, b))

    stack = order[:2]
    for k in order[2:-1]:
        if (k in lower) != (stack[-1] in lower):
            for a, b in itertools.pairwise(stack):
                cut(a, b, k)
            stack = [stack[-1], k]
            continue
        top = stack.pop()
        side = 1.0 if k in lower else -1.0
        while stack and side * turn(stack[-1], top, k) > 0.0:
            cut(stack[-1], top, k)
            top = stack.pop()
        stack += [top, k]
    for a, b in itertools.pairwise(stack):
        cut(a, b, last)
    return np.array(faces, dtype=np.int64)


def _closed(points: Array, skin: Faces, flags: Mask, walls: Faces) -> Cut:
    """A mesh of its own from some faces, those of the skin first."""
    faces = np.concatenate([skin[~flags], skin[flags], walls])
    used, faces = np.unique(faces, return_inverse=True)
    count = int(flags.sum()) + len(walls)
    return Cut(points[used], faces.reshape(-1, 3).astype(np.int64), count)
