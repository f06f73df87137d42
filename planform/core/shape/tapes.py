"""Two tapes from two known points: where they cross, and how well."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def crossing(a: Array, b: Array, point: Array) -> float:
    """Angle between the two tapes where they cross over a point [rad], 0 to 90 deg.

    a, b, point : array, shape (2,) [m]; 0 where the point lies on the line of a and b, or on a or b
    """
    to_a, to_b = a - point, b - point
    cross = abs(float(to_a[0] * to_b[1] - to_a[1] * to_b[0]))
    return float(np.arctan2(cross, abs(float(to_a @ to_b))))


def moved_by(angle: float, error: float) -> float:
    """How far a mark may be out [m] where both tapes may be out by `error` [m].

    angle : at which the tapes cross [rad], 0 to 90 deg
    The four corners of the rhombus between the tapes' bands; the farther pair, first order.
    """
    half = np.sin(0.5 * angle)
    return float("inf") if half <= 0.0 else float(error / half)
