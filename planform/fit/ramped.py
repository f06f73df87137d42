"""The ground of a straight push through a door of a room with levels and ramps."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planform.core.motion.uneven_ground import Top, Tops
from planform.design.doors import Door
from planform.design.levels import SAME, door_floor, outline_of, ramp_line, ramp_top
from planform.fit.ground import FAR, Ground, Strip, ground_of, tops
from planform.fit.levels import ramp_ring
from planform.fit.room import Room, doorway

Array = NDArray[np.float64]

SQUARE = 1e-6
"""What is out of square with the way by no more than this [m] is square to it; rounding."""

ASKEW = "which is not square to the way"


def ground_in(room: Room, door: Door) -> Ground:
    """The ground of a push through a door, from the floor that the room is seen from.

    Where the door opens on that floor, all of it is as high; else what lies inside the door too is
    as it is: levels, and ramps between them.
    """
    thick, sill = room.place.floor.thickness, door_floor(room.place, door)
    own = ground_of(door, thick, sill)
    if abs(sill - room.height) <= SAME:
        return own
    strips = [*own.strips]
    line = own.line
    if sill > 0.0:  # such a door has no ground of its own
        line = ((-FAR, 0.0), (0.0, 0.0), (0.0, sill), (FAR, sill))
        strips[0] = Strip("the ground", tops(line))
    strips += [*_levels(room, door), *_ramps(room, door)]
    return Ground(line, tuple(strips), room.height, ramped=True)


def _seen(room: Room, door: Door, points: Array) -> Array:
    """Plan points (n, 2) along the way out of a door and across it, to the right looking out."""
    middle, out = doorway(room.place, door)
    off = np.asarray(points) - middle
    return np.column_stack([off @ out, off @ np.array([out[1], -out[0]])])


def _levels(room: Room, door: Door) -> Iterator[Strip]:
    """Each level as strips along the way; one with an edge askew as its box, for no wheel."""
    for level in room.place.floor.levels:
        ring, height = _seen(room, door, np.array(outline_of(level))), float(level.height)
        runs = np.abs(np.roll(ring, -1, axis=0) - ring)
        if (runs.min(axis=1) > SQUARE).any():
            yield _box(level.name, ring, height)
            continue
        sides = np.unique(np.round(ring[:, 1], 9))
        for left, right in pairwise(sides.tolist()):
            for start, end in _inside(ring, 0.5 * (left + right)):
                yield Strip(level.name, (Top(start, end, height, height),), left, right)


def _inside(ring: Array, across: float) -> Iterator[tuple[float, float]]:
    """From where to where a line along the way is inside a ring of square edges."""
    ends = [
        float(a[0])
        for a, b in zip(ring, np.roll(ring, -1, axis=0), strict=True)
        if (a[1] > across) != (b[1] > across)
    ]
    ends.sort()
    yield from zip(ends[::2], ends[1::2], strict=True)


def _box(name: str, ring: Array, height: float) -> Strip:
    (start, left), (end, right) = ring.min(axis=0).tolist(), ring.max(axis=0).tolist()
    return Strip(name, (Top(start, end, height, height),), left, right, rough=ASKEW)


def _ramps(room: Room, door: Door) -> Iterator[Strip]:
    for ramp in room.place.floor.ramps:
        ring, height = _seen(room, door, ramp_ring(ramp)), ramp_top(room.place, ramp)
        foot, head = _seen(room, door, np.array(ramp_line(ramp)))
        if abs(head[1] - foot[1]) > SQUARE:
            yield _box(ramp.name, ring, height)
            continue
        left, right = float(ring[:, 1].min()), float(ring[:, 1].max())
        if foot[0] < head[0]:
            top = Top(float(foot[0]), float(head[0]), 0.0, height)
        else:
            top = Top(float(head[0]), float(foot[0]), height, 0.0)
        yield Strip(ramp.name, (top,), left, right, ramp=True)


def ahead_of(ground: Tops, along: float) -> Tops:
    """What of the ground a wheel rolls over from a place on; what it stands on there goes on back.

    So steps behind the place stop no wheel.
    """
    kept = (top for top in ground if top.end > along)
    return tuple(
        Top(-FAR, top.end, top.start_height, top.end_height)
        if top.start < along and top.start_height == top.end_height
        else top
        for top in kept
    )
