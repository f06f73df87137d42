"""A quick proof that there is no way out: the highest point of a part is cut off by what hangs low.

Wherever the aircraft goes, the highest point of each part goes along a line of the plan. Where what
is lower than that point cuts the floor between its place and every way out, nothing leads out.
"""

from __future__ import annotations

import itertools

import numpy as np

from planform.airframe.outlines import Shape
from planform.airframe.part import Part
from planform.airframe.stance import Standing
from planform.core.halting import look
from planform.design.roof import RoofLine
from planform.fit.ground_plan import Keep
from planform.fit.moves import Pose
from planform.fit.room import Fixed, Room

BEYOND = 5.0
"""How far outside the walls a point counts as out [m]."""

TOUCH = 1e-6
"""Things are drawn out by this [m], so that two that touch leave no gap."""


def hangs(standing: Standing, room: Room) -> bool:
    """Whether anything overhead is lower than the aircraft, so that this is worth asking."""
    top = float(standing.all_points()[:, 2].max()) + standing.bulge
    lows = [f.low for f in room.solid if f.low > 0.0]
    lows += [height for line in room.roof for height in line.height]
    return any(low < top for low in lows)


def shut_in(standing: Standing, room: Room, pose: Pose, keep: Keep) -> Part | None:
    """The part whose highest point cannot get out from a pose; None where that proves nothing."""
    for part in standing.parts:
        look()
        if not reaches_out(standing, room, pose, keep, part):
            return part
    return None


def reaches_out(standing: Standing, room: Room, pose: Pose, keep: Keep, part: Part) -> bool:
    """Whether the highest point of a part has a line out, under and round what reaches it."""
    import shapely

    top = part.points[int(np.argmax(part.points[:, 2]))]
    height = float(top[2]) + part.bulge
    near = _within(room)
    blocked = [_drawn(f, keep) for f in near if _meets(f, height, keep)]
    for line in room.roof:
        blocked += _under(line, room, height + keep.upright.get("ceiling", 0.0))
    low, high = room.floor.min(axis=0) - BEYOND, room.floor.max(axis=0) + BEYOND
    free = shapely.box(*low, *high).difference(shapely.union_all(blocked))
    here = shapely.points(pose.place(top[None, :2])[0])
    for region in shapely.get_parts(free):
        if region.intersects(here):
            return bool(region.exterior.intersects(shapely.box(*low, *high).exterior))
    return True  # it touches something where it stands: for the parked check to say


def _within(room: Room) -> list[Fixed]:
    """The fixed things of the room and its walls: what stands outside does not count here.

    Outside the walls the aircraft is out, whatever stands farther off: to leave that out proves
    less, never more.
    """
    import shapely

    floor = shapely.polygons(room.floor).buffer(room.place.floor.thickness, join_style="mitre")
    return [f for f in room.solid if shapely.polygons(f.outline).intersects(floor)]


def _kind(thing: Fixed) -> str:
    return "wall with a door" if thing.beside else thing.kind


def _meets(thing: Fixed, height: float, keep: Keep) -> bool:
    rise = keep.upright.get(_kind(thing), 0.0)
    return thing.low - rise < height < thing.high + rise


def _drawn(thing: Fixed, keep: Keep) -> Shape:
    import shapely

    look()
    level = keep.level.get(_kind(thing), 0.0)
    return shapely.polygons(thing.outline).buffer(level + TOUCH, join_style="bevel")


def _under(line: RoofLine, room: Room, height: float) -> list[Shape]:
    """Strips of the floor over which a line of the ceiling is lower than a height."""
    import shapely

    axis, at, heights = line.axis, line.at, line.height
    low, high = room.floor.min(axis=0), room.floor.max(axis=0)
    lines = np.union1d(np.clip(at, low[axis], high[axis]), [low[axis], high[axis]])
    floor, out = shapely.polygons(room.floor), []
    for a, b in itertools.pairwise(lines):
        ha, hb = np.interp([a, b], at, heights)
        if min(ha, hb) >= height:
            continue
        cut = a + (b - a) * (height - ha) / (hb - ha) if max(ha, hb) > height else None
        ends = [a, b] if cut is None else ([a, cut] if ha < hb else [cut, b])
        box = [[ends[0], low[1 - axis]], [ends[1], high[1 - axis]]]
        corners = np.array(box) if axis == 0 else np.array(box)[:, ::-1]
        strip = shapely.box(*corners.min(axis=0), *corners.max(axis=0))
        out.append(strip.intersection(floor))
    return out
