"""The room of a look: its floor, its things as meshes in place axes, its doors."""

from __future__ import annotations

from collections.abc import Collection

import numpy as np

from planform.design.told import said
from planform.drawing.scenes import thing_solid
from planform.fit.question import door_ways
from planform.fit.room import Fixed, Room
from planform.report.record import Record
from planform.report.seen.meshes import Meshes


def room_look(room: Room, meshes: Meshes, system: str, movable: Collection[str] = ()) -> Record:
    """The room as a page takes it; lengths in place axes [m].

    movable : the things that can be moved by hand, by name
    """
    place = room.place
    return {
        "floor": room.floor.tolist(),
        "ceiling": _ceiling(room, system),
        "top": float(room.top),
        "things": [
            {**_thing(thing, room, meshes, system), "movable": thing.name in movable}
            for thing in room.fixed
        ],
        "doors": [
            {
                "name": door.name,
                "at": [float(middle[0]), float(middle[1]), 0.0],
                "out": [float(out[0]), float(out[1])],
                "width": float(door.clear_width),
                "height": float(door.clear_height),
                "told": f"{door.name}: {door.clear_width.text} wide, {door.clear_height.text} high",
            }
            for door, (middle, out) in zip(place.doors, door_ways(place), strict=True)
        ],
    }


def _ceiling(room: Room, system: str) -> str:
    """How high the ceiling is over the middle of the floor and where it is lowest."""
    if not room.roof:
        return "no ceiling is given"
    heights = room.ceiling_over(room.floor)
    ends = (
        said(float(heights.min()), "length", system),
        said(float(heights.max()), "length", system),
    )
    return f"ceiling {ends[0]}" if ends[0] == ends[1] else f"ceiling {ends[0]} to {ends[1]}"


def _thing(thing: Fixed, room: Room, meshes: Meshes, system: str) -> Record:
    solid = thing_solid(thing, room)
    low, high = thing.as_given
    ends = (
        said(float(end), "length", system) for end in (low, min(high, solid.points[:, 2].max()))
    )
    long, wide = (said(float(x), "length", system) for x in np.ptp(thing.outline, axis=0))
    return {
        "name": thing.name,
        "kind": thing.kind,
        "mesh": meshes.put(solid.points, solid.faces),
        "colour": solid.colour,
        "opacity": solid.opacity,
        "told": f"{thing.kind}, {long} by {wide}, from {' to '.join(ends)} over the floor",
    }
