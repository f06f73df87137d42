"""Changes of a door's leaf: opened farther than it stands, where it is only partly open."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from planform.design.doors import Door
from planform.design.place import Place
from planform.design.units import DEGREE
from planform.design.vary import shifted
from planform.fit.leaves import DoorAxes, leaf_names, opening, swings_of
from planform.fit.room import Fixed, Room
from planform.study.change_cases import Case, Family, fine_step, scan, with_changed
from planform.study.change_room import above_door

if TYPE_CHECKING:
    from planform.airframe.outlines import Shape

FLAT = math.pi
"""A hinged leaf swings until it lies against its wall [rad]."""

LOOKED = 15
"""A leaf is looked at every so many degrees, and closed in on to one."""

OVERLAP = 1e-4
"""Plan area under which two things only touch [m2]; assumption."""

ASK = (
    "Whether leaf, stops and springs let it go so far is not in the file: try it, hold it there, "
    "and measure what is then clear."
)


def opened(case: Case) -> Iterator[Family]:
    """Each leaf that is only partly open: lifted, or swung, farther."""
    for k, door in enumerate(case.place.doors):
        most = _more_height(case.place, door)
        if most is not None and scan(case, most):
            yield Family(
                "opened",
                f"open the {door.name} farther",
                partial(_lifted, case, k),
                scan(case, most),
                fine_step(case),
                unit="length",
                start=float(door.clear_height),
                limit="where its leaf or the opening ends",
                cautions=(ASK,),
            )
        for n, (name, leaf) in enumerate(zip(leaf_names(door), door.hinged, strict=False)):
            free = _free_swing(case, k, n)
            sizes = [*range(LOOKED, free, LOOKED), free]
            if free > 0:
                yield Family(
                    "opened",
                    f"swing the {name} farther open",
                    partial(_swung, case, k, n),
                    tuple(size * DEGREE for size in sizes),
                    DEGREE,
                    unit="angle",
                    start=float(leaf.open),
                    limit="the wall, or what stands in its swing",
                    cautions=(ASK,),
                )


def _more_height(place: Place, door: Door) -> float | None:
    """How much higher the lower edge of a leaf that is lifted can go [m]; None for other leaves.

    No higher than its own length, rails or drum, the nominal opening and the ceiling let it.
    """
    if door.sectional is not None:
        ends = [float(door.sectional.leaf_height), float(door.sectional.track_height)]
    elif door.bifold is not None:
        ends = [float(door.bifold.leaf_height) - 2.0 * float(door.bifold.thickness)]
    elif door.roller is not None and door.roller.underside is not None:
        ends = [float(door.roller.underside)]
    else:
        return None
    if door.nominal_height is not None:
        ends.append(float(door.nominal_height))
    return min(min(ends) - float(door.clear_height), above_door(place, door))


def _free_swing(case: Case, k: int, n: int) -> int:
    """By how many whole degrees more a hinged leaf swings free of walls and things."""
    door = case.place.doors[k]
    given = float(door.hinged[n].open)
    within = _beside(case.room, door)
    in_the_way = list(_in_the_way(case.room, door, n))
    most = 0
    for more in range(1, int((FLAT - given) / DEGREE + 1e-9) + 1):
        there = shifted(case.place, ("doors", k, "hinged", n, "open"), more * DEGREE)
        if not _swings_free(there, k, n, within, in_the_way):
            break
        most = more
    return most


def _beside(room: Room, door: Door) -> Shape | None:
    """The floor with all of the door's wall, beyond which no leaf inside swings; by its axes."""
    import shapely

    axes: DoorAxes = opening(room.place, door)
    far = float(np.ptp(room.floor, axis=0).max())
    wall = shapely.polygons(axes.box((-far, far), (-axes.wall, 0.0)))
    return shapely.union_all([shapely.polygons(room.floor), wall]).buffer(1e-6)


def _in_the_way(room: Room, door: Door, n: int) -> Iterator[tuple[Fixed, Shape]]:
    import shapely

    mine = leaf_names(door)[n]
    for thing in room.fixed:
        if thing.kind in ("obstacle", "aircraft") and thing.name != mine:
            yield thing, shapely.polygons(thing.outline)


def _swings_free(
    place: Place, k: int, n: int, within: Shape | None, things: list[tuple[Fixed, Shape]]
) -> bool:
    import shapely

    door = place.doors[k]
    swing = list(swings_of(place, door))[n]
    ring = shapely.polygons(swing.outline)
    if door.hinged[n].swings == "inside" and not shapely.covers(within, ring):
        return False
    return not any(
        thing.low < swing.high
        and swing.low < thing.high
        and shapely.area(shapely.intersection(ring, shape)) > OVERLAP
        for thing, shape in things
    )


def _lifted(case: Case, k: int, size: float) -> Case:
    return with_changed(case, place=shifted(case.place, ("doors", k, "clear_height"), size))


def _swung(case: Case, k: int, n: int, size: float) -> Case:
    path = "doors", k, "hinged", n, "open"
    return with_changed(case, place=shifted(case.place, path, size))
