"""Which stretches of edges lie behind facets, exactly: for each facet an interval in closed form.

Along an edge, being inside a triangle of the picture is three conditions linear in the way along
it, and lying behind its plane is a fourth. So each pair of edge and facet hides one interval.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planform.drawing.lines.united import Array, Numbers

BEHIND = 1e-6
"""An edge less than this behind a facet lies on it [m]."""
LEAST = 1e-9
"""Intervals shorter than this share of an edge are rounding."""
CHUNK = 2_000_000
"""Pairs of edges and facets looked at together; bounds the memory."""


@dataclass(frozen=True, eq=False)
class Cover:
    """Facets that may hide something, in the picture's axes: right, up, toward the eye.

    corners : (m, 3, 3) [m], counter-clockwise in the picture
    """

    corners: Array

    @classmethod
    def of(cls, points: Array, faces: Numbers, toward: Array, least: float) -> Cover:
        """The facets that face the eye more than this."""
        return cls(points[faces[toward > least]])


def free_stretches(ends: Array, cover: Cover, *, behind: bool = True) -> tuple[Numbers, Array]:
    """The stretches of edges that no facet covers, in order along each edge.

    ends : (n, 2, 3) [m], in the picture's axes
    behind : a facet covers only what lies behind it; else all that lies over it in the picture
    Returns the numbers of the edges, shape (k,), and from where to where along them, shape (k, 2),
    as shares of the edge from 0 to 1.
    """
    count = len(ends)
    edge, low, high = _covered(ends, cover, behind)
    number = np.concatenate([np.arange(count), edge, np.arange(count)])
    start = np.concatenate([np.full(count, -1.0), low, np.full(count, 1.0)])
    end = np.concatenate([np.zeros(count), high, np.full(count, 2.0)])
    start, end = start + 4.0 * number, end + 4.0 * number
    order = np.argsort(start, kind="stable")
    number, start, end = number[order], start[order], end[order]
    reach = np.maximum.accumulate(end)
    free = np.flatnonzero((start[1:] > reach[:-1] + LEAST) & (number[1:] == number[:-1]))
    who = number[free + 1]
    stretch = np.stack([reach[free], start[free + 1]], axis=1) - 4.0 * who[:, None]
    return who, np.clip(stretch, 0.0, 1.0)


def _covered(ends: Array, cover: Cover, behind: bool) -> tuple[Numbers, Array, Array]:
    """Intervals of edges that single facets cover: the edge's number, from and to."""
    import shapely

    flat = cover.corners[:, :, :2]
    low, high = flat.min(axis=1), flat.max(axis=1)
    tree = shapely.STRtree(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
    lines = shapely.linestrings(ends[:, :, :2])
    edge, facet = tree.query(lines, predicate="intersects")
    if behind:
        deep = ends[:, :, 2].min(axis=1)[edge] < cover.corners[:, :, 2].max(axis=1)[facet] - BEHIND
        edge, facet = edge[deep], facet[deep]
    found = [
        _intervals(ends, cover, edge[k : k + CHUNK], facet[k : k + CHUNK], behind)
        for k in range(0, max(1, len(edge)), CHUNK)
    ]
    return (
        np.concatenate([one[0] for one in found]),
        np.concatenate([one[1] for one in found]),
        np.concatenate([one[2] for one in found]),
    )


def _intervals(
    ends: Array, cover: Cover, edge: Numbers, facet: Numbers, behind: bool
) -> tuple[Numbers, Array, Array]:
    a, b = ends[edge, 0], ends[edge, 1]
    corners = cover.corners[facet]
    low, high = np.zeros(len(edge)), np.ones(len(edge))
    for k in range(3):
        base, side = corners[:, k, :2], corners[:, (k + 1) % 3, :2] - corners[:, k, :2]
        _cut(low, high, _left_of(side, a[:, :2] - base), _left_of(side, b[:, :2] - base))
    if behind:
        first, second = (corners[:, k] - corners[:, 0] for k in (1, 2))
        normal = np.cross(first, second)
        depth = [((one - corners[:, 0]) * normal).sum(axis=1) / normal[:, 2] for one in (a, b)]
        _cut(low, high, -depth[0] - BEHIND, -depth[1] - BEHIND)
    kept = high - low > LEAST
    return edge[kept], low[kept], high[kept]


def _left_of(side: Array, point: Array) -> Array:
    return np.asarray(side[:, 0] * point[:, 1] - side[:, 1] * point[:, 0])


def _cut(low: Array, high: Array, at_start: Array, at_end: Array) -> None:
    """Keep of each interval what has a value above zero, which is linear from start to end."""
    slope = at_end - at_start
    with np.errstate(divide="ignore", invalid="ignore"):
        root = np.where(slope != 0.0, -at_start / slope, 0.0)
    np.copyto(low, np.maximum(low, root), where=slope > 0.0)
    np.copyto(high, np.minimum(high, root), where=slope < 0.0)
    np.copyto(high, -1.0, where=(slope == 0.0) & (at_start <= 0.0))
