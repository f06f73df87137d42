"""Scenes of the stills: in the room from several sides, heights, stages in a row, the way out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.stance import Standing
from planform.core.shape.prism import prism
from planform.design.told import said
from planform.drawing.heights import tall_points
from planform.drawing.outlooks import outlooks
from planform.drawing.scale_figures import person
from planform.drawing.scene import Camera, Leader, Scene, Solid
from planform.drawing.scenes import aircraft_scene, in_room, posed, room_scene
from planform.fit.answer import FitAnswer
from planform.fit.moves import Pose, Tight, at_spot
from planform.fit.question import door_ways
from planform.fit.room import Room, spot_point
from planform.fit.steps import Step

Array = NDArray[np.float64]

FLOOR, FIGURE, RED, WALL = "#cfc7b6", "#6b5a3c", "#b3361b", "#e4dccb"
ASPECT = 1400 / 900
"""Width to height of the pictures."""
ASIDE = 0.9
"""How far a figure stands beside a tip [m]; assumption."""
WALLS = ("wall", "door head")


@dataclass(frozen=True, eq=False)
class Tile:
    """One picture of a strip: its scene with one camera, and the words under it."""

    scene: Scene
    words: str


def room_stills(answer: FitAnswer, room: Room, system: str) -> list[Scene]:
    """The aircraft on its spot: over the wall, from above, through each door, from inside."""
    first = room_scene(answer, room, system)
    if first is None:
        return []
    spot = spot_point(room.place, answer.spot)
    assert spot is not None  # the scene is there
    points = np.concatenate([s.points for s in posed(answer.standing, at_spot(spot))])
    above = Camera(
        "above", np.array([0.0, 0.0, 1.0]), np.array([0.0, 1.0, 0.0]), True, "from above"
    )
    views = outlooks(room, door_ways(room.place), points.min(axis=0), points.max(axis=0))
    out = [replace(first, cameras=(replace(first.cameras[0], name="place"),))]
    for camera in (above, *(view.camera(ASPECT) for view in views)):
        scene = room_scene(answer, room, system, camera)
        assert scene is not None
        out.append(scene if camera is above else _walled(scene, room))
    return out


def _walled(scene: Scene, room: Room) -> Scene:
    """The same with walls that are not looked through, as one stands among them."""
    walls = {thing.name for thing in room.fixed if thing.kind in WALLS}
    solids = tuple(
        replace(s, opacity=1.0, colour=s.colour if s.name == "floor" else WALL)
        if s.name in walls or s.name == "floor"
        else s
        for s in scene.solids
    )
    return replace(scene, solids=solids)


def heights_scene(standing: Standing, system: str) -> Scene:
    """The aircraft over the floor with its tips' heights, a person beside it for scale."""
    points = standing.all_points()
    low, high = points.min(axis=0), points.max(axis=0)
    tall = tall_points(standing)
    leaders = tuple(
        Leader(
            np.array([*one.at[:2], standing.floor]),
            one.at,
            f"{one.what} {said(one.height, 'length', system)}",
            RED,
        )
        for one in tall
    )
    tip = min(tall, key=lambda one: float(one.at[1])).at
    beside = np.array([tip[0], low[1] - ASIDE, standing.floor])
    cameras = (
        Camera("heights", np.array([-1.0, -0.8, 0.3]), UP, False, "how high it stands"),
        Camera(
            "heights-ahead", np.array([-1.0, 0.0, 0.0]), UP, True, "how high it stands, from ahead"
        ),
    )
    scene = aircraft_scene(standing)
    ground = _ground(low - 1.5 * ASIDE, high + ASIDE, standing.floor)
    solids = (*scene.solids, _figure(beside), ground)
    return Scene(scene.title, solids, leaders, cameras)


UP = np.array([0.0, 0.0, 1.0])


def _figure(at: Array) -> Solid:
    one = person()
    return Solid(one.name, one.points + at, one.faces, FIGURE)


