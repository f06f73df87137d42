"""Compiled: one move of the aircraft's pivot over the floor, and whether it keeps a clearance."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planform.core.compiled import compiled
from planform.core.motion.planar import bounds

Array = NDArray[np.float64]


class PlanMove(NamedTuple):
    """A move of the pivot from a pose: straight and evenly turning, or about a fixed point.

    x, y, heading : where it begins [m, rad], headings clockwise
    dx, dy : how far it goes straight [m] ; turn : how far it turns [rad]
    arc : whether it is about the point (cx, cy) [m]; dx and dy are then nothing
    All floats but `arc`: the loops are compiled for these types alone.
    """

    x: float
    y: float
    heading: float
    dx: float
    dy: float
    turn: float
    arc: bool = False
    cx: float = 0.0
    cy: float = 0.0

    @property
    def start(self) -> Array:
        """The pose where it begins, shape (3,)."""
        return np.array(self[:3])

    @property
    def way(self) -> Array:
        """What it adds to the pose where it is straight, shape (3,)."""
        return np.array(self[3:6])

    @property
    def centre(self) -> Array:
        """The point that an arc is about, shape (2,)."""
        return np.array(self[7:])


def straight(start: Array, end: Array) -> PlanMove:
    """The move between two poses (3,) of the pivot, straight and evenly turning."""
    (x, y, heading), (dx, dy, turn) = map(float, start), map(float, end - start)
    return PlanMove(x, y, heading, dx, dy, turn)


def about(start: Array, turn: float, centre: Array) -> PlanMove:
    """The turn from a pose (3,) about a point (2,)."""
    (x, y, heading), (cx, cy) = map(float, start), map(float, centre)
    return PlanMove(x, y, heading, 0.0, 0.0, float(turn), True, cx, cy)


@compiled
def along(move, share):
    """The pose of the pivot after a share of a move."""
    heading = move.heading + share * move.turn
    if not move.arc:
        return move.x + share * move.dx, move.y + share * move.dy, heading
    c, s = np.cos(share * move.turn), -np.sin(share * move.turn)
    x, y = move.x - move.cx, move.y - move.cy
    return move.cx + c * x - s * y, move.cy + s * x + c * y, heading


@compiled
def keeps(g, move, c, pairs, finest):
    """Whether a move keeps clearance c all along.

    Returns 1 yes, 0 no (a pose on the way has less), -1 not told apart at `finest` [m];
    the share of the way where it failed; the least clearance seen.
    """
    start = np.empty(64)
    size = np.empty(64)
    first = np.empty(64, np.int64)
    count = np.empty(64, np.int64)
    pool = np.empty(max(1, len(pairs)) * 66, np.int32)
    for i in range(len(pairs)):
        pool[i] = pairs[i]
    if not move.arc:
        length = np.sqrt(move.dx**2 + move.dy**2)
    else:
        length = abs(move.turn) * np.sqrt((move.x - move.cx) ** 2 + (move.y - move.cy) ** 2)
    start[0], size[0], first[0], count[0] = 0.0, 1.0, 0, len(pairs)
    depth = 1
    least = np.inf
    kept = np.empty(max(1, len(pairs)), np.int32)
    while depth > 0:
        depth -= 1
        a, w, f, n = start[depth], size[depth], first[depth], count[depth]
        m = a + 0.5 * w
        x, y, heading = along(move, m)
        lower, _, middle, number = bounds(
            g, x, y, heading, 0.5 * w * length, 0.5 * w * abs(move.turn), c, pool, f, n, kept
        )
        if middle < least:
            least = middle
        if middle < c:
            return 0, m, least
        if lower >= c:
            continue
        if w * (length + abs(move.turn)) < finest or depth + 2 >= 64:
            return -1, m, least
        end = f + n
        for i in range(number):
            pool[end + i] = kept[i]
        start[depth], size[depth], first[depth], count[depth] = a + 0.5 * w, 0.5 * w, end, number
        start[depth + 1], size[depth + 1] = a, 0.5 * w
        first[depth + 1], count[depth + 1] = end, number
        depth += 2
    return 1, 1.0, least
