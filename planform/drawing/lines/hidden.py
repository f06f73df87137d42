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
SEAM = 1e-8
"""So far over its sides a facet still covers, so that nothing shows through seams [m]."""
CROSSING = 20.0
"""Lines near each other for less than so many times how near they are cross each other."""
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
    return _between(len(ends), *_covered(ends, cover, behind))


def beside_lines(ends: Array, lines: Array, first: int, apart: float) -> tuple[Numbers, Array]:
    """The stretches of edges in the picture that no line runs along, in order along each edge.

    ends : (n, 2, 2) [m]; lines : (m, 2, 2) [m]; first : of the lines, from this one on they are
        the edges themselves, and of two edges that run along each other the first one stays
    apart : a line nearer than this runs along an edge [m]
    Returns as `free_stretches` does.
    """
    import shapely

    if not len(ends):
        return np.zeros(0, dtype=np.int64), np.zeros((0, 2))
    tree = shapely.STRtree(shapely.linestrings(lines))
    edge, other = tree.query(shapely.linestrings(ends), predicate="dwithin", distance=apart)
    earlier = other < first + edge
    edge, other = edge[earlier], other[earlier]
    start, way = lines[other, 0], lines[other, 1] - lines[other, 0]
    size = np.linalg.norm(way, axis=1)
    way = way / np.where(size > 0.0, size, 1.0)[:, None]
    low, high = np.zeros(len(edge)), np.ones(len(edge))
    off = [_left_of(way, ends[edge, k] - start) for k in (0, 1)]
    along = [((ends[edge, k] - start) * way).sum(axis=1) for k in (0, 1)]
    _cut(low, high, apart - off[0], apart - off[1])
    _cut(low, high, apart + off[0], apart + off[1])
    _cut(low, high, along[0] + apart, along[1] + apart)
    _cut(low, high, size + apart - along[0], size + apart - along[1])
    own = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)[edge]
    kept = ((high - low) * own > CROSSING * apart) | ((low == 0.0) & (high == 1.0))
    return _between(len(ends), edge[kept], low[kept], high[kept])


def _between(count: int, edge: Numbers, low: Array, high: Array) -> tuple[Numbers, Array]:
    """What is left of so many edges without these intervals of theirs."""
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
        over = SEAM * np.linalg.norm(side, axis=1)
        ways = [_left_of(side, one[:, :2] - base) + over for one in (a, b)]
        _cut(low, high, ways[0], ways[1])
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
