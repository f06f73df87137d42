"""Where the people who watch the ends stand in a step, and what comes near each end."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.outlines import Shape
from planform.airframe.stance import Standing
from planform.core.frames import floor2place
from planform.fit.moves import Pose, Tight
from planform.fit.room import Fixed, Room
from planform.fit.steps import Step
from planform.fit.swept import (
    Mark,
    at_pose,
    corners_of,
    filled,
    samples,
    swept_outline,
    watched,
)

Array = NDArray[np.float64]

PERSON = 0.3
"""Half of the floor that a person takes [m]. Assumption."""
REACHES = (0.6, 0.9, 1.3, 1.8, 2.4)
"""How far from the end watched a walker may stand [m], nearest first. Assumption."""
WAYS = 24
NEAR_ENOUGH = 1.5
"""Way of an end that a walker watches standing still [m]. Assumption."""
LOOK_STEP = 0.1
"""Travel of the outline between two looks at the ends [m]."""


@dataclass(frozen=True, eq=False)
class Post:
    """Where a walker is at the end of a step, in place axes [m]; `room` is free all round it.

    along : whether the walker goes along, beside the end watched, or stands still
    """

    mark: Mark
    point: Array
    room: float
    along: bool

    @property
    def enough(self) -> bool:
        """Whether a person has room there all the while; else keep off and watch from afar."""
        return self.room >= PERSON


def _solid(room: Room) -> Shape:
    """All that a person cannot stand in: walls, and things that start under head height."""
    import shapely

    kinds, head = ("wall", "obstacle", "pit"), room.height + 2.0
    bars = [f for f in room.fixed if f.kind in kinds and f.low < head]
    return shapely.union_all([shapely.polygons(f.outline) for f in bars])


def places(standing: Standing, room: Room, step: Step, shape: Shape) -> tuple[Post, ...]:
    """A place for every walker through a step: beside the end, free all round.

    Nobody stands between a moving end and a wall, or ahead of the aircraft. Where the end goes no
    farther than NEAR_ENOUGH the walker stands still beside the middle of its way, clear of all
    that the aircraft sweeps; else the walker goes along with it. Of the places round the end that
    have a person's room the nearest is taken; where none has, the freest.
    shape : the plan outline in floor axes
    """
    poses = samples(step.moves, corners_of(shape), LOOK_STEP)
    solid = _solid(room)
    shape = filled(shape)
    sweep = filled(swept_outline(shape, step.moves, LOOK_STEP))
    out: list[Post] = []
    for mark in watched(standing):
        track = np.array([mark.at(pose)[:2] for pose in poses])
        length = float(np.linalg.norm(np.diff(track, axis=0), axis=1).sum())
        others = [p.point for p in out]
        if length <= NEAR_ENOUGH:
            found = _beside([step.plain.at(0.5)], mark, sweep, sweep, solid, others)
        else:
            aircraft = at_pose(shape, step.end)
            found = _beside(poses, mark, aircraft, sweep, solid, others)
        out.append(Post(mark, found[1], found[0], length > NEAR_ENOUGH))
    return tuple(out)


def _beside(
    poses: Sequence[Pose],
    mark: Mark,
    aircraft: Shape,
    sweep: Shape,
    solid: Shape,
    others: Sequence[Array],
) -> tuple[float, Array]:
    """The nearest place beside an end that is free for a person, and how free; or the freest.

    Where the person is at first must lie off the sweep: nobody walks ahead of the aircraft. The
    person sees the end: no wall is between.
    """
    import shapely

    last = poses[-1]
    end = mark.at(last)[:2]
    best = -1.0, end
    for reach in REACHES:
        for k in range(WAYS):
            angle = math.tau * k / WAYS
            point = end + reach * np.array([math.cos(angle), math.sin(angle)])
            if shapely.linestrings([end, point]).intersects(solid):
                continue
            way = _carried(last, point, poses)
            gaps = [float(shapely.distance(shapely.points(point), aircraft))]
            gaps.append(float(shapely.distance(shapely.points(way[0]), sweep)))
            gaps += [math.dist(point, other) - PERSON for other in others]
            if min(gaps) > best[0] + 1e-6:
                gaps.append(float(shapely.distance(shapely.points(way), solid).min()))
            if min(gaps) > best[0] + 1e-6:
                best = min(gaps), point
        if best[0] >= PERSON:
            break
    return best


def _carried(last: Pose, point: Array, poses: Sequence[Pose]) -> Array:
    """The way of a person who keeps beside the same spot of the aircraft, shape (n, 2)."""
    turn = floor2place(last.heading)[:2, :2]
    own = (point - np.array([last.x, last.y])) @ turn
    return np.array([pose.place(own[None, :])[0] for pose in poses])


@dataclass(frozen=True, eq=False)
class Near:
    """The least distance of an end watched to what is near its height, over a route [m].

    above : how far the end then passes over the thing; below zero: under it; 0.0 beside it
    """

    mark: Mark
    gap: float
    thing: str
    step: int
    pose: Pose
    above: float = 0.0


def _at_height(room: Room, height: float) -> list[tuple[Fixed, float]]:
    """The things within PERSON of a height, and how far it is above them (below: under zero)."""
    out = []
    for f in room.solid:
        above = max(height - f.high, 0.0) - max(f.low - height, 0.0)
        if f.kind not in ("threshold", "pit") and abs(above) <= PERSON:
            out.append((f, above))
    return out


def nearest(
    standing: Standing, room: Room, steps: Sequence[Step], shape: Shape
) -> tuple[Near, ...]:
    """What comes nearest to every end watched, least first.

    It is measured from the very end to things within PERSON of its height, over and under them
    too, at poses no more than LOOK_STEP apart: it ranks the walkers and is no proof of clearance.
    """
    import shapely

    hull = corners_of(shape)
    looks = [(s.number, pose) for s in steps for pose in samples(s.moves, hull, LOOK_STEP)]
    out = []
    for mark in watched(standing):
        path = shapely.points(np.array([mark.at(pose)[:2] for _, pose in looks]))
        best: tuple[float, str, int, float] | None = None
        for thing, above in _at_height(room, float(mark.point[2])):
            gaps = np.hypot(shapely.distance(shapely.polygons(thing.outline), path), above)
            k = int(np.argmin(gaps))
            if best is None or gaps[k] < best[0]:
                best = float(gaps[k]), thing.name, k, above
        if best is not None:
            number, pose = looks[best[2]]
            out.append(Near(mark, best[0], best[1], number, pose, best[3]))
    return tuple(sorted(out, key=lambda near: near.gap))


def step_at(steps: Sequence[Step], tight: Tight) -> Step | None:
    """The step in which a tight instant falls; None where there are no steps."""
    for step in steps:
        if step.has(tight.move):
            return step
    return min(steps, key=lambda s: abs(s.first - tight.move), default=None)


def watched_there(standing: Standing, tight: Tight) -> Mark:
    """The end whose walker is nearest to a tight instant."""
    return min(watched(standing), key=lambda m: math.dist(m.at(tight.pose)[:2], tight.at_part[:2]))


def shown_poses(step: Step, shape: Shape, ghosts: int = 3) -> list[Pose]:
    """The start of a step and a few poses between, for ghosts of a picture."""
    poses = samples(step.moves, corners_of(shape), LOOK_STEP)
    picks = np.linspace(0, len(poses) - 1, ghosts + 2).round().astype(int)[:-1]
    return [poses[k] for k in dict.fromkeys(picks.tolist())]
