"""Cutting triangles with planes across an axis, and the sums over a closed mesh."""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Faces = NDArray[np.int64]


def _lone_first(triangles: Array, lone: NDArray[np.bool_]) -> Array:
    """Each triangle turned, its winding kept, so that its one marked corner comes first."""
    turn = (np.argmax(lone, axis=1)[:, None] + np.arange(3)) % 3
    return np.asarray(triangles[np.arange(len(triangles))[:, None], turn])


def _cut(below: Array, above: Array, axis: int, value: float) -> Array:
    """Where edges from `below` to `above`, both (n, 3), meet the plane.

    Always taken in this direction, so two triangles that share an edge get the same point.
    """
    share = (value - below[:, axis]) / (above[:, axis] - below[:, axis])
    point = below + share[:, None] * (above - below)
    point[:, axis] = value
    return point


def clip_halfspace(
    triangles: Array, axis: int, value: float, keep: Literal["above", "below"]
) -> Array:
    """The parts of triangles on one side of a plane across an axis; windings are kept.

    triangles : array, shape (n, 3, 3) [m]
    axis, value : the plane where coordinate `axis` is `value` [m]; may be infinite
    keep : 'above' for coordinates from `value` up, 'below' for those up to it
    Returns the pieces, shape (m, 3, 3) [m]. A triangle lying in the plane is kept; one that only
    touches it from the other side is dropped.
    """
    if keep not in ("above", "below"):
        raise ValueError(f"Expected keep as 'above' or 'below', got {keep!r}")
    triangles = np.asarray(triangles, dtype=float).reshape(-1, 3, 3)
    level = triangles[:, :, axis]
    # The side of each corner: 1 kept, 0 in the plane, -1 cut away.
    side = np.sign(level - value) if keep == "above" else np.sign(value - level)
    count = (side >= 0.0).sum(axis=1)
    reaches = (side > 0.0).any(axis=1)
    whole = triangles[count == 3]

    def cut(outside: Array, inside: Array) -> Array:
        ends = (outside, inside) if keep == "above" else (inside, outside)
        return _cut(*ends, axis, value)

    one = (count == 1) & reaches
    a, b, c = _lone_first(triangles[one], side[one] >= 0.0).transpose(1, 0, 2)
    tips = np.stack([a, cut(b, a), cut(c, a)], axis=1)

    two = (count == 2) & reaches
    turned = _lone_first(triangles[two], side[two] < 0.0)
    a, b, c = turned.transpose(1, 0, 2)
    ab, ac = cut(a, b), cut(a, c)
    first = np.stack([ab, b, c], axis=1)[b[:, axis] != value]
    second = np.stack([ab, c, ac], axis=1)[c[:, axis] != value]
    return np.concatenate([whole, tips, first, second])


def clip_slab(triangles: Array, axis: int, low: float, high: float) -> Array:
    """The parts of triangles, shape (n, 3, 3) [m], where coordinate `axis` is in [low, high]."""
    return clip_halfspace(clip_halfspace(triangles, axis, low, "above"), axis, high, "below")


def section_segments(triangles: Array, axis: int, value: float) -> Array:
    """The lines in which a plane across an axis cuts a mesh.

    triangles : array, shape (n, 3, 3) [m], of a closed mesh where closed lines are wanted
    Returns segments, shape (k, 2, 2) [m], in the other two axes in rising order. A corner exactly
    in the plane counts as just below it: the cut is that of a plane an infinitely small step up,
    drawn at `value`. Neighbours share end points bit for bit; segments of no length are left out.
    """
    triangles = np.asarray(triangles, dtype=float).reshape(-1, 3, 3)
    above = triangles[:, :, axis] > value
    count = above.sum(axis=1)
    other = [k for k in range(3) if k != axis]
    a, b, c = _lone_first(triangles[count == 1], above[count == 1]).transpose(1, 0, 2)
    under = np.stack([_cut(b, a, axis, value), _cut(c, a, axis, value)], axis=1)
    a, b, c = _lone_first(triangles[count == 2], ~above[count == 2]).transpose(1, 0, 2)
    # The other way round, so that every segment has the solid on the same hand.
    over = np.stack([_cut(a, c, axis, value), _cut(a, b, axis, value)], axis=1)
    segments = np.concatenate([under, over])[:, :, other]
    return np.asarray(segments[(segments[:, 0] != segments[:, 1]).any(axis=1)])
