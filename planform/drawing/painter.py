"""The painter's order: facets and edges from far to near, asked where they overlap."""

from __future__ import annotations

import heapq

import numpy as np
from numpy.typing import NDArray

from planform.drawing.facets import twice_area

Array = NDArray[np.float64]
Index = NDArray[np.int64]
Flags = NDArray[np.bool_]


def far_to_near(nodes: Index, depth: Array, links: Index) -> list[int]:
    """Nodes from far to near, the first of each link (k, 2) before the second.

    Where links run in a ring, the farthest of what is left goes first.
    """
    links = np.unique(links[links[:, 0] != links[:, 1]], axis=0)
    waiting = np.bincount(links[:, 1], minlength=len(depth)).tolist()
    follows: dict[int, list[int]] = {}
    for a, b in links.tolist():
        follows.setdefault(a, []).append(b)
    by_depth = nodes[np.argsort(depth[nodes], kind="stable")].tolist()
    ready = [(float(depth[n]), n) for n in by_depth if waiting[n] == 0]
    farthest = iter(by_depth)
    done: set[int] = set()
    out: list[int] = []
    while len(out) < len(nodes):
        n = heapq.heappop(ready)[1] if ready else next(k for k in farthest if k not in done)
        if n in done:
            continue
        done.add(n)
        out.append(n)
        for m in follows.get(n, ()):
            waiting[m] -= 1
            if waiting[m] == 0 and m not in done:
                heapq.heappush(ready, (float(depth[m]), m))
    return out


def covering(triangles: Array, owner: Index) -> tuple[Index, Index]:
    """Pairs of triangles of which the second hides part of the first."""
    first, second = _overlapping(triangles)
    a, b = _shrunk(triangles[first]), _shrunk(triangles[second])
    spot, common = _common_spot(a, b)
    first, second, spot = first[common], second[common], spot[common]
    gap = _depth_at(triangles[first], spot) - _depth_at(triangles[second], spot)
    # touching facets of two solids: the solid named later lies on top
    level = np.abs(gap) < 0.05
    gap = np.where(level, (owner[first] - owner[second]).astype(float), gap)
    sure = gap != 0.0
    first, second, gap = first[sure], second[sure], gap[sure]
    return np.where(gap < 0.0, first, second), np.where(gap < 0.0, second, first)


def _overlapping(triangles: Array) -> tuple[Index, Index]:
    """Pairs whose upright boxes overlap in the picture, the first one named earlier."""
    low, high = triangles[..., :2].min(axis=1), triangles[..., :2].max(axis=1)
    order = np.argsort(low[:, 0], kind="stable")
    reach = np.searchsorted(low[order, 0], high[order, 0])
    found = [np.zeros((0, 2), dtype=int)]
    for k, stop in enumerate(reach.tolist()):
        later = order[k + 1 : stop]
        i = order[k]
        hit = later[(low[later, 1] < high[i, 1]) & (high[later, 1] > low[i, 1])]
        found.append(np.stack([np.full(len(hit), i), hit], axis=1))
    pairs = np.sort(np.concatenate(found), axis=1)
    return pairs[:, 0], pairs[:, 1]


def _shrunk(triangles: Array) -> Array:
    """Triangles drawn in toward their middle, so that neighbours do not overlap."""
    flat = triangles[..., :2]
    return np.asarray(flat + 0.01 * (flat.mean(axis=1, keepdims=True) - flat))


def _common_spot(a: Array, b: Array) -> tuple[Array, Flags]:
    """A point within both of two flat triangles (n, 3, 2), pairwise, and whether there is one."""
    spots = [a, b]
    good = [_within(a, b), _within(b, a)]
    for k in range(3):
        p, r = a[:, k], a[:, (k + 1) % 3] - a[:, k]
        for j in range(3):
            q, s = b[:, j], b[:, (j + 1) % 3] - b[:, j]
            cross = r[:, 0] * s[:, 1] - r[:, 1] * s[:, 0]
            way = q - p
            with np.errstate(divide="ignore", invalid="ignore"):
                t = (way[:, 0] * s[:, 1] - way[:, 1] * s[:, 0]) / cross
                u = (way[:, 0] * r[:, 1] - way[:, 1] * r[:, 0]) / cross
                hit = (t >= 0.0) & (t <= 1.0) & (u >= 0.0) & (u <= 1.0)
            spots.append((p + np.where(hit, t, 0.0)[:, None] * r)[:, None])
            good.append(hit[:, None])
    points, weight = np.concatenate(spots, axis=1), np.concatenate(good, axis=1)
    count = weight.sum(axis=1)
    middle = (points * weight[..., None]).sum(axis=1) / np.maximum(count, 1)[:, None]
    return middle, count >= 3


def _within(points: Array, triangles: Array) -> Flags:
    """Which of the points (n, k, 2) lie in their row's flat triangle (n, 3, 2)."""
    turn = np.sign(twice_area(triangles))[:, None]
    inside = np.ones(points.shape[:2], dtype=bool)
    for k in range(3):
        side = triangles[:, (k + 1) % 3] - triangles[:, k]
        way = points - triangles[:, k][:, None]
        inside &= turn * (side[:, None, 0] * way[..., 1] - side[:, None, 1] * way[..., 0]) >= 0.0
    return inside


def _depth_at(triangles: Array, spots: Array) -> Array:
    """Depth of each triangle's plane over a point of it, kept within its corners' depths."""
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    way = spots - a[:, :2]
    e, f = b - a, c - a
    det = e[:, 0] * f[:, 1] - e[:, 1] * f[:, 0]
    u = (way[:, 0] * f[:, 1] - way[:, 1] * f[:, 0]) / det
    v = (e[:, 0] * way[:, 1] - e[:, 1] * way[:, 0]) / det
    depth = a[:, 2] + u * e[:, 2] + v * f[:, 2]
    return np.clip(depth, triangles[..., 2].min(axis=1), triangles[..., 2].max(axis=1))
