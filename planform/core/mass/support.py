"""What carries a standing aircraft: loads on its supports, and how near it is to tipping.

All points are seen from above, in floor axes [m]: x aft, y right.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

TOUCHES = 1e-9
"""Share of the mass; a support that carries less counts as lifted."""


@dataclass(frozen=True)
class Edge:
    """A line between two supports over which the aircraft could tip; outward unit normal."""

    first: int
    second: int
    normal: tuple[float, float]
    offset: float

    def inside(self, point: Array) -> float:
        """How far a point lies on the standing side of the line [m]."""
        return self.offset - float(np.dot(self.normal, point))


def reactions(points: Array, mass: float, centre: Array) -> Array:
    """Load on every support [kg], shape (n,); below zero where the aircraft would lift off.

    points : array, shape (n, 2), n >= 3, not on one line
    centre : array, shape (2,)
    Three supports are plain statics. More share the load as springs of one stiffness would
    (assumption); a support that would pull is left out and the rest share.
    """
    live = list(range(len(points)))
    while True:
        basis = np.column_stack([np.ones(len(live)), points[live]])
        wanted = np.array([mass, *(mass * np.asarray(centre))])
        share = basis @ np.linalg.solve(basis.T @ basis, wanted)
        rest = [k for k, load in zip(live, share, strict=True) if load >= -TOUCHES * mass]
        left = basis[[live.index(k) for k in rest]]
        if len(rest) == len(live) or len(rest) < 3 or np.linalg.matrix_rank(left) < 3:
            break
        live = rest
    loads = np.zeros(len(points))
    loads[live] = share
    return loads


def edges(points: Array) -> tuple[Edge, ...]:
    """The edges of the outline of the supports, shape (n, 2)."""
    out = []
    n = len(points)
    for i in range(n):
        for j in range(n):
            if i == j:
                continue
            along = points[j] - points[i]
            length = float(np.hypot(*along))
            if length < 1e-9:
                continue
            normal = np.array([along[1], -along[0]]) / length
            offset = float(normal @ points[i])
            beyond = points @ normal - offset
            between = (points - points[i]) @ along / length
            on_line = np.abs(beyond) < 1e-9
            if beyond.max() < 1e-9 and between[on_line].min() > -1e-9:
                if between[on_line].max() > length + 1e-9:
                    continue
                out.append(Edge(i, j, (float(normal[0]), float(normal[1])), offset))
    return tuple(out)


def tip_angle(inside: float, height: float) -> float:
    """The angle from upright of a line of supports to the centre of mass, seen along it [rad].

    inside : distance of the centre of mass inside the line, from above [m]; below zero: it falls
    height : of the centre of mass over the line [m]
    Measured at the floor. About the axles, as free wheels turn, it is a little larger. Backward
    about 15 deg is asked for (common practice, no source).
    """
    return float(np.arctan2(inside, height))


def overturn_angle(inside: float, height: float) -> float:
    """The overturn angle [rad]: at most 63 deg for a land aircraft (common practice)."""
    return float(np.pi / 2.0 - tip_angle(inside, height))


def push_to_tip(mass: float, inside: float, beyond: float) -> float | None:
    """Downward push [kg] beyond the line that lifts the supports on the other side.

    beyond : distance of the push outside the line, from above [m]
    None where a push there presses the supports down instead.
    """
    return mass * inside / beyond if beyond > 0.0 else None


def lift_to_tip(mass: float, inside: float, within: float) -> float | None:
    """Upward lift [kg] at a point inside the line that raises that end of the aircraft."""
    return mass * inside / within if within > 0.0 else None


def hold_down(mass: float, inside: float, wanted: float, arm: float, place: float) -> float | None:
    """Ballast [kg] that makes the supports at `arm` inside the line carry `wanted` [kg].

    inside, arm, place : distances of centre of mass, supports and ballast inside the line [m]
    Zero where they carry it already; None where ballast at that place cannot do it.
    """
    lacking = wanted * arm - mass * inside
    if lacking <= 0.0:
        return 0.0
    return lacking / place if place > 0.0 else None
