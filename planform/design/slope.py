"""A floor that falls evenly to one side or to two, and what that does to the room over it.

The aircraft stands on the floor as on a level one; seen from the floor, what is plumb leans uphill
and what is level slopes. Heights in a place file are over the floor right under what they are of.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from planform.design.doors import Door
from planform.design.levels import door_floor
from planform.design.place import Place

TOWARD = {"left": (0, -1.0), "right": (0, 1.0), "front": (1, -1.0), "back": (1, 1.0)}
"""Axis (0 X, 1 Y) and sense of the way down."""

STEEPEST = 0.025
"""A floor falls by at most this share of its run; steeper is a ramp. Assumption: up to here what is
plumb and what is square to the floor are as long as each other within 1 mm in 3 m."""


def extent(place: Place, axis: int) -> tuple[float, float]:
    """Least and greatest distance of the floor along an axis [m]."""
    floor = place.floor
    if floor.outline is not None:
        along = [float(corner[axis]) for corner in floor.outline]
        return min(along), max(along)
    size = (floor.width, floor.depth)[axis]
    assert size is not None
    return 0.0, float(size)


def gradients(place: Place) -> tuple[float, float]:
    """The rise of the floor per metre along X and along Y; below zero where it falls that way."""
    out = [0.0, 0.0]
    for fall in place.floor.falls:
        axis, sense = TOWARD[fall.toward]
        low, high = extent(place, axis)
        out[axis] = -sense * float(fall.drop) / (high - low)
    return out[0], out[1]


def uphill(place: Place) -> tuple[float, float]:
    """How far what is plumb leans along X and Y for each metre of height over the floor."""
    return gradients(place)


def falling(place: Place) -> str:
    """How the floor falls, such as '2 in toward the front and 1 in toward the left'."""
    return " and ".join(f"{one.drop.text} toward the {one.toward}" for one in place.floor.falls)


def level_ceiling(place: Place) -> tuple[int, tuple[float, ...], tuple[float, ...]] | None:
    """Axis, ends and heights over the floor [m] of a level ceiling over a floor that falls.

    Its height is that over the floor's high side, where it is least; None where nothing slopes or
    the ceiling has a profile of its own, whose heights are over the floor right under them. Of two
    falls the one that drops less is left out, from the safe side.
    """
    rises = gradients(place)
    ends = extent(place, 0), extent(place, 1)
    drops = [abs(rise) * (high - low) for rise, (low, high) in zip(rises, ends, strict=True)]
    axis = 0 if drops[0] > drops[1] else 1
    rise, ceiling = rises[axis], place.ceiling
    if rise == 0.0 or ceiling is None or ceiling.height is None:
        return None
    low, high = extent(place, axis)
    least, drop = float(ceiling.height), drops[axis]
    return axis, (low, high), (least + drop, least) if rise > 0.0 else (least, least + drop)


def least_clear_height(place: Place, door: Door) -> float:
    """The least height of a level door head over the floor that falls along its sill [m].

    The clear height is that over the floor at the door's middle; on a level, that is added.
    """
    rise_x, rise_y = gradients(place)
    (x0, y0), (x1, y1) = place.floor.walls[door.wall]
    run = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    rise = abs(rise_x * (x1 - x0) + rise_y * (y1 - y0)) / run
    lower: float = 0.5 * rise * float(door.clear_width)
    return float(float(door.clear_height) + door_floor(place, door) - lower)


def told(place: Place, length: Callable[[float], str]) -> str:
    """What a fall of the floor means here, in one sentence; '' where it is level.

    length : says a length [m] in the reader's units
    """
    falls = place.floor.falls
    if not falls:
        return ""
    lean = math.hypot(*gradients(place))
    drop = sum(float(fall.drop) for fall in falls)
    lesser = " of the fall that drops more" if len(falls) > 1 else ""
    return (
        f"the floor falls {falling(place)}: heights are over the floor "
        f"right under what they are of, a level ceiling's over the floor's high side{lesser}; what "
        f"is plumb counts as leaning in by up to {length(lean)} for each {length(1.0)} of height, "
        "and the ground outside as going on in the floor's plane. What is level is taken as low as "
        f"it is anywhere: a lack of under {length(0.5 * drop)} may still pass on the low "
        "side. A way out is moved on that plane: hold the aircraft against the slope"
    )
