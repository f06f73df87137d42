"""Compiled cutting of triangles with planes, for what cuts small meshes many thousand times.

The same steps in the same order as `planform.core.shape.clip`, so that both give the same bits.
"""

from __future__ import annotations

import numpy as np

from planform.core.compiled import compiled


@compiled
def _sides(triangles, axis, value, up):
    """On which side each corner is: 1 kept, 0 in the plane, -1 cut away; and how many are kept.

    None of a triangle that only touches the plane.
    """
    n = len(triangles)
    sides = np.empty((n, 3), np.int64)
    kept = np.zeros(n, np.int64)
    for t in range(n):
        most = -1
        for k in range(3):
            off = up * (triangles[t, k, axis] - value)
            side = 1 if off > 0.0 else (-1 if off < 0.0 else 0)
            sides[t, k] = side
            kept[t] += side >= 0
            most = max(most, side)
        if kept[t] < 3 and most < 1:
            kept[t] = 0
    return sides, kept


@compiled
def halfspace(triangles, axis, value, up):
    """As `planform.core.shape.clip.clip_halfspace`; triangles (n, 3, 3) [m], gives (m, 3, 3).

    up : 1.0 keeps what is above, -1.0 below; of the type of `value`, so that it is compiled once
    """
    n = len(triangles)
    sides, kept = _sides(triangles, axis, value, up)
    room = 0
    for t in range(n):
        room += 2 if kept[t] == 2 else (1 if kept[t] > 0 else 0)
    out = np.empty((room, 3, 3))
    from_corner = np.empty((3, 3))  # the lone corner first, its winding kept
    cut = np.empty((2, 3))
    made = 0
    for wanted in range(4):  # whole ones, tips, then both halves of what lost a corner
        for t in range(n):
            if wanted == 0:
                if kept[t] == 3:
                    for k in range(3):
                        for j in range(3):
                            out[made, k, j] = triangles[t, k, j]
                    made += 1
                continue
            if kept[t] != (1 if wanted == 1 else 2):
                continue
            lone = 0
            while (sides[t, lone] >= 0) != (kept[t] == 1):
                lone += 1
            for k in range(3):
                for j in range(3):
                    from_corner[k, j] = triangles[t, (lone + k) % 3, j]
            for k in range(2):
                # always from below to above, so that triangles share the points of their edges
                low, high = 0, k + 1
                if (kept[t] == 1) == (up > 0.0):
                    low, high = high, low
                run = from_corner[high, axis] - from_corner[low, axis]
                share = (value - from_corner[low, axis]) / run
                for j in range(3):
                    way = from_corner[high, j] - from_corner[low, j]
                    cut[k, j] = from_corner[low, j] + share * way
                cut[k, axis] = value
            if wanted == 2 and from_corner[1, axis] == value:
                continue
            if wanted == 3 and from_corner[2, axis] == value:
                continue
            for j in range(3):
                if wanted == 1:
                    out[made, 0, j] = from_corner[0, j]
                    out[made, 1, j] = cut[0, j]
                    out[made, 2, j] = cut[1, j]
                else:
                    out[made, 0, j] = cut[0, j]
                    out[made, 1, j] = from_corner[wanted - 1, j]
                    out[made, 2, j] = from_corner[2, j] if wanted == 2 else cut[1, j]
            made += 1
    return out[:made]


@compiled
def slab(triangles, axis, low, high):
    """The parts of triangles, shape (n, 3, 3) [m], where coordinate `axis` is in [low, high]."""
    return halfspace(halfspace(triangles, axis, low, 1.0), axis, high, -1.0)
