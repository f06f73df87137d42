"""Points of a floor by two tapes from two corners of the room."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.outlines import Shape
from planform.core.quantity import Metres, PlacePoint, Radians
from planform.core.shape.tapes import crossing
from planform.fit.room import Room

Array = NDArray[np.float64]

GOOD_CROSSING = math.radians(30.0)
"""Under this angle two tapes give a poor mark [rad]. Common practice, no source."""
ON_THE_FLOOR = 0.05
"""A standing thing that starts lower than this stands in the way of a tape [m]. Assumption."""


@dataclass(frozen=True, eq=False)
class Corner:
    """A corner of the floor: its name by the walls that meet in it, and where it is [m]."""

    name: str
    point: Array


@dataclass(frozen=True, eq=False)
class Taped:
    """A point of the floor by two tapes; it lies inside the room from the wall of both corners.

    first, second : the corners, the wall running from the first to the second, the room at its
    left; crossing : angle between the tapes at the point [rad]
    blocked : what a tape on the floor meets on its way, '' where nothing
    """

    name: str
    point: PlacePoint
    first: Corner
    second: Corner
    blocked: str = ""

    @property
    def from_first(self) -> Metres:
        """Tape reading from the first corner [m]."""
        return math.dist(self.point, self.first.point)

    @property
    def from_second(self) -> Metres:
        """Tape reading from the second corner [m]."""
        return math.dist(self.point, self.second.point)

    @property
    def crossing(self) -> Radians:
        """Angle at which the tapes cross [rad]."""
        return crossing(self.first.point, self.second.point, self.point)

    @property
    def poor(self) -> bool:
        """Whether the tapes cross under 30 deg."""
        return self.crossing < GOOD_CROSSING


Pair = tuple[Corner, Corner]


def corners(room: Room) -> tuple[Corner, ...]:
    """The corners of the floor, in the order of the walls, each where a wall starts."""
    if room.place.floor.outline is None:
        names = ["front left corner", "front right corner", "back right corner", "back left corner"]
    else:
        walls = list(room.place.floor.walls)
        names = [
            f"corner {k + 1} ({walls[k - 1]} meets {walls[k]})" for k in range(len(room.floor))
        ]
    return tuple(Corner(name, point) for name, point in zip(names, room.floor, strict=True))


def walls(room: Room) -> tuple[Pair, ...]:
    """The two corners of every wall."""
    found = corners(room)
    return tuple((found[k], found[(k + 1) % len(found)]) for k in range(len(found)))


def in_the_way(room: Room, start: Array, end: Array, floor: Shape) -> str:
    """What a tape on the floor between two points meets: a wall or a standing thing; or ''.

    floor : the floor's shape, with the room to touch its edge
    """
    import shapely

    tape = shapely.linestrings([start, end])
    if not floor.covers(tape):
        return "a wall"
    for thing in room.fixed:
        if thing.kind == "obstacle" and thing.low < ON_THE_FLOOR:
            inside = shapely.polygons(thing.outline).buffer(-1e-6)
            if inside.intersects(tape):
                return thing.name
    return ""


def _taped(room: Room, name: str, point: Array, pair: Pair, floor: Shape) -> Taped:
    blocked = [in_the_way(room, corner.point, point, floor) for corner in pair]
    return Taped(name, point, *pair, next((b for b in blocked if b), ""))


def _worth(taped: Taped) -> float:
    return 0.0 if taped.blocked else taped.crossing


def best_wall(room: Room, points: Sequence[Array]) -> Pair:
    """The corners of the wall that serves points of the floor best.

    That from whose corners most of them are reached by tapes that meet nothing and cross at 30
    deg or more, and among those the one whose worst such crossing is best.
    """
    floor = _floor(room)
    inside = _inside([("", p) for p in points], floor)

    def merit(pair: Pair) -> tuple[int, float]:
        worths = [_worth(_taped(room, name, p, pair, floor)) for name, p in inside]
        good = [w for w in worths if w >= GOOD_CROSSING]
        return len(good), min(good, default=max(worths, default=0.0))

    return max(walls(room), key=merit)


def _floor(room: Room) -> Shape:
    import shapely

    return shapely.polygons(room.floor).buffer(1e-6)


def _inside(points: Sequence[tuple[str, Array]], floor: Shape) -> list[tuple[str, Array]]:
    import shapely

    plan = [(name, np.asarray(p)[:2]) for name, p in points]
    return [(name, p) for name, p in plan if floor.covers(shapely.points(p))]


def tape(
    room: Room, points: Sequence[tuple[str, Array]], wall: Pair | None = None
) -> tuple[Taped, ...]:
    """Every point of the floor by two tapes.

    points : name and place coordinates, shape (2,); those off the floor are left out
    wall : the corners to start from, those that serve these points best where None; a point that
    they serve badly is taken from the wall that serves it best
    """
    floor = _floor(room)
    wall = best_wall(room, [p for _, p in points]) if wall is None else wall
    out = []
    for name, point in _inside(points, floor):
        one = _taped(room, name, point, wall, floor)
        if _worth(one) < GOOD_CROSSING:
            ways = [_taped(room, name, point, pair, floor) for pair in walls(room)]
            one = max([one, *ways], key=_worth)
        out.append(one)
    return tuple(out)
