"""What a straight push through a door meets besides it: open leaves, what is outside, edges."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from planform.design.doors import Door
from planform.fit.ground import Ground
from planform.fit.outside import edge_name
from planform.fit.room import Fixed, Room

Array = NDArray[np.float64]

LOOK = 3.0
"""Things farther than this from all of the way are not told [m]; assumption."""

LEAF, OUTSIDE, WHEELS = "leaf", "outside", "wheels"

WORDS = {
    LEAF: "past the leaf of the open door",
    OUTSIDE: "to what is outside, on the way",
    WHEELS: "wheels clear of pits and edges, on the way",
}
"""Kinds of things that a push meets besides the door, and the words of their checks."""

OVER_GROUND = {
    f"{LEAF} over": "past the leaf that hangs, on the way",
    f"{LEAF} beside": "past the leaf that stands, on the way",
    f"{OUTSIDE} over": "to what hangs outside, on the way",
    f"{OUTSIDE} beside": "to what stands outside, on the way",
    WHEELS: WORDS[WHEELS],
}
"""The same over uneven ground, where what hangs is nearer to an aircraft that is raised."""

SAME = 1e-6
"""Two widths nearer than this are the same [m]; rounding."""


def met_by_pushes(room: Room, door: Door) -> dict[str, tuple[Fixed, ...]]:
    """The things that a push through a door may meet besides it, by kind; only kinds there are.

    Leaves: its own, those of other doors in its wall, and those that stand outside. Wheels keep
    off pits and the edges of aprons.
    """
    import shapely

    place = room.place
    edges = {edge_name(apron.door) for apron in place.outside.aprons} if place.outside else set()
    walls = {one.name: one.wall for one in place.doors}
    floor = shapely.polygons(room.floor)
    out: dict[str, list[Fixed]] = {}
    for thing in room.fixed:
        if thing.kind == "pit" or (thing.outside and thing.name in edges):
            out.setdefault(WHEELS, []).append(thing)
        elif thing.outside:
            out.setdefault(OUTSIDE, []).append(thing)
        elif thing.leaf_of:
            here = walls[thing.leaf_of] == door.wall
            if here or shapely.intersection(floor, shapely.polygons(thing.outline)).area < SAME:
                out.setdefault(LEAF, []).append(thing)
    return {kind: tuple(things) for kind, things in out.items()}


def met_over_ground(room: Room, door: Door, ground: Ground) -> dict[str, tuple[Fixed, ...]]:
    """The same over uneven ground, what hangs and what stands apart; edges as high as the ground.

    Of edges, only the wheels are to be looked at.
    """
    met = met_by_pushes(room, door)
    out = {}
    for kind in (LEAF, OUTSIDE):
        things = met.get(kind, ())
        out[f"{kind} over"] = tuple(thing for thing in things if thing.low > 0.0)
        out[f"{kind} beside"] = tuple(thing for thing in things if thing.low <= 0.0)
    heights = [height for _, height in ground.line]
    heights += [h for s in ground.strips for t in s.tops for h in (t.start_height, t.end_height)]
    low, high = min(heights) - ground.floor, max(heights) - ground.floor
    edges = met.get(WHEELS, ())
    if ground.ramped:  # it leaves its floor: the edges of that do not count, holes do
        holes = {pit.name for pit in room.place.floor.pits}
        edges = tuple(replace(e, low=0.0, high=e.high) for e in edges if e.name in holes)
        low, high = 0.0, max(heights)
    out[WHEELS] = tuple(replace(e, low=e.low + low, high=e.high + high) for e in edges)
    return {kind: things for kind, things in out.items() if things}


def drawn_back(ring: Array, run: Array) -> Array:
    """What a plan outline (n, 2) sweeps as it is moved by less and less of `run` (2,) against it.

    Where it encloses a space, that counts as swept.
    """
    import shapely

    back = ring - run
    ends = zip(ring, np.roll(ring, -1, axis=0), back, np.roll(back, -1, axis=0), strict=True)
    sides = [shapely.convex_hull(shapely.multipoints(np.array(side))) for side in ends]
    whole = shapely.union_all([shapely.polygons(ring), shapely.polygons(back), *sides])
    whole = shapely.orient_polygons(shapely.simplify(whole, 1e-9))
    return np.asarray(whole.exterior.coords)[:-1]
