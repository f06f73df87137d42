"""What a standing aircraft takes of the floor: outline, taut string, least rectangle."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def least_rectangle(hull: Array) -> tuple[float, float, float]:
    """Least-area rectangle around a convex outline, shape (n, 2): long side, short side, direction.

    One side lies along a side of the hull. direction : of the long side from x [rad]
    """
    edge = np.roll(hull, -1, axis=0) - hull
    angle = np.arctan2(edge[:, 1], edge[:, 0])
    c, s = np.cos(angle), np.sin(angle)
    u = hull @ np.stack([c, s])
    v = hull @ np.stack([-s, c])
    a, b = np.ptp(u, axis=0), np.ptp(v, axis=0)
    k = int(np.argmin(a * b))
    if a[k] >= b[k]:
        return float(a[k]), float(b[k]), float(angle[k])
    return float(b[k]), float(a[k]), float(angle[k] + np.pi / 2.0)


def plan_hull(points: Array) -> Array:
    """Convex plan outline of points (n, 3), counter-clockwise, shape (m, 2) [m]."""
    import shapely

    hull = shapely.convex_hull(shapely.multipoints(points[:, :2]))
    return np.asarray(shapely.get_coordinates(shapely.orient_polygons(hull)))[:-1]
