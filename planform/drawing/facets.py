"""Solids as facets in a picture, cut where they run into one another, and the edges to draw."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.drawing.framing import CREASE, View
from planform.drawing.scene import Solid

Array = NDArray[np.float64]
Index = NDArray[np.int64]
Flags = NDArray[np.bool_]

VEIL = 0.6
"""Solids from GLASS up to this opacity are one see-through sheet; above it they hide."""
BLOCK = 4_000_000
"""Pairs looked at in one go, for the sake of memory."""


@dataclass(frozen=True, eq=False)
class SeenSolid:
    """A solid in the picture: corners (n, 3) in px, depth toward the eye last, y down."""

    solid: Solid
    points: Array
    faces: Index
    normals: Array
    facing: Flags

    @property
    def corners(self) -> Array:
        """Each facet's corners, shape (m, 3, 3)."""
        return self.points[self.faces]


def shown(solid: Solid, view: View) -> SeenSolid:
    """A solid as it is seen: its corners in the picture, its lit facets."""
    points = view.seen(solid.points)
    corners = points[solid.faces]
    # y runs down the picture, which mirrors it: the cross product is turned to point outside
    normal = -np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    length = np.linalg.norm(normal, axis=1)
    good = length > 1e-9
    normal = normal[good] / length[good, None]
    return SeenSolid(solid, points, solid.faces[good], normal, normal[:, 2] > 1e-6)


def edge_table(thing: SeenSolid) -> tuple[Index, Index]:
    """Edges (e, 2) as point numbers, and the two facets at each (e, 2); -1 at a rim."""
    faces = thing.faces
    pairs = np.sort(np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]]), axis=1)
    facet = np.tile(np.arange(len(faces)), 3)
    order = np.lexsort((pairs[:, 1], pairs[:, 0]))
    pairs, facet = pairs[order], facet[order]
    new = np.concatenate([[True], (pairs[1:] != pairs[:-1]).any(axis=1)])
    first = np.flatnonzero(new)
    count = np.diff(np.append(first, len(pairs)))
    second = np.where(count >= 2, facet[np.minimum(first + 1, len(facet) - 1)], -1)
    return pairs[first], np.stack([facet[first], second], axis=1)


def feature_edges(thing: SeenSolid) -> tuple[Index, Index, Flags]:
    """Drawn edges of a shown solid: folds, rims and the silhouette; hidden ones left out.

    Returns point numbers (e, 2), the facets there (e, 2) with -1 for none, and whether each edge
    is silhouette.
    """
    pairs, sides = edge_table(thing)
    rim = sides[:, 1] < 0
    a, b = sides[:, 0], np.where(rim, sides[:, 0], sides[:, 1])
    fold = (thing.normals[a] * thing.normals[b]).sum(axis=1) < np.cos(np.radians(CREASE))
    outer = rim | (thing.facing[a] != thing.facing[b])
    drawn = (thing.facing[a] | thing.facing[b]) & (fold | outer)
    return pairs[drawn], sides[drawn], outer[drawn]


# --- facets that run through another solid ---


def cut_pieces(things: list[SeenSolid]) -> tuple[Array, Index, Index]:
    """All facets in view as triangles (n, 3, 3), cut where they enter another solid.

    Also each triangle's solid and facet.
    """
    triangles: list[Array] = []
    owner: list[int] = []
    parent: list[int] = []
    for k, thing in enumerate(things):
        seen = np.flatnonzero(thing.facing)
        parts: dict[int, list[Array]] = {}
        for other in things:
            if other is thing or other.solid.opacity < VEIL:
                continue
            mine, theirs = _meeting(thing.corners[seen], other.corners)
            through = _pierced(thing.corners[seen][mine], other.corners[theirs])
            for i in np.flatnonzero(through.any(axis=1)):
                cutters = other.corners[theirs][through[i]]
                facet = int(seen[mine[i]])
                whole = parts.get(facet, [thing.corners[facet]])
                parts[facet] = [piece for p in whole for piece in _cut(p, cutters)]
        for facet in seen.tolist():
            for polygon in parts.get(facet, [thing.corners[facet]]):
                for j in range(1, len(polygon) - 1):
                    triangles.append(polygon[[0, j, j + 1]])
                    owner.append(k)
                    parent.append(facet)
    shape = np.array(triangles).reshape(-1, 3, 3)
    big = np.abs(twice_area(shape)) > 1e-4
    return shape[big], np.array(owner, dtype=int)[big], np.array(parent, dtype=int)[big]


