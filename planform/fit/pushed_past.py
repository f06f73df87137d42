"""A straight push through a door over a level floor, past what it meets besides the door.

On a level floor the aircraft goes straight, so all of a push at once is one distance: to what a
thing sweeps as it is drawn back along the way. Over uneven ground see `push_gaps`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from planform.airframe.footprint import plan_hull
from planform.airframe.on_the_move import on_the_move
from planform.airframe.stance import Standing
from planform.design.doors import Door
from planform.design.place import Spot
from planform.fit.check import Check, ranked
from planform.fit.clearance import Clearance, gap_to
from planform.fit.door import Passage, needed_width
from planform.fit.met import LOOK, SAME, WHEELS, WORDS, drawn_back, met_by_pushes
from planform.fit.moves import Pose
from planform.fit.room import Fixed, Room, doorway

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Course:
    """A straight push over a level floor: from wholly inside to wholly outside the walls.

    turned : the nose against the way of the end that leads [rad], clockwise
    ahead : 1 nose first, -1 tail first
    """

    door: str
    turned: float
    ahead: int

    @property
    def words(self) -> str:
        """Which end leads."""
        return "nose first" if self.ahead > 0 else "tail first"

    def begun(self, standing: Standing, room: Room) -> tuple[Pose, Array]:
        """The pose it begins at, wholly inside as far as the room lets, and its run (2,) [m].

        Its outline is in the middle of the opening.
        """
        door = next(d for d in room.place.doors if d.name == self.door)
        middle, out = doorway(room.place, door)
        heading = float(np.arctan2(out[0], out[1])) + self.turned
        heading += 0.0 if self.ahead > 0 else np.pi
        hull = Pose(0.0, 0.0, heading).place(plan_hull(standing.all_points()))
        right = np.array([out[1], -out[0]])
        along, across = hull @ out, hull @ right
        depth = float(((middle - room.floor) @ out).max())
        bulge = standing.bulge
        start = max(-float(along.max()) - bulge, -depth - float(along.min()) + bulge)
        end = room.place.floor.thickness - float(along.min()) + bulge
        aside = 0.5 * float(across.min() + across.max())
        at = middle + start * out - aside * right
        return Pose(float(at[0]), float(at[1]), heading), (end - start) * out

    def nearest(
        self, standing: Standing, room: Room, kind: str, limit: float = np.inf
    ) -> Clearance | None:
        """The least gap of all parts to a kind of thing anywhere along it; None over a limit [m].

        Its points are those of the aircraft where it begins, and of the thing drawn back to it.
        """
        door = next(d for d in room.place.doors if d.name == self.door)
        pose, run = self.begun(standing, room)
        solids = [(p.name, pose.place(p.points), p.faces, p.bulge) for p in standing.parts]
        best: Clearance | None = None
        for thing in met_by_pushes(room, door).get(kind, ()):
            swept = replace(thing, outline=drawn_back(thing.outline, run))
            for solid in solids:
                found = gap_to(solid, swept, limit)
                if found is not None and (best is None or found.gap < best.gap):
                    best, limit = found, max(found.gap + solid[3], 0.0)
        return best

    def gap(self, standing: Standing, room: Room, kind: str) -> float:
        """The least gap to a kind of thing [m] of an aircraft as it is moved."""
        found = self.nearest(on_the_move(standing), room, kind)
        return np.inf if found is None else found.gap


def courses(standing: Standing, passed: Passage, ways: Sequence[int]) -> Iterator[Course]:
    """The ways a door may be passed on a level floor: rolling, or turned as it needs least."""
    turns = [0.0]
    if not passed.rolling:
        hull, best = plan_hull(standing.all_points()), passed.best_heading
        widths = needed_width(hull, best), needed_width(hull, -best)
        turns = [best, -best] if widths[1] - widths[0] < SAME else [best]
    for ahead in ways:
        for turned in turns:
            yield Course(passed.door, turned, ahead)


def level_checks(
    standing: Standing, room: Room, door: Door, passed: Passage, ways: Sequence[int]
) -> list[Check]:
    """The checks of a push over a level floor on what it meets besides the door; the better way.

    standing : as it is moved ; ways : which ends may lead
    """
    kinds = met_by_pushes(room, door)
    if not kinds:
        return []
    found = [_checks(standing, room, course, kinds) for course in courses(standing, passed, ways)]
    return min(found, key=ranked)


def _checks(
    standing: Standing, room: Room, course: Course, kinds: dict[str, tuple[Fixed, ...]]
) -> list[Check]:
    out = []
    for kind in WORDS:
        near = course.nearest(standing, room, kind, LOOK) if kind in kinds else None
        if near is None or (kind == WHEELS and near.gap >= 0.0):
            continue
        wanted, whence = room.wanted(near.kind)
        out.append(
            Check(
                f"{course.door}: {kind}",
                course.door,
                WORDS[kind],
                near.gap,
                wanted,
                f"{near.part} and {near.thing}, {course.words}",
                wanted_from=whence,
                again=partial(_again, course, kind),
            )
        )
    return out


def _again(course: Course, kind: str, standing: Standing, room: Room, spot: Spot | None) -> float:
    return course.gap(standing, room, kind)
