"""Points of a floor by two tapes from two corners of the room."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planform.core.tapes import crossing
from planform.design.checks import walls_of
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
    point: Array
    first: Corner
    second: Corner
    blocked: str = ""

    @property
    def from_first(self) -> float:
        """Tape reading from the first corner [m]."""
        return math.dist(self.point, self.first.point)

    @property
    def from_second(self) -> float:
        """Tape reading from the second corner [m]."""
        return math.dist(self.point, self.second.point)

    @property
    def crossing(self) -> float:
        """Angle at which the tapes cross [rad]."""
        return crossing(self.first.point, self.second.point, self.point)

    @property
    def poor(self) -> bool:
        """Whether the tapes cross under 30 deg."""
        return self.crossing < GOOD_CROSSING


def corners(room: Room) -> tuple[Corner, ...]:
    """The corners of the floor, in the order of the walls, each where a wall starts."""
    if room.place.floor.outline is None:
        names = ["front left corner", "front right corner", "back right corner", "back left corner"]
    else:
        walls = list(walls_of(room.place))
        names = [
            f"corner {k + 1} ({walls[k - 1]} meets {walls[k]})" for k in range(len(room.floor))
        ]
    return tuple(Corner(name, point) for name, point in zip(names, room.floor, strict=True))


def walls(room: Room) -> tuple[tuple[Corner, Corner], ...]:
    """The two corners of every wall."""
    found = corners(room)
    return tuple((found[k], found[(k + 1) % len(found)]) for k in range(len(found)))


def in_the_way(room: Room, start: Array, end: Array, floor: Any = None) -> str:
    """What a tape on the floor between two points meets: a wall or a standing thing; or ''."""
    import shapely

    tape = shapely.linestrings([start, end])
    floor = shapely.polygons(room.floor).buffer(1e-6) if floor is None else floor
    if not floor.covers(tape):
        return "a wall"
    for thing in room.fixed:
        if thing.kind == "obstacle" and thing.low < ON_THE_FLOOR:
            inside = shapely.polygons(thing.outline).buffer(-1e-6)
            if inside.intersects(tape):
                return thing.name
    return ""


def _taped(room: Room, name: str, point: Array, pair: tuple[Corner, Corner], floor: Any) -> Taped:
    blocked = [in_the_way(room, corner.point, point, floor) for corner in pair]
    return Taped(name, point, *pair, next((b for b in blocked if b), ""))


def _worth(taped: Taped) -> float:
    return 0.0 if taped.blocked else taped.crossing


def tape(room: Room, points: Sequence[tuple[str, Array]]) -> tuple[Taped, ...]:
    """Every point of the floor by two tapes.

    One wall is chosen for all of them: that from whose corners most points are reached by tapes
    that meet nothing and cross at 30 deg or more, and among those the one whose worst crossing is
    best. A point that this wall serves badly is taken from the wall that serves it best.
    points : name and place coordinates, shape (2,); those off the floor are left out
    """
    import shapely

    floor = shapely.polygons(room.floor).buffer(1e-6)
    inside = [(name, np.asarray(p)[:2]) for name, p in points]
    inside = [(name, p) for name, p in inside if floor.covers(shapely.points(p))]
    if not inside:
        return ()
    tables = [[_taped(room, n, p, pair, floor) for n, p in inside] for pair in walls(room)]

    def merit(table: list[Taped]) -> tuple[int, float]:
        worths = [_worth(t) for t in table]
        good = [w for w in worths if w >= GOOD_CROSSING]
        return len(good), min(good, default=max(worths))

    chosen = max(tables, key=merit)
    out = []
    for k, one in enumerate(chosen):
        if _worth(one) < GOOD_CROSSING:
            one = max((table[k] for table in tables), key=_worth)
        out.append(one)
    return tuple(out)