def _meeting(a: Array, b: Array) -> tuple[Index, Index]:
    """Facets of each kind that reach into the box the two solids share."""
    if not len(a) or not len(b):
        return np.zeros(0, dtype=int), np.zeros(0, dtype=int)
    low = np.maximum(a.min(axis=(0, 1)), b.min(axis=(0, 1)))
    high = np.minimum(a.max(axis=(0, 1)), b.max(axis=(0, 1)))
    found = [
        np.flatnonzero(((t.min(axis=1) <= high) & (t.max(axis=1) >= low)).all(axis=1))
        for t in (a, b)
    ]
    return found[0], found[1]


def _pierced(a: Array, b: Array) -> Flags:
    """Which triangles a (n, 3, 3) and b (m, 3, 3) run through each other, shape (n, m)."""
    out = np.zeros((len(a), len(b)), dtype=bool)
    if not out.size:
        return out
    rows = max(1, BLOCK // (9 * len(b)))
    for k in range(0, len(a), rows):
        part = a[k : k + rows]
        one = np.isfinite(_crossings(part, b)).any(axis=1)
        other = np.isfinite(_crossings(b, part)).any(axis=1)
        out[k : k + rows] = one | other.T
    return out


def _crossings(a: Array, b: Array) -> Array:
    """Where along the sides of a (n, 3, 3) triangles b (m, 3, 3) lie: (n, 3, m), NaN for none."""
    starts, ends = a.reshape(-1, 3), np.roll(a, -1, axis=1).reshape(-1, 3)
    return _along(starts, ends, b).reshape(len(a), 3, len(b))


def _along(starts: Array, ends: Array, triangles: Array) -> Array:
    """Where segments (n, 3) pass through triangles (m, 3, 3), 0 to 1: (n, m), NaN for none."""
    origin = triangles[:, 0]
    e1, e2 = triangles[:, 1] - origin, triangles[:, 2] - origin
    normal = np.cross(e1, e2)
    way = ends - starts
    slope = way @ normal.T
    with np.errstate(divide="ignore", invalid="ignore"):
        t = ((origin * normal).sum(axis=1) - starts @ normal.T) / slope
        # barycentric coordinates by the triangle's own inverse
        g11, g12, g22 = (e1 * e1).sum(axis=1), (e1 * e2).sum(axis=1), (e2 * e2).sum(axis=1)
        det = g11 * g22 - g12 * g12
        u1 = (e1 * g22[:, None] - e2 * g12[:, None]) / det[:, None]
        u2 = (e2 * g11[:, None] - e1 * g12[:, None]) / det[:, None]
        u = starts @ u1.T + t * (way @ u1.T) - (origin * u1).sum(axis=1)
        v = starts @ u2.T + t * (way @ u2.T) - (origin * u2).sum(axis=1)
        good = (t > 1e-6) & (t < 1 - 1e-6) & (u >= 0.0) & (v >= 0.0) & (u + v <= 1.0)
    return np.where(good, t, np.nan)


def _cut(polygon: Array, cutters: Array) -> list[Array]:
    """A flat polygon (k, 3) in parts, each outside one of the cutting facets, and what is left."""
    out = []
    rest = polygon
    for facet in cutters:
        normal = -np.cross(facet[1] - facet[0], facet[2] - facet[0])
        height = (rest - facet[0]) @ (normal / np.linalg.norm(normal))
        if height.max() < 0.01 or height.min() > -0.01:
            continue
        out.append(_half(rest, height))
        rest = _half(rest, -height)
    return [*out, rest]


def _half(polygon: Array, height: Array) -> Array:
    """The part of a convex polygon at which `height`, given at its corners, is not below zero."""
    kept = []
    for k in range(len(polygon)):
        here, there = height[k - 1], height[k]
        if (here < 0.0) != (there < 0.0):
            t = here / (here - there)
            kept.append(polygon[k - 1] + t * (polygon[k] - polygon[k - 1]))
        if there >= 0.0:
            kept.append(polygon[k])
    return np.array(kept)


def entries(segments: Array, others: list[SeenSolid]) -> list[list[float]]:
    """For each segment (n, 2, 3): 0, where it passes other solids' facets, 1."""
    stops: list[set[float]] = [{0.0, 1.0} for _ in segments]
    for other in others:
        mine, theirs = _meeting(segments, other.corners)
        if not len(mine) or not len(theirs):
            continue
        found = _along(segments[mine, 0], segments[mine, 1], other.corners[theirs])
        for i, j in np.argwhere(np.isfinite(found)).tolist():
            stops[mine[i]].add(float(found[i, j]))
    return [sorted(s) for s in stops]


def twice_area(triangles: Array) -> Array:
    """Twice the signed area of triangles, shape (n, 3, 2) or more: (n,)."""
    a, b = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])
