"""The least distance between two triangle meshes, exact between their facets."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.core.vectors import cross

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Faces = NDArray[np.int64]

TOUCHING = 1e-12
"""Share of the largest coordinate under which a distance is rounding, and zero; assumption."""
BATCH = 2048
"""Most triangle pairs measured at once (about 6 kB each)."""
_NEXT = [1, 2, 0]
"""The corner at the end of each edge of a triangle."""
BLOCK = 200_000
"""Most triangle pairs, or point and triangle pairs, bounded at once (about 100 B each)."""


@dataclass(frozen=True, eq=False)
class Nearest:
    """The least distance between two things [m], and where: points of shape (3,) [m].

    Where nothing is within the limit asked for, the distance is infinite and the points are NaN.
    """

    distance: float
    point_a: Array
    point_b: Array


_NOTHING = Nearest(np.inf, np.full(3, np.nan), np.full(3, np.nan))


def _dot(a: Array, b: Array) -> Array:
    return np.asarray(np.einsum("...i,...i->...", a, b))


def _ratio(top: Array, bottom: Array) -> Array:
    """Top / bottom, and -1 (out of any range used here) where bottom is zero."""
    good = bottom > 0.0
    return np.where(good, top / np.where(good, bottom, 1.0), -1.0)


def _least(squares: list[Array], *points: list[Array]) -> tuple[Array, ...]:
    """Per element the least of several squared distances, as distance, and its points."""
    square = squares[0]
    best = [choice[0] for choice in points]
    for k in range(1, len(squares)):
        better = squares[k] < square
        square = np.where(better, squares[k], square)
        best = [
            np.where(better[..., None], choice[k], old)
            for choice, old in zip(points, best, strict=True)
        ]
    return (np.sqrt(square), *best)


def point_segment(points: Array, start: Array, end: Array) -> Array:
    """The points of segments nearest to points; arrays (..., 3) [m] that broadcast."""
    run = end - start
    share = np.clip(_ratio(_dot(points - start, run), _dot(run, run)), 0.0, 1.0)
    return np.asarray(start + share[..., None] * run)


def _between(p0: Array, p1: Array, q0: Array, q1: Array) -> tuple[Array, Array, Array]:
    """Squared distance where both nearest points lie within the segments, else infinite."""
    u, v, w = p1 - p0, q1 - q0, q0 - p0
    normal = cross(u, v)
    size = _dot(normal, normal)
    s = _ratio(_dot(cross(w, v), normal), size)
    t = _ratio(_dot(cross(w, u), normal), size)
    within = (s >= 0.0) & (s <= 1.0) & (t >= 0.0) & (t <= 1.0)
    on_p = p0 + s[..., None] * u
    on_q = q0 + t[..., None] * v
    gap = on_p - on_q
    return np.where(within, _dot(gap, gap), np.inf), on_p, on_q


def segment_segment(p0: Array, p1: Array, q0: Array, q1: Array) -> tuple[Array, Array, Array]:
    """Least distance between segments p0 p1 and q0 q1, and the nearest points.

    p0, p1, q0, q1 : arrays (..., 3) [m] that broadcast; parallel ones and single points may occur
    Returns distance (...) [m], the point on the first and the point on the second (..., 3) [m].
    The least of a convex function over a square: within it, or on one of its four sides.
    """
    p0, p1, q0, q1 = np.broadcast_arrays(*(np.asarray(x, dtype=float) for x in (p0, p1, q0, q1)))
    inner, on_p, on_q = _between(p0, p1, q0, q1)
    first = [point_segment(q0, p0, p1), point_segment(q1, p0, p1), p0, p1, on_p]
    second = [q0, q1, point_segment(p0, q0, q1), point_segment(p1, q0, q1), on_q]
    squares = [_dot(a - b, a - b) for a, b in zip(first[:4], second[:4], strict=True)]
    distance, a, b = _least([*squares, inner], first, second)
    return distance, a, b


def _shares(points: Array, triangle: Array) -> tuple[Array, Array, Bools]:
    """Shares along the two edges from corner 0 of the foot of a point; -1 where there is no plane.

    triangle : (..., 3, 3). Returns the two shares and whether the foot is in the triangle.
    """
    corner = triangle[..., 0, :]
    e, f = triangle[..., 1, :] - corner, triangle[..., 2, :] - corner
    run = points - corner
    normal = cross(e, f)
    size = _dot(normal, normal)
    v = _ratio(_dot(cross(run, f), normal), size)
    w = _ratio(_dot(cross(e, run), normal), size)
    return v, w, (v >= 0.0) & (w >= 0.0) & (v + w <= 1.0)


def point_triangle(points: Array, triangles: Array) -> tuple[Array, Array]:
    """Least distance between points and triangles, and the nearest points of the triangles.

    points : array (..., 3) [m]
    triangles : array (..., 3, 3) [m]; the leading axes broadcast; thin and flat ones may occur
    Returns distance (...) [m] and points (..., 3) [m].
    """
    points = np.asarray(points, dtype=float)
    triangles = np.asarray(triangles, dtype=float)
    a, b, c = (triangles[..., k, :] for k in range(3))
    v, w, within = _shares(points, triangles)
    foot = a + v[..., None] * (b - a) + w[..., None] * (c - a)
    feet = [point_segment(points, *ends) for ends in ((a, b), (b, c), (c, a))]
    squares = [_dot(points - near, points - near) for near in (*feet, foot)]
    squares[3] = np.where(within, squares[3], np.inf)
    distance, near = _least(squares, [*feet, foot])
    return distance, near


def edges_cross_triangles(start: Array, end: Array, triangles: Array) -> tuple[Bools, Array]:
    """Whether segments run through triangles from one side to the other, and where.

    start, end : arrays (..., 3) [m]
    triangles : array (..., 3, 3) [m]; the leading axes broadcast
    Returns bools (...) and points (..., 3) [m] (of meaning where True). Mere touching is not
    crossing: there the distance is zero.
    """
    start, end, triangles = (np.asarray(x, dtype=float) for x in (start, end, triangles))
    corner = triangles[..., 0, :]
    normal = cross(triangles[..., 1, :] - corner, triangles[..., 2, :] - corner)
    d0, d1 = _dot(start - corner, normal), _dot(end - corner, normal)
    through = ((d0 < 0.0) & (d1 > 0.0)) | ((d0 > 0.0) & (d1 < 0.0))
    share = np.where(through, d0 / np.where(through, d0 - d1, 1.0), 0.0)
    point = start + share[..., None] * (end - start)
    return through & _shares(point, triangles)[2], point


def triangle_triangle(a: Array, b: Array) -> tuple[Array, Array, Array]:
    """Least distance between pairs of triangles, shapes (n, 3, 3) [m], and the nearest points.

    Returns distance (n,) [m], zero where they cross, and points on each, (n, 3) [m]. Nearest
    points are a corner and a face, or lie on two edges, unless an edge runs through a face.
    """
    both, other = np.concatenate([a, b]), np.concatenate([b, a])[:, None]
    ends = both[:, _NEXT]
    count = len(a)
    inner, on_p, on_q = _between(
        a[:, :, None], ends[:count, :, None], b[:, None, :], ends[count:, None, :]
    )
    from_corner, near = point_triangle(both, other)
    crosses, at = edges_cross_triangles(both, ends, other)
    through = np.where(crosses, 0.0, np.inf)
    distance = np.concatenate(
        [
            np.sqrt(inner.reshape(count, 9)),
            from_corner[:count],
            from_corner[count:],
            through[:count],
            through[count:],
        ],
        axis=1,
    )
    at_a, at_b = at[:count], at[count:]
    first = np.concatenate([on_p.reshape(count, 9, 3), a, near[count:], at_a, at_b], axis=1)
    second = np.concatenate([on_q.reshape(count, 9, 3), near[:count], b, at_a, at_b], axis=1)
    row, best = np.arange(count), distance.argmin(axis=1)
    return distance[row, best], first[row, best], second[row, best]


def contains(points: Array, faces: Faces, query: Array) -> Bools:
    """Whether points are inside a closed mesh, by the winding number.

    points : array, shape (n, 3) [m]
    faces : array, shape (m, 3), wound all outward or all inward
    query : array, shape (k, 3) [m]
    Returns bools (k,); on the surface itself either may come out. The solid angle of a triangle:
    A. van Oosterom, J. Strackee, IEEE Trans. Biomed. Eng. BME-30 (1983) 125-126 (from memory).
    """
    query = np.asarray(query, dtype=float).reshape(-1, 3)
    triangles = np.asarray(points, dtype=float)[faces]
    turns = np.zeros(len(query))
    low, high = triangles.min(axis=(0, 1)), triangles.max(axis=(0, 1))
    close = np.flatnonzero(((query >= low) & (query <= high)).all(axis=1))
    step = max(1, BLOCK // max(1, len(faces)))
    for k in range(0, len(close), step):
        rows = close[k : k + step]
        a, b, c = (triangles[None, :, j] - query[rows, None] for j in range(3))
        la, lb, lc = (np.sqrt(_dot(x, x)) for x in (a, b, c))
        top = _dot(a, cross(b, c))
        bottom = la * lb * lc + _dot(a, b) * lc + _dot(b, c) * la + _dot(c, a) * lb
        turns[rows] = np.arctan2(top, bottom).sum(axis=1) / (2.0 * np.pi)
    return np.asarray(np.abs(turns) > 0.5)


def _one_of_each_piece(count: int, faces: Faces) -> Faces:
    """One point of each connected piece of a mesh."""
    label = np.arange(count)
    while True:
        before = label.copy()
        np.minimum.at(label, faces.ravel(), np.repeat(label[faces].min(axis=1), 3))
        label = label[label]
        if (label == before).all():
            return np.unique(label[faces])


def point_within(points_a: Array, faces_a: Faces, points_b: Array, faces_b: Faces) -> Array | None:
    """A point of a piece of mesh a that is inside mesh b, or None."""
    used = points_b[faces_b].reshape(-1, 3)
    low, high = used.min(axis=0), used.max(axis=0)
    if not ((points_a >= low) & (points_a <= high)).all(axis=1).any():
        return None
    probes = points_a[_one_of_each_piece(len(points_a), faces_a)]
    found = probes[contains(points_b, faces_b, probes)]
    return found[0] if len(found) else None


def box_gap(low_a: Array, high_a: Array, low_b: Array, high_b: Array) -> Array:
    """Least distance between boxes along the axes; corners (..., 3) [m] that broadcast."""
    square: Array = np.zeros(1)
    for k in range(3):
        gap = np.maximum(low_b[..., k] - high_a[..., k], low_a[..., k] - high_b[..., k])
        gap = np.maximum(gap, 0.0)
        square = square + gap * gap
    return np.sqrt(square)


def normals_of(triangles: Array) -> Array:
    """Unit normals (n, 3) of triangles (n, 3, 3); nought where one is flat."""
    normal = cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    size = np.sqrt(_dot(normal, normal))
    return np.asarray(normal / np.where(size > 0.0, size, 1.0)[:, None])


def _parted(a: Array, b: Array) -> float:
    """How far triangles a (n, 3, 3) and b (m, 3, 3) are apart at least, across a plane of b [m].

    Below zero where none of these planes parts the two.
    """
    normal = normals_of(b).T
    in_a, in_b = (triangles.reshape(-1, 3) @ normal for triangles in (a, b))
    gap = np.maximum(in_b.min(axis=0) - in_a.max(axis=0), in_a.min(axis=0) - in_b.max(axis=0))
    return float(gap.max())


def _plane_gap(a: Array, b: Array) -> Array:
    """Least distance (n, m) between triangles a (n, 3, 3) and the planes of b (m, 3, 3) [m]."""
    normal = normals_of(b)
    offset = _dot(normal, b[:, 0])
    low = high = a[:, 0] @ normal.T
    for k in (1, 2):
        height = a[:, k] @ normal.T
        low, high = np.minimum(low, height), np.maximum(high, height)
    return np.asarray(np.maximum(low - offset, offset - high))


class _Search:
    """The nearest pair of triangles of two meshes found so far.

    reach_a, reach_b : how far each triangle reaches toward the other mesh, along the nearest gap
        found so far [m]; nothing is known before there is one
    """

    def __init__(self, a: Array, b: Array, limit: float) -> None:
        self.a, self.b = a, b
        self.low_a, self.high_a = a.min(axis=1), a.max(axis=1)
        self.low_b, self.high_b = b.min(axis=1), b.max(axis=1)
        self.slack = TOUCHING * float(max(np.abs(a).max(), np.abs(b).max()))
        self.best = limit + self.slack
        self.found: Nearest | None = None
        self.reach_a, self.reach_b = np.full(len(a), np.inf), np.zeros(len(b))

    def out_of_reach(self) -> bool:
        """Whether a plane of b shows at once that nothing is within the limit."""
        few = 3 * (len(self.a) + len(self.b)) * len(self.b) <= BLOCK
        return bool(np.isfinite(self.best)) and few and _parted(self.a, self.b) > self.best

    def bound(self, rows: Faces, columns: Faces) -> Array:
        """A distance (n, m) the triangles are apart at least."""
        gap = box_gap(
            self.low_a[rows, None],
            self.high_a[rows, None],
            self.low_b[None, columns],
            self.high_b[None, columns],
        )
        gap = np.maximum(gap, self.along(rows[:, None], columns))
        return np.maximum(gap, _plane_gap(self.a[rows], self.b[columns]))

    def measure(self, rows: Faces, columns: Faces) -> bool:
        """Measure pairs of triangles and keep the nearest; whether they came nearer."""
        distance, on_a, on_b = triangle_triangle(self.a[rows], self.b[columns])
        k = int(distance.argmin())
        if distance[k] >= self.best:
            return False
        self.best = float(distance[k])
        if self.best <= self.slack:
            self.best = 0.0
        self.found = Nearest(self.best, on_a[k], on_b[k])
        if self.best > 0.0:
            toward = (on_b[k] - on_a[k]) / distance[k]
            self.reach_a = (self.a @ toward).max(axis=1)
            self.reach_b = (self.b @ toward).min(axis=1)
        return True

    def along(self, rows: Faces, columns: Faces) -> Array:
        """How far pairs of triangles are apart along the nearest gap found, at least [m]."""
        return np.asarray(self.reach_b[columns] - self.reach_a[rows])

    def block(self, rows: Faces, columns: Faces) -> None:
        """All pairs of some triangles, those with the least bound first."""
        bound = self.bound(rows, columns).ravel()
        pairs = np.flatnonzero(bound < self.best)
        pairs = pairs[np.argsort(bound[pairs], kind="stable")]
        bound, size = bound[pairs], 32
        near, far = rows[pairs // len(columns)], columns[pairs % len(columns)]
        while len(near):
            if self.measure(near[:size], far[:size]):
                bound = np.maximum(bound, self.along(near, far))
            left = size + np.flatnonzero(bound[size:] < self.best)
            bound, near, far = bound[left], near[left], far[left]
            size = min(2 * size, BATCH)

    def run(self) -> None:
        """Search all pairs: rows near the other mesh first, in blocks of bounded size."""
        all_b = np.arange(len(self.b))
        near_a = box_gap(self.low_a, self.high_a, self.low_b.min(axis=0), self.high_b.max(axis=0))
        order = np.argsort(near_a, kind="stable")
        k, step = 0, max(1, min(8, BLOCK // len(all_b)))
        while k < len(order) and near_a[order[k]] < self.best:
            rows = order[k : k + step]
            rows = rows[near_a[rows] < self.best]
            low, high = self.low_a[rows].min(axis=0), self.high_a[rows].max(axis=0)
            near_b = box_gap(self.low_b, self.high_b, low, high)
            near_b = np.maximum(near_b, self.along(rows, all_b[:, None]).min(axis=1))
            self.block(rows, all_b[near_b < self.best])
            k, step = k + step, max(1, BLOCK // len(all_b))


def mesh_distance(
    points_a: Array, faces_a: Faces, points_b: Array, faces_b: Faces, limit: float = np.inf
) -> Nearest:
    """Least distance between two meshes [m]; zero where they cross or one holds the other.

    points_a, points_b : arrays, shape (n, 3) [m]
    faces_a, faces_b : arrays, shape (m, 3), of closed meshes where one may hold the other
    limit : distances above this are of no interest [m]; a small one makes the search short
    """
    if not len(faces_a) or not len(faces_b):
        raise ValueError("Expected two meshes with faces, got one without")
    if len(faces_b) > len(faces_a):
        turned = mesh_distance(points_b, faces_b, points_a, faces_a, limit)
        return Nearest(turned.distance, turned.point_b, turned.point_a)
    points_a, points_b = np.asarray(points_a, dtype=float), np.asarray(points_b, dtype=float)
    search = _Search(points_a[faces_a], points_b[faces_b], limit)
    if search.out_of_reach():
        return _NOTHING
    search.run()
    if search.best > 0.0 or search.found is None:
        inner = point_within(points_a, faces_a, points_b, faces_b)
        if inner is None:
            inner = point_within(points_b, faces_b, points_a, faces_a)
        if inner is not None:
            return Nearest(0.0, inner, inner)
    return _NOTHING if search.found is None else search.found
