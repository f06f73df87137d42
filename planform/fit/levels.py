"""The levels and ramps of a room as they are met from one of its floors.

What is higher than that floor stands in the way as a thing does; where it is lower no wheel may
stand or roll; all else may reach over an edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planform.airframe.outlines import Shape
from planform.core.shape.convex import counter_clockwise
from planform.design.floor import Ramp
from planform.design.levels import SAME, door_floor, outline_of, ramp_line, ramp_top
from planform.design.place import Place

Array = NDArray[np.float64]

STEP = 0.02
"""A ramp stands in the way as steps of at most this [m], or `MOST_STEPS`; assumption."""

MOST_STEPS = 24

EDGE = 0.02
"""A wheel is over an edge with all of it that is lower over its floor than this [m], as of pits.
What stands on blocks or cradles, with all that is lower than this over the highest of these."""

ROUNDING = 1e-6
"""Corners of what is lower that are nearer to each other than this [m] are one."""

Block = tuple[str, str, Array, float, float]
"""Name, kind, plan outline (n, 2), underside and top [m]."""


def blocks(place: Place, height: float, edge: float) -> Iterator[Block]:
    """What the levels and ramps of a place are in the way of, from its floor of a height [m].

    edge : how high over that floor its edges count [m]
    """
    if not place.floor.levels:
        return
    yield from _higher(place, height)
    for door in place.doors:
        sill = door_floor(place, door)
        strip = _strip(place, door.wall, float(door.from_corner), float(door.clear_width))
        if sill > height + SAME:
            yield f"floor of {door.name}", "obstacle", strip, 0.0, sill
        elif sill < height - SAME:
            yield f"floor of {door.name}", "pit", strip, height, height + edge
    if height > SAME:
        for ring in _convex(_lower(place, height)):
            yield edge_name(place, height), "pit", ring, height, height + edge


def _higher(place: Place, height: float) -> Iterator[Block]:
    """The levels and the ramps higher than a height."""
    for level in place.floor.levels:
        if float(level.height) > height + SAME:
            ring = counter_clockwise(np.array(outline_of(level)))
            yield level.name, "obstacle", ring, 0.0, float(level.height)
    for ramp in place.floor.ramps:
        for ring, high in ramp_steps(place, ramp):
            if high > height + SAME:
                yield ramp.name, "obstacle", ring, 0.0, high


def edge_name(place: Place, height: float) -> str:
    """What the edge of the level at a height is called."""
    names = [one.name for one in place.floor.levels if abs(float(one.height) - height) <= SAME]
    return f"edge of {' and '.join(names)}"


def ramp_ring(ramp: Ramp, first: float = 0.0, last: float = 1.0) -> Array:
    """The plan of a ramp between two shares of its way from foot to head, shape (4, 2) [m]."""
    foot, head = ramp_line(ramp)
    run = head - foot
    aside = 0.5 * float(ramp.width) * np.array([run[1], -run[0]]) / float(np.hypot(*run))
    a, b = foot + first * run, foot + last * run
    return np.array([a + aside, b + aside, b - aside, a - aside])


def ramp_steps(place: Place, ramp: Ramp) -> Iterator[tuple[Array, float]]:
    """Steps that hold a ramp: their plans and tops [m]."""
    top = ramp_top(place, ramp)
    count = min(MOST_STEPS, max(1, math.ceil(top / STEP)))
    for k in range(count):
        yield ramp_ring(ramp, k / count, (k + 1) / count), top * (k + 1) / count


def _polygon(corners: object) -> Shape:
    import shapely

    return shapely.polygons(np.asarray(corners, dtype=float))


def _lower(place: Place, height: float) -> Shape:
    """The floor, and the ramps, lower than a height."""
    import shapely

    levels = place.floor.levels
    own = [_polygon(outline_of(one)) for one in levels if float(one.height) >= height - SAME]
    whole = _polygon([start for start, _ in place.floor.walls.values()])
    return shapely.difference(whole, shapely.union_all(own))


def _convex(region: Shape) -> list[Array]:
    """A region, which may have holes, cut away from the front wall at each of its corners.

    The pieces are convex, and those of its mirror image are their mirror images.
    """
    import shapely

    points = shapely.get_coordinates(region)
    if not len(points):
        return []
    (_, front), (_, back) = points.min(axis=0), points.max(axis=0)
    out: list[Array] = []
    for left, right in pairwise(np.unique(points[:, 0]).tolist()):
        if right - left < ROUNDING:
            continue
        band = shapely.box(left, front - 1.0, right, back + 1.0)
        for part in shapely.get_parts(shapely.intersection(region, band)):
            if part.geom_type != "Polygon":
                continue
            ring = np.asarray(part.exterior.coords)[:-1]
            ring = ring[np.linalg.norm(ring - np.roll(ring, 1, axis=0), axis=1) > ROUNDING]
            if len(ring) >= 3 and part.area > ROUNDING:
                out.append(counter_clockwise(ring))
    return out


def _strip(place: Place, wall: str, start: float, width: float) -> Array:
    """The floor of a door inside the thickness of its wall, shape (4, 2)."""
    (x0, y0), (x1, y1) = place.floor.walls[wall]
    corner, run = np.array([x0, y0]), np.array([x1 - x0, y1 - y0])
    way = run / float(np.hypot(*run))
    out = place.floor.thickness * np.array([way[1], -way[0]])
    a, b = corner + start * way, corner + (start + width) * way
    return np.array([a + out, b + out, b, a])
