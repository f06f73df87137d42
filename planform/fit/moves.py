"""Moves of an aircraft over a level floor, and the route they make."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.core.frames import floor2place
from planform.core.quantity import FloorPoint, Metres, PlacePoint, PlanPoint, Radians, Ratio
from planform.design.place import Spot

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Pose:
    """Where the parking point stands in place axes [m] and the way the nose points [rad].

    heading : 0 away from the front wall, clockwise seen from above; not wrapped, so that the
    difference of two headings is the turn between them
    """

    x: Metres
    y: Metres
    heading: Radians

    def place(self, points: Array) -> Array:
        """Points from floor axes to place axes [m]; array, shape (n, 2) or (n, 3)."""
        size = points.shape[1]
        turn = floor2place(self.heading)[:size, :size]
        return np.asarray(points @ turn.T + np.array([self.x, self.y, 0.0])[:size])


def at_spot(spot: Spot) -> Pose:
    """The pose of an aircraft that is parked on a spot."""
    return Pose(float(spot.at[0]), float(spot.at[1]), float(spot.heading))


@dataclass(frozen=True)
class Move:
    """One move between two poses.

    centre : a point of the floor the aircraft turns about [m]; None where it does not: then the
    aircraft's own point `carried` (floor axes) goes straight while the heading changes evenly
    """

    start: Pose
    end: Pose
    centre: PlanPoint | None = None
    carried: FloorPoint = (0.0, 0.0)

    @property
    def turn(self) -> Radians:
        """The change of heading [rad], clockwise positive."""
        return self.end.heading - self.start.heading

    def at(self, share: float) -> Pose:
        """The pose after a share (0 to 1) of the move."""
        heading = self.start.heading + share * self.turn
        if self.centre is not None:
            angle = -share * self.turn  # clockwise headings, right-handed plan
            c, s = np.cos(angle), np.sin(angle)
            x, y = self.start.x - self.centre[0], self.start.y - self.centre[1]
            return Pose(self.centre[0] + c * x - s * y, self.centre[1] + s * x + c * y, heading)
        point = np.array([self.carried])
        a, b = self.start.place(point)[0], self.end.place(point)[0]
        origin = Pose(0.0, 0.0, heading).place(point)[0]
        x, y = a + share * (b - a) - origin
        return Pose(float(x), float(y), heading)

    @property
    def reversed(self) -> Move:
        """The same move backwards."""
        return Move(self.end, self.start, self.centre, self.carried)


@dataclass(frozen=True, eq=False)
class Route:
    """Moves one after the other.

    clearance : the level clearance proved along all of it [m]
    moving : 'dollies' (any way) or 'gear' (rolls without side-slip)
    """

    moves: tuple[Move, ...]
    clearance: Metres
    moving: str

    @property
    def poses(self) -> tuple[Pose, ...]:
        """The pose before the first move and after each."""
        return (self.moves[0].start, *(move.end for move in self.moves)) if self.moves else ()

    @property
    def reversed(self) -> Route:
        """The way in: the same moves backwards."""
        return Route(tuple(m.reversed for m in reversed(self.moves)), self.clearance, self.moving)


@dataclass(frozen=True, eq=False)
class Tight:
    """An instant of a route at which a part comes near a thing.

    gap : between the two [m]; at_part, at_thing : the nearest points in place axes, shape (3,)
    move, share : which move of the route (from 0), and the share of it that is done
    """

    pose: Pose
    part: str
    thing: str
    gap: Metres
    at_part: PlacePoint
    at_thing: PlacePoint
    move: int
    share: Ratio
