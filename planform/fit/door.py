"""Straight through a door: the width and height the aircraft needs, at the best heading."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.footprint import plan_hull
from planform.airframe.stance import Standing
from planform.design.doors import Door
from planform.design.slope import least_clear_height
from planform.fit.room import Room

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Passage:
    """What one straight push through a door leaves free [m].

    rolling_* : on its wheels, nose or tail first, along its own centre line
    best_* : carried or on dollies at the heading (nose from the way of travel) that needs least
    head_gaps : of each part under the door head
    sill_gaps : of each part that hangs over the threshold; empty without one
    bulge : taken off on each side, over and under for curves outside their facets
    """

    door: str
    rolling_width: float
    rolling_gap: float
    best_width: float
    best_gap: float
    best_heading: float
    head_gaps: dict[str, float]
    sill_gaps: dict[str, float]
    widest: str
    bulge: float = 0.0

    @property
    def rolling(self) -> bool:
        """Whether it is judged rolling straight ahead: where that passes, or nothing does."""
        return self.rolling_gap >= 0.0 or self.best_gap < 0.0

    @property
    def highest(self) -> str:
        """The part nearest the door head."""
        return min(self.head_gaps, key=lambda part: self.head_gaps[part])

    @property
    def head_gap(self) -> float:
        """The least gap under the door head."""
        return min(self.head_gaps.values())

    @property
    def sill_gap(self) -> float | None:
        """The least gap over the threshold; None without one."""
        return min(self.sill_gaps.values(), default=None)


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


def passage(standing: Standing, room: Room, door: Door) -> Passage:
    """The straight push through one door on an even floor."""
    points = standing.all_points()
    bulge = standing.bulge
    hull = plan_hull(points)
    heading, best = best_heading(hull)
    rolling = needed_width(hull, 0.0)
    clear = float(door.clear_width)
    head = least_clear_height(room.place, door) - bulge
    wide = max(standing.parts, key=lambda p: float(np.abs(p.points[:, 1]).max()))
    hung = [p for p in standing.parts if p.role != "wheel"] if door.threshold > 0.0 else []
    sill = bulge + float(door.threshold)
    return Passage(
        door=door.name,
        rolling_width=rolling + 2.0 * bulge,
        rolling_gap=clear - rolling - 2.0 * bulge,
        best_width=best + 2.0 * bulge,
        best_gap=clear - best - 2.0 * bulge,
        best_heading=heading,
        head_gaps={p.name: head - float(p.points[:, 2].max()) for p in standing.parts},
        sill_gaps={p.name: float(p.points[:, 2].min()) - sill for p in hung},
        widest=wide.name,
        bulge=bulge,
    )


def passages(standing: Standing, room: Room) -> tuple[Passage, ...]:
    """The straight push through every door of the place."""
    return tuple(passage(standing, room, door) for door in room.place.doors)
