"""Straight through a door: the width and height the aircraft needs, at the best heading."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.measure import plan_hull
from planform.airframe.stance import Standing
from planform.design.place import Door
from planform.fit.room import Room

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Passage:
    """What one straight push through a door leaves free [m].

    rolling_* : on its wheels, nose or tail first, along its own centre line
    best_* : carried or on dollies at the heading (nose from the way of travel) that needs least
    head_gap : under the door head; sill_gap : over the threshold, None without one
    """

    door: str
    rolling_width: float
    rolling_gap: float
    best_width: float
    best_gap: float
    best_heading: float
    head_gap: float
    sill_gap: float | None
    highest: str
    widest: str


def needed_width(hull: Array, heading: float) -> float:
    """Width of a plan outline (n, 2) across the way of travel [m]; the nose turned by heading."""
    across = np.array([np.sin(heading), np.cos(heading)])
    return float(np.ptp(hull @ across))


def best_heading(hull: Array) -> tuple[float, float]:
    """Heading [rad] of least width and that width [m]: a side of the hull lies along the way.

    The least width of a convex polygon is reached with one side flat against the calipers.
    """
    edge = np.roll(hull, -1, axis=0) - hull
    angles = -np.arctan2(edge[:, 1], edge[:, 0])
    angles = (angles + np.pi / 2.0) % np.pi - np.pi / 2.0
    widths = np.array([needed_width(hull, a) for a in angles])
    k = int(np.argmin(widths))
    return float(angles[k]), float(widths[k])


def passage(standing: Standing, door: Door) -> Passage:
    """The straight push through one door on a level floor."""
    points = standing.all_points()
    bulge = standing.bulge
    hull = plan_hull(points)
    heading, best = best_heading(hull)
    rolling = needed_width(hull, 0.0)
    clear = float(door.clear_width)
    top = max(standing.parts, key=lambda p: float(p.points[:, 2].max()))
    wide = max(standing.parts, key=lambda p: float(np.abs(p.points[:, 1]).max()))
    sill = None
    if door.threshold > 0.0:
        hung = [p for p in standing.parts if p.role != "wheel"]
        low = min(float(p.points[:, 2].min()) for p in hung) if hung else 0.0
        sill = low - bulge - float(door.threshold)
    return Passage(
        door=door.name,
        rolling_width=rolling + 2.0 * bulge,
        rolling_gap=clear - rolling - 2.0 * bulge,
        best_width=best + 2.0 * bulge,
        best_gap=clear - best - 2.0 * bulge,
        best_heading=heading,
        head_gap=float(door.clear_height) - float(top.points[:, 2].max()) - bulge,
        sill_gap=sill,
        highest=top.name,
        widest=wide.name,
    )


def passages(standing: Standing, room: Room) -> tuple[Passage, ...]:
    """The straight push through every door of the place."""
    return tuple(passage(standing, door) for door in room.place.doors)
