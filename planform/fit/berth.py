"""One aircraft where it is parked among others."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planform.airframe.stance import Standing
from planform.fit.moves import Pose, Route
from planform.fit.question import (
    Question,
)
from planform.fit.room import Room
from planform.fit.way_out import WAY, WayOut

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Berth:
    """One aircraft where it is parked, and its proved way out with those before it standing.

    number : its turn, from 1
    question : about its way with nothing set aside
    """

    number: int
    name: str
    standing: Standing
    pose: Pose
    room: Room
    route: Route
    question: Question

    @property
    def way(self) -> WayOut:
        """Its way out as an answer."""
        return WayOut(self.question, WAY, 0.0, "proved all along", self.route)

    @property
    def way_in(self) -> Route:
        """The way in: the way out backwards."""
        return self.route.reversed

    @cached_property
    def solids(self) -> list[tuple[str, Array, NDArray[np.int64], float]]:
        """Its parts where it is parked: name, points, faces, bulge."""
        return [(p.name, self.pose.place(p.points), p.faces, p.bulge) for p in self.standing.parts]