def _ground(low: Array, high: Array, height: float) -> Solid:
    ring = np.array([[low[0], low[1]], [high[0], low[1]], [high[0], high[1]], [low[0], high[1]]])
    return Solid("floor", *prism(ring, height - 0.03, height), FLOOR, 0.25)


def stages_tiles(standings: Sequence[Standing], system: str) -> list[Tile]:
    """Every stage from the left and ahead, all to one scale, each with its sizes."""
    ends = [standing.all_points() for standing in standings]
    low = np.min([points.min(axis=0) for points in ends], axis=0)
    high = np.max([points.max(axis=0) for points in ends], axis=0)
    box = _box(np.array([low[0], low[1], 0.0]), high)
    out = []
    for k, (standing, points) in enumerate(zip(standings, ends, strict=True)):
        long, wide = np.ptp(points, axis=0)[:2]
        tall = points[:, 2].max() - standing.floor
        sizes = [said(float(size), "length", system) for size in (long, wide, tall)]
        words = f"{k + 1}. {standing.title}: {sizes[0]} long, {sizes[1]} wide, {sizes[2]} high"
        camera = Camera(f"stage-{k + 1}", np.array([-1.0, -0.9, 0.5]), UP, True, "from the left")
        scene = aircraft_scene(standing)
        ground = _ground(low, high, standing.floor)
        out.append(
            Tile(Scene(scene.title, (*scene.solids, ground), (), (camera,), extent=box), words)
        )
    return out


def way_tiles(
    answer: FitAnswer, room: Room, steps: Sequence[Step], told: Sequence[str], system: str
) -> list[Tile]:
    """The way out as single pictures: parked, then where each step is tight and where it ends.

    steps : of the way, in order, `told` in words; empty where there is no way
    """
    way = answer.way
    if way is None or not steps:
        return []
    frames: list[tuple[Pose, Tight | None, str]] = [(steps[0].start, None, "parked")]
    for step, words in zip(steps, told, strict=True):
        frames += [
            (t.pose, t, f"in step {step.number}, where it is tightest")
            for t in _within(step, way.tight)
        ]
        frames.append((step.end, None, f"{step.number}. {words}"))
    box = _extent(answer, room)
    tiles = []
    for k, (pose, tight, words) in enumerate(frames):
        scene = _at(answer, pose, tight, f"way-{k + 1}", system)
        tiles.append(Tile(in_room(replace(scene, extent=box), room), words))
    return tiles


def _within(step: Step, tights: Sequence[Tight]) -> list[Tight]:
    """The tightest instant of a step, where it has one."""
    mine = [t for t in tights if step.has(t.move)]
    return sorted(mine, key=lambda t: t.gap)[:1]


def _leader(tight: Tight, system: str) -> Leader:
    words = f"{said(tight.gap, 'gap', system)} {tight.part} / {tight.thing}"
    return Leader(tight.at_part, tight.at_thing, words, RED)


def _at(answer: FitAnswer, pose: Pose, tight: Tight | None, name: str, system: str) -> Scene:
    """The aircraft at a pose of its way, from over the front wall, with where it is tight."""
    camera = Camera(name, np.array([0.35, -1.0, 1.15]), UP, True, "on the way out")
    leaders = () if tight is None else (_leader(tight, system),)
    title = f"{answer.standing.title}, out of {answer.place}"
    return Scene(title, posed(answer.standing, pose), leaders, (camera,))


def _extent(answer: FitAnswer, room: Room) -> Array:
    """The corners of all that is met on the way: the floor, and the aircraft at every pose."""
    assert answer.way is not None
    assert answer.way.route is not None
    shapes = [p.place(answer.standing.all_points()) for p in answer.way.route.poses]
    floor = np.column_stack([room.floor, np.zeros(len(room.floor))])
    points = np.concatenate([*shapes, floor])
    return _box(points.min(axis=0), points.max(axis=0))


def _box(low: Array, high: Array) -> Array:
    """The eight corners between two, shape (8, 3)."""
    ends = np.array([low, high])
    return np.array([[ends[i, 0], ends[j, 1], ends[k, 2]] for i, j, k in np.ndindex(2, 2, 2)])
