"""The whole push out of a door over uneven ground, on the aircraft's own three wheels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planform.airframe.stance import Standing
from planform.core.motion.contacts import CannotStand
from planform.core.quantity import Metres
from planform.design.doors import Door
from planform.design.place import Place, Spot
from planform.fit.push_gaps import KINDS
from planform.fit.push_path import PushPath, Tightest
from planform.fit.room import Room, doorway

ALIGNED = float(np.cos(np.radians(2.0)))
"""Parked within 2 deg of the way out, it is pushed out as it stands; assumption."""


@dataclass(frozen=True, eq=False)
class Push:
    """One push through a door from wholly inside to wholly outside.

    ahead : 1 nose first, -1 tail first
    across : of the parking point, to the right of the door's middle looking out [m]
    start, end : places of the parking point [m]
    problem : why it could not be followed; then there is nothing in `tightest`
    remarks : what the reader should know about how it was followed
    """

    door: str
    ahead: int
    across: Metres
    start: Metres
    end: Metres
    tightest: tuple[Tightest, ...] = ()
    problem: str = ""
    remarks: tuple[str, ...] = ()

    @property
    def way(self) -> str:
        """Which end leads."""
        return "nose first" if self.ahead > 0 else "tail first"

    def least(self, kind: str) -> Tightest | None:
        """The least clearance of a kind; None where nothing of the kind is near."""
        return next((t for t in self.tightest if t.kind == kind), None)


def leading(place: Place, door: Door, spot: Spot | None) -> tuple[int, ...]:
    """Which end may lead out of a door: as it is parked along the way, else either."""
    if spot is None:
        return (1, -1)
    _, outward = doorway(place, door)
    nose = np.array([np.sin(float(spot.heading)), np.cos(float(spot.heading))])
    along = float(nose @ outward)
    return (1 if along > 0.0 else -1,) if abs(along) > ALIGNED else (1, -1)


def push_through(
    standing: Standing, room: Room, door: Door, ahead: int = 1, across: float = 0.0
) -> Push:
    """Follow one push out of a door; what stops it is told in `problem`.

    ahead : 1 nose first, -1 tail first
    across : of the parking point, to the right of the door's middle looking out [m]
    """
    way = PushPath(standing, room, door, ahead, across)
    start = end = 0.0
    try:
        start, end = way.reach
        found = [way.least(kind, *way.stretch(kind)) for kind in (*KINDS, *way.met)]
    except CannotStand as error:
        return Push(door.name, ahead, across, start, end, problem=str(error))
    near = tuple(t for t in found if t is not None)
    return Push(door.name, ahead, across, start, end, near, remarks=way.remarks())
