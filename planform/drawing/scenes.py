"""The scene that every picture is made from: the posed parts, the room, the least clearance."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.stance import Standing
from planform.core.shape.prism import prism
from planform.design.kinds import ROLES
from planform.design.told import said
from planform.drawing.framing import aim
from planform.drawing.scene import Camera, Leader, Scene, Solid
from planform.fit.answer import FitAnswer
from planform.fit.moves import Pose, at_spot
from planform.fit.room import Fixed, Room, spot_point

Array = NDArray[np.float64]

THROUGH = 0.14
"""Opacity of what would hide the aircraft."""

CORNERS = (
    ("three_quarter", (-1.0, -0.8, 0.55), "from ahead on the left"),
    ("side", (0.0, -1.0, 0.0), "from the left"),
    ("front", (-1.0, 0.0, 0.0), "from ahead"),
    ("above", (0.0, 0.0, 1.0), "from above"),
)


def _camera(name: str, direction: tuple[float, float, float], title: str) -> Camera:
    upright = abs(direction[2]) < 0.99
    return Camera(
        name=name,
        direction=np.array(direction),
        up=np.array([0.0, 0.0, 1.0] if upright else [-1.0, 0.0, 0.0]),
        parallel=name != "three_quarter" and name != "room",
        title=title,
    )


def aircraft_scene(standing: Standing) -> Scene:
    """The aircraft alone as it stands, with four cameras."""
    solids = tuple(
        Solid(
            part.name,
            part.points,
            part.faces,
            ROLES[part.role].colour,
            ROLES[part.role].opacity,
        )
        for part in standing.parts
    )
    cameras = tuple(_camera(*corner) for corner in CORNERS)
    return Scene(f"{standing.airframe.design.name}: {standing.title}", solids, (), cameras)


ROOM_CAMERA = _camera("room", (0.62, -1.0, 0.95), "in the room, over the front wall")


def room_scene(
    answer: FitAnswer, room: Room, system: str, camera: Camera = ROOM_CAMERA
) -> Scene | None:
    """The aircraft on its spot in the room, with a leader at the least clearance; one camera.

    What would hide the aircraft is seen through, as the room's walls are.
    """
    spot = spot_point(room.place, answer.spot) if answer.spot else None
    if spot is None:
        return None
    pose = at_spot(spot)
    title = f"{answer.standing.title}, in {answer.place}"
    first = Scene(title, posed(answer.standing, pose), _leaders(answer, system), (camera,))
    return in_room(first, room)


def posed(standing: Standing, pose: Pose) -> tuple[Solid, ...]:
    """The parts of an aircraft at a pose in a place."""
    return tuple(
        Solid(
            part.name,
            pose.place(part.points),
            part.faces,
            ROLES[part.role].colour,
            ROLES[part.role].opacity,
        )
        for part in standing.parts
    )


def in_room(scene: Scene, room: Room) -> Scene:
    """The scene with the room round it; what would hide its solids is seen through."""
    near = (thing for thing in room.fixed if _in_sight(thing, room))
    things = tuple((thing, thing_solid(thing, room)) for thing in near)
    floor = Solid("floor", *prism(room.floor, -0.05, 0.0), "#cfc7b6", 0.25)
    solids = (*scene.solids, *(solid for _, solid in things), floor)
    whole = replace(scene, solids=solids)
    seen = np.concatenate([solid.points for solid in scene.solids])
    hiding = {id(solid) for thing, solid in things if hides(thing, seen, whole)}
    clear = (replace(s, opacity=THROUGH) if id(s) in hiding else s for s in solids)
    return replace(whole, solids=tuple(clear))


BESIDE = 3.0
"""What has its middle farther outside the walls than this [m] is not in a picture of the room;
assumption."""


def _in_sight(thing: Fixed, room: Room) -> bool:
    """Whether a thing is in the room, of its walls, or right beside them."""
    import shapely

    middle = shapely.points(thing.outline.mean(axis=0))
    return bool(shapely.distance(shapely.polygons(room.floor), middle) <= BESIDE)


def thing_solid(thing: Fixed, room: Room) -> Solid:
    """A fixed thing under the ceiling: solid if it stands or hangs in the room, else glass."""
    points, faces = thing.mesh
    loose = thing.kind == "obstacle"
    if loose or room.place.ceiling is not None:
        points = points.copy()
        points[:, 2] = np.minimum(points[:, 2], room.ceiling_over(points))
    return Solid(thing.name, points, faces, *(("#b08d57", 1.0) if loose else ("#9aa5a8", 0.12)))


def _leaders(answer: FitAnswer, system: str) -> tuple[Leader, ...]:
    """The least clearance, parked."""
    least = answer.least
    if least is None:
        return ()
    words = f"{said(least.gap, 'gap', system)} {least.part} / {least.thing}"
    return (Leader(least.at_part, least.at_thing, words, "#b3361b"),)


def hides(thing: Fixed, points: Array, scene: Scene) -> bool:
    """Whether a solid thing stands between the scene's camera and any of points (n, 3) [m].

    Asked for the picture in parallel projection and for the one in perspective.
    """
    import shapely

    if thing.kind != "obstacle":
        return False
    outline = shapely.polygons(thing.outline)
    shapely.prepare(outline)
    for parallel in (True, False):
        view = aim(scene, scene.cameras[0], (1400, 900), parallel=parallel)
        way = view.toward_eye(points)
        # the eye looks from above: a line to it climbs through the thing's heights once
        share = (np.array([thing.low, thing.high]) - points[:, 2:]) / way[:, 2:]
        share = np.clip(share, 0.0, 1.0)
        ends = points[:, None, :2] + share[:, :, None] * way[:, None, :2]
        through = share[:, 1] > share[:, 0]
        if shapely.intersects(outline, shapely.linestrings(ends[through])).any():
            return True
    return False
