"""The scene that every picture is made from: the posed parts, the room, the least clearance."""

from __future__ import annotations

import numpy as np

from planform.airframe.stance import Standing
from planform.core.frames import floor2place
from planform.core.shape.prism import prism
from planform.design.kinds import ROLES
from planform.design.told import said
from planform.drawing.scene import Camera, Leader, Scene, Solid
from planform.fit.answer import FitAnswer
from planform.fit.room import Room, spot_point

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


def room_scene(answer: FitAnswer, room: Room, system: str) -> Scene | None:
    """The aircraft on its spot in the room, with a leader at the least clearance; one camera."""
    spot = spot_point(room.place, answer.spot) if answer.spot else None
    if spot is None:
        return None
    turn = floor2place(float(spot.heading))
    shift = np.array([float(spot.at[0]), float(spot.at[1]), 0.0])
    solids = [
        Solid(
            part.name,
            part.points @ turn.T + shift,
            part.faces,
            ROLES[part.role].colour,
            ROLES[part.role].opacity,
        )
        for part in answer.standing.parts
    ]
    for thing in room.fixed:
        points, faces = thing.mesh
        if thing.kind == "obstacle":
            under = points.copy()
            under[:, 2] = np.minimum(points[:, 2], room.ceiling_over(points))
            solids.append(Solid(thing.name, under, faces, "#b08d57"))
        elif room.place.ceiling is not None:
            low = room.ceiling_over(points)
            cut = points.copy()
            cut[:, 2] = np.minimum(points[:, 2], low)
            solids.append(Solid(thing.name, cut, faces, "#9aa5a8", 0.12))
        else:
            solids.append(Solid(thing.name, points, faces, "#9aa5a8", 0.12))
    floor_points, floor_faces = prism(room.floor, -0.05, 0.0)
    solids.append(Solid("floor", floor_points, floor_faces, "#cfc7b6", 0.25))
    leaders = []
    if answer.least is not None:
        least = answer.least
        leaders.append(
            Leader(
                least.at_part,
                least.at_thing,
                f"{said(least.gap, 'gap', system)} {least.part} / {least.thing}",
                "#b3361b",
            )
        )
    camera = _camera("room", (0.62, -1.0, 0.95), "in the room, over the front wall")
    return Scene(
        f"{answer.standing.title}, in {answer.place}",
        tuple(solids),
        tuple(leaders),
        (camera,),
    )
