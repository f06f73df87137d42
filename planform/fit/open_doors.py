"""What of a parked aircraft stands out of an open door, which then cannot be shut."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np

from planform.airframe.outlines import outline
from planform.airframe.stance import Standing
from planform.core.quantity import Metres
from planform.fit.moves import Pose
from planform.fit.room import Room, door_ends, doorway
from planform.fit.swept import at_pose

ROUNDING = 1e-6
"""What reaches no farther than this beyond the wall line [m] is rounding."""


@dataclass(frozen=True)
class StandsOut:
    """A part beyond a door's inner wall line, and how far at the most [m]."""

    door: str
    part: str
    by: Metres


def standing_out(standing: Standing, room: Room, pose: Pose) -> tuple[StandsOut, ...]:
    """The parts that stand out of a door, the farthest out first; true curves counted.

    What crosses a wall line beside the doors is in the wall, and not told here. What is wholly off
    the floor counts for the nearest door that something stands in.
    """
    import shapely

    floor = shapely.polygons(room.floor)
    placed = [pose.place(part.points[:, :2]) for part in standing.parts]
    round_it = shapely.box(*np.array([[*p.min(axis=0), *p.max(axis=0)] for p in placed]).T)
    whole = shapely.contains(floor, round_it)
    beyond = [
        (part, piece)
        for part in itertools.compress(standing.parts, ~whole)
        for piece in shapely.get_parts(at_pose(outline(part), pose).difference(floor))
        if not piece.is_empty
    ]
    lines = {}
    for door in room.place.doors:
        line = shapely.linestrings(door_ends(room.place, door))
        if any(shapely.distance(line, piece) < ROUNDING for _, piece in beyond):
            lines[door.name] = line, *doorway(room.place, door)
    found: dict[tuple[str, str], float] = {}
    for part, piece in beyond:
        off = {name: float(shapely.distance(one[0], piece)) for name, one in lines.items()}
        name = min(off, key=off.__getitem__, default=None)
        crosses = shapely.distance(floor, piece) < ROUNDING
        if name is None or (crosses and off[name] >= ROUNDING):
            continue
        _, middle, outward = lines[name]
        by = float(((shapely.get_coordinates(piece) - middle) @ outward).max())
        if by > ROUNDING:
            key = name, part.name
            found[key] = max(found.get(key, 0.0), by + part.bulge)
    return tuple(StandsOut(*key, by) for key, by in sorted(found.items(), key=lambda one: -one[1]))
