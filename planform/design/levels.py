"""The floor of a place that has levels and ramps: how high it is where, and over what.

Heights in a place file stay over the room's floor, which is its lowest; a door's are over the floor
that it opens on.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from planform.design.doors import Door
from planform.design.floor import RaisedFloor, Ramp
from planform.design.outline_checks import inside
from planform.design.place import Place
from planform.design.units import show

Array = NDArray[np.float64]

SAME = 1e-6
"""Two floors nearer than this in height are one [m]; rounding."""

WITHIN = 0.01
"""How far inside its wall a door is asked which level it opens on [m]; assumption."""

LOOKS = 9
"""Places along a door where that is asked."""


def outline_of(level: RaisedFloor) -> list[tuple[float, float]]:
    """The corners of a level [m]."""
    return [(float(x), float(y)) for x, y in level.outline]


def ramp_line(ramp: Ramp) -> tuple[Array, Array]:
    """The foot and the head of a ramp, each (2,) [m]."""
    return tuple(np.array([float(x), float(y)]) for x, y in (ramp.foot, ramp.head))  # type: ignore[return-value]


def ramp_top(place: Place, ramp: Ramp) -> float:
    """How high a ramp goes: the height of its level [m]; 0 where there is no such level."""
    return next((float(one.height) for one in place.floor.levels if one.name == ramp.level), 0.0)


def on_ramp(ramp: Ramp, x: float, y: float) -> bool:
    """Whether a point lies on a ramp."""
    foot, head = ramp_line(ramp)
    run = head - foot
    length = float(np.hypot(*run))
    to = np.array([x, y]) - foot
    along, aside = float(to @ run) / length, float(to[0] * run[1] - to[1] * run[0]) / length
    return 0.0 < along < length and abs(aside) < 0.5 * float(ramp.width)


def floor_height(place: Place, x: float, y: float) -> float:
    """How high the level under a point is over the room's floor, the highest counts [m].

    Ramps are left out.
    """
    found = [float(one.height) for one in place.floor.levels if inside(outline_of(one), x, y)]
    return max(found, default=0.0)


def heights_at(place: Place, door: Door) -> list[float]:
    """How high the floor is at places along a door's opening, just inside its wall [m]."""
    if not place.floor.levels:
        return [0.0]
    (x0, y0), (x1, y1) = place.floor.walls[door.wall]
    run = math.hypot(x1 - x0, y1 - y0)
    if not run > 0.0:
        return [0.0]  # a corner that stands twice, which is told of the outline
    way = (x1 - x0) / run, (y1 - y0) / run
    out = []
    for share in np.linspace(0.0, 1.0, LOOKS):
        clear = float(door.clear_width) - 2.0 * WITHIN
        s = float(door.from_corner) + WITHIN + float(share) * clear
        x, y = x0 + s * way[0] - WITHIN * way[1], y0 + s * way[1] + WITHIN * way[0]
        out.append(floor_height(place, x, y))
    return out


def door_floor(place: Place, door: Door) -> float:
    """How high the floor that a door opens on is over the room's floor [m]."""
    return max(heights_at(place, door))


def level_questions(place: Place) -> Iterator[str]:
    """Questions back about heights that may have been taken from a level."""
    for thing in place.obstacles:
        points = thing.outline or thing.line or (() if thing.centre is None else (thing.centre,))
        high = max((floor_height(place, float(x), float(y)) for x, y in points), default=0.0)
        if not high > 0.0 or thing.drop is not None:
            continue
        field = "top" if thing.kind == "standing" else "bottom"
        given = getattr(thing, field)
        if given is not None:
            over = show(float(given) - high, "length", place.units)
            yield (
                f"obstacle {thing.name!r} is on or over a level: is its {field} of {given.text} "
                f"over the room's floor, {over} over the level? All heights but a door's are."
            )
