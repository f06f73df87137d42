"""Where a straight line first meets the skin of a solid, from outside."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

EDGE = 1e-9
"""Share of a facet by which a line beside it still meets it, so that none slips through between
two facets."""


def outermost(corners: Array, point: Array, axis: int, sense: float) -> float | None:
    """The coordinate along an axis at which a line along it leaves a solid for good.

    None where the line meets nothing.

    corners : array, shape (n, 3, 3)   the facets' corners [m]
    point : array, shape (3,)          a point of the line; its own `axis` says nothing
    sense : 1 where the way out is up the axis, -1 where it is down
    """
    u, v = (k for k in range(3) if k != axis)
    a, b, c = (corners[:, k][:, [u, v]] - point[[u, v]] for k in range(3))

    def doubled(p: Array, q: Array) -> Array:
        return np.asarray(p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0])

    shares = np.stack([doubled(b, c), doubled(c, a), doubled(a, b)], axis=1)
    area = shares.sum(axis=1)
    flat = np.abs(area) < 1e-15
    shares = shares / np.where(flat, 1.0, area)[:, None]
    hit = ~flat & (shares >= -EDGE).all(axis=1)
    if not hit.any():
        return None
    heights = (shares[hit] * corners[hit][:, :, axis]).sum(axis=1)
    return float(sense * (sense * heights).max())
