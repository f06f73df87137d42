"""A convex outline with few corners around points in a plane."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


FEWEST, SLIGHT = 3, 2e-4
"""No outline has fewer corners; and the share of its area that is next to nothing, assumption."""


def few_corners(hull: Array, most: int) -> Array:
    """An outline with at most so many corners that holds a convex one, shape (n, 2).

    hull : array, shape (m, 2), counter-clockwise ; most : 3 or more
    Side by side that side is left out whose neighbours, carried on, add the least area; also below
    that number, where it adds next to nothing.
    Raises ValueError where fewer corners cannot be reached.
    """
    ring = np.asarray(hull, float)
    while len(ring) > FEWEST:
        added = [_without(ring, k) for k in range(len(ring))]
        fitting = [(one[0], k) for k, one in enumerate(added) if one is not None]
        if len(ring) <= most and (not fitting or min(fitting)[0] > SLIGHT * _area(ring)):
            break
        if not fitting:
            raise ValueError(f"no outline of {most} corners is found; {len(ring)} will do")
        _, k = min(fitting)
        found = added[k]
        assert found is not None
        ring = np.delete(ring, (k + 1) % len(ring), axis=0)
        ring[k if k < len(ring) else k - 1] = found[1]
    return ring


def _without(ring: Array, k: int) -> tuple[float, Array] | None:
    """The area that leaving out side k adds, and the corner that takes its place."""
    a, b, c, d = (ring[(k + j) % len(ring)] for j in (-1, 0, 1, 2))
    one, two = b - a, d - c
    det = one[0] * two[1] - one[1] * two[0]
    if det <= 1e-12 * float(np.linalg.norm(one) * np.linalg.norm(two)):
        return None
    off = c - a
    corner = a + one * (off[0] * two[1] - off[1] * two[0]) / det
    across = corner - b
    along = c - b
    return 0.5 * abs(float(along[0] * across[1] - along[1] * across[0])), corner


def _area(ring: Array) -> float:
    x, y = ring.T
    return 0.5 * abs(float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum()))
