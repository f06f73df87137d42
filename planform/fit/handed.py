"""The hand that a question is searched in, so that a question and its mirror image are one search.

A search breaks ties by the order in which its boxes lie. So that the mirror image of a room and an
aircraft has the mirror image of the route, both are turned to one hand first: the room is counted
from its middle line, it is turned so that it leans to the left (see `_leanings`), and what was
found is turned back. A question that is its own mirror image has one answer.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from planform.airframe.stance import Standing
from planform.fit.ground_plan import GroundPlan, Thing
from planform.fit.moves import Pose
from planform.fit.room import Room

if TYPE_CHECKING:
    from planform.core.motion.plan_moves import PlanMove

Array = NDArray[np.float64]

GRID = 2.0**-30
"""Places across the floor are rounded to this [m], about a billionth of a metre: the last bits of
two mirror images differ, and what is searched may not."""

EVEN = 1e-6
"""A leaning under this is none."""


@dataclass(frozen=True)
class Hand:
    """How the searched question lies to the one that was asked.

    side : -1 where left and right are exchanged, else 1
    middle : X of the room's middle line in place axes [m], where the searched one has X = 0
    """

    side: float
    middle: float

    def pose(self, pose: Pose) -> Pose:
        """A pose of the place, as it is searched."""
        x = self.side * (pose.x - self.middle)
        return Pose(*(float(v) for v in rounded(np.array([x, pose.y, self.side * pose.heading]))))

    def move(self, move: PlanMove) -> PlanMove:
        """A move that was found, in the place."""
        return move._replace(
            x=self.middle + self.side * move.x,
            heading=self.side * move.heading,
            dx=self.side * move.dx,
            turn=self.side * move.turn,
            cx=self.middle + self.side * move.cx if move.arc else 0.0,
        )

    def back_pose(self, pose: tuple[float, float, float]) -> tuple[float, float, float]:
        """A pose that was found, in the place."""
        x, y, heading = pose
        return self.middle + self.side * x, y, self.side * heading

    def ways(self, ways: Array) -> Array:
        """Directions of the place (n, 2), as they are searched."""
        return np.asarray(ways * np.array([self.side, 1.0]))

    def points(self, points: Array) -> Array:
        """Points of the place (n, 2), as they are searched."""
        return np.asarray((points - np.array([self.middle, 0.0])) * np.array([self.side, 1.0]))

    def ring(self, ring: Array) -> Array:
        """An outline of the place, as it is searched, in the same turn."""
        return _turned(rounded(self.points(ring)), self.side)

    def back(self, plan: GroundPlan, standing: Standing, room: Room) -> GroundPlan:
        """The ground plan that is searched, in the place, with the aircraft and room as asked."""
        across = np.array([1.0, self.side])

        def own(ring: Array) -> Array:
            return _turned(ring * across, self.side)

        def there(ring: Array) -> Array:
            placed = ring * across[::-1] + np.array([self.middle, 0.0])
            return _turned(placed, self.side)

        def thing(one: Thing) -> Thing:
            return replace(one, outline=there(one.outline))

        return replace(
            plan,
            standing=standing,
            room=room,
            pivot=plan.pivot * across,
            ranges=tuple((a, b, tuple(map(own, rings))) for a, b, rings in plan.ranges),
            things=tuple((k, thing(one)) for k, one in plan.things),
            hull=own(plan.hull),
            floors=tuple(map(there, plan.floors)),
        )


def rounded(values: Array) -> Array:
    """The values on the grid."""
    return np.asarray(np.round(values / GRID) * GRID)


def _turned(ring: Array, side: float) -> Array:
    return ring if side > 0.0 else ring[::-1].copy()


def hand_of(standing: Standing, room: Room, pose: Pose) -> Hand:
    """The hand of a question: the first leaning that there is points to the left."""
    middle = 0.5 * float(room.floor[:, 0].min() + room.floor[:, 0].max())
    leaning = next((q for q in _leanings(standing, room, pose, middle) if abs(q) > EVEN), -1.0)
    return Hand(1.0 if leaning < 0.0 else -1.0, middle)


def _leanings(standing: Standing, room: Room, pose: Pose, middle: float) -> Iterator[float]:
    """Numbers that change their sign in a mirror: of the spot, the room and the aircraft."""
    yield pose.x - middle
    yield float(np.sin(pose.heading))
    for power in (0, 1, 2):
        yield sum(_moment(t.outline, middle, power) * (t.high - t.low) for t in room.fixed)
    for power in (0, 1, 2):
        yield sum(_moment(t.outline, middle, power) * t.low for t in room.fixed)
    yield _moment(room.floor, middle, 1)
    for line in room.roof:
        if line.axis == 0:
            yield float((np.array(line.at) - middle) @ np.array(line.height))
    points = standing.all_points()
    x, y, z = points.T
    for weight in (1.0, x, z, x * z, x * x, z * z):
        yield float(np.mean(y * weight))


def _moment(ring: Array, middle: float, power: int) -> float:
    """Of a plan outline: its area times how far right of the middle it lies, times Y to a power."""
    x, y = ring[:, 0] - middle, ring[:, 1]
    area = 0.5 * abs(float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)))
    return area * float(x.mean()) * float(y.mean()) ** power


@lru_cache(maxsize=64)
def handed_standing(standing: Standing, side: float) -> Standing:
    """The aircraft as it is searched: its corners on the grid, mirrored where it has to be."""
    scale = np.array([1.0, side, 1.0])

    def of(points: Array) -> Array:
        return np.asarray(rounded(points) * scale)

    parts = tuple(
        replace(p, points=of(p.points), faces=p.faces if side > 0.0 else p.faces[:, ::-1].copy())
        for p in standing.parts
    )
    return replace(standing, parts=tuple(sorted(parts, key=lambda p: _where(p.points))))


def _where(points: Array) -> tuple[float, ...]:
    """The middle of what is searched [m]: the order of parts and things that no list decides."""
    return tuple(np.round(points.mean(axis=0), 6).tolist())


def handed_room(room: Room, hand: Hand) -> Room:
    """The room as it is searched; the floor's fall is in the heights of its ceiling."""
    there = (replace(t, outline=hand.ring(t.outline)) for t in room.fixed)
    fixed = tuple(sorted(there, key=lambda t: (*_where(t.outline), t.low, t.high)))
    place = room.place
    if room.roof:
        level = place.floor.model_copy(update={"fall": None})
        place = place.model_copy(update={"floor": level})
    roof = tuple(line.mirrored(hand.middle, hand.side, GRID) for line in room.roof)
    return replace(room, place=place, fixed=fixed, floor=hand.ring(room.floor), roof=roof)
