"""The least gap over a turn, bounded between the angles that are looked at."""

from __future__ import annotations

import heapq
import math
from collections.abc import Callable

FINE = 1e-3
"""The least gap of a turn is found to this [m]."""

MOST_LOOKS = 200
"""Angles that are looked at for one turn; what is open then is taken from the safe side."""


def least_over_turn(
    gap: Callable[[float], float], angle: float, reach: float, known: float = math.inf
) -> tuple[float, float]:
    """A lower bound of the least gap over a turn, within `FINE` of it, and where it is.

    gap : the gap at an angle [m] ; angle : how far it turns [rad]
    reach : the greatest distance of anything that turns from the hinge line [m]; between two
        angles the gap changes by at most this times the angle between them
    known : a gap of another pair [m]; what is farther need not be found
    Returns the gap [m] and the angle [rad] of the least one looked at.
    """
    ends = [(gap(0.0), 0.0), (gap(angle), angle)]
    best = min(ends)

    def bound(a: tuple[float, float], b: tuple[float, float]) -> float:
        return 0.5 * (a[0] + b[0] - reach * (b[1] - a[1]))

    left = [(bound(*ends), ends[0], ends[1])]
    looks = 2
    while left and left[0][0] < min(best[0] - FINE, known) and looks < MOST_LOOKS:
        _, a, b = heapq.heappop(left)
        middle = 0.5 * (a[1] + b[1])
        found = (gap(middle), middle)
        looks += 1
        best = min(best, found)
        for pair in ((a, found), (found, b)):
            heapq.heappush(left, (bound(*pair), *pair))
    open_bound = left[0][0] if left else best[0]
    return max(0.0, min(best[0], open_bound)) if best[0] > 0.0 else best[0], best[1]
