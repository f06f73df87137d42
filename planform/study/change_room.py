"""Changes of the room: things moved, raised or taken away, doors wider or taller."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from planform.design.doors import Door
from planform.design.place import Place
from planform.design.roof import height_at
from planform.design.things import Obstacle
from planform.design.vary import shifted
from planform.fit.room import door_ends
from planform.study.change_cases import (
    FREES,
    WAYS,
    Asked,
    Case,
    Family,
    fine_step,
    on_plan,
    scan,
    with_changed,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]


BUILDING = "Building work: local code, and whoever answers for the structure, come first."

CARRIES = "Ask first whether it carries the roof, a hoist or a line; the file does not say."


def obstacles(case: Case, asked: Asked) -> Iterator[Family]:
    """Each thing moved each way, where taking it away frees the aircraft at all."""
    for k, thing in enumerate(case.place.obstacles):
        rest = tuple(o for o in case.place.obstacles if o is not thing)
        without = case.place.model_copy(update={"obstacles": rest})
        cautions = (CARRIES,)

        def away(_: float, place: Place = without) -> Case:
            return with_changed(case, place=place)

        gone = Family("obstacle", f"take the {thing.name} away", away, cautions=cautions)
        if asked(away(1.0), gone.what) != FREES:
            yield gone
            continue
        for x, y in WAYS:
            most = _room_to_move(case.place, thing, rest, x, y, fine_step(case))
            if most > 0.0:
                yield Family(
                    "obstacle",
                    f"move the {thing.name} {on_plan(x, y)}",
                    partial(_obstacle_moved, case, k, x, y),
                    scan(case, most),
                    fine_step(case),
                    unit="length",
                    cautions=cautions,
                )
        if thing.kind == "hanging":
            most = _room_above(case.place, thing)
            if scan(case, most):
                yield Family(
                    "obstacle",
                    f"raise the {thing.name}",
                    partial(_obstacle_raised, case, k),
                    scan(case, most),
                    fine_step(case),
                    monotone=True,
                    unit="length",
                    cautions=cautions,
                )
        yield gone


def plan_of(thing: Obstacle) -> Array:
    """A thing's corners in plan, shape (n, 2) [m]."""
    return np.array([[float(x), float(y)] for x, y in thing.outline])


def _room_to_move(
    place: Place, thing: Obstacle, rest: tuple[Obstacle, ...], x: float, y: float, fine: float
) -> float:
    """How far a thing can be moved one way within the floor and clear of the others [m]."""
    import shapely

    floor = shapely.polygons([start for start, _ in place.floor.walls.values()])
    others = [shapely.polygons(plan_of(o)) for o in rest if _share_heights(thing, o)]

    def can(size: float) -> bool:
        there = shapely.polygons(plan_of(thing) + size * np.array([x, y]))
        inside = floor.buffer(1e-6).covers(there)
        return inside and not any(shapely.area(there & o) > 1e-6 for o in others)

    most, every = 0.0, 8 * fine
    while can(most + every):
        most += every
    return most


def _share_heights(a: Obstacle, b: Obstacle) -> bool:
    top_a, top_b = (math.inf if o.top is None else float(o.top) for o in (a, b))
    return float(a.bottom) < top_b and float(b.bottom) < top_a


def _room_above(place: Place, thing: Obstacle) -> float:
    if place.ceiling is None:
        return 0.0
    return min(height_at(place, *p) for p in plan_of(thing)) - float(thing.bottom)


def _obstacle_moved(case: Case, k: int, x: float, y: float, size: float) -> Case:
    place = case.place
    for corner in range(len(place.obstacles[k].outline)):
        for axis, run in enumerate((x, y)):
            if run:
                place = shifted(place, ("obstacles", k, "outline", corner, axis), run * size)
    return with_changed(case, place=place)


def _obstacle_raised(case: Case, k: int, size: float) -> Case:
    place = shifted(case.place, ("obstacles", k, "bottom"), size)
    thing = place.obstacles[k]
    if thing.top is not None and float(thing.top) <= float(thing.bottom):
        place = shifted(place, ("obstacles", k, "top"), size)
    return with_changed(case, place=place)


def doors(case: Case) -> Iterator[Family]:
    """Each door wider, to either end of its wall or to both, and taller."""
    for k, door in enumerate(case.place.doors):
        before, beyond = beside_door(case.place, door)
        to_first, to_last = door_sides(case.place, door)
        ways = (
            (to_first, before, 1.0),
            (to_last, beyond, 0.0),
            ("on both sides, all in all", 2.0 * min(before, beyond), 0.5),
        )
        for words, most, share in ways:
            if scan(case, most):
                yield Family(
                    "wider",
                    f"make the {door.name} wider {words}",
                    partial(_wider, case, k, share),
                    scan(case, most),
                    fine_step(case),
                    monotone=True,
                    unit="length",
                    start=float(door.clear_width),
                    limit="the end of the wall or the next door",
                    cautions=(BUILDING,),
                )
        above = above_door(case.place, door)
        if scan(case, above):
            yield Family(
                "taller",
                f"make the {door.name} taller",
                partial(_taller, case, k),
                scan(case, above),
                fine_step(case),
                monotone=True,
                unit="length",
                start=float(door.clear_height),
                limit="the ceiling at that wall",
                cautions=(BUILDING,),
            )


def door_sides(place: Place, door: Door) -> tuple[str, str]:
    """The ways along its wall: toward the wall's first corner, and on; in words of the plan."""
    start, end = (np.array(p) for p in place.floor.walls[door.wall])
    x, y = (float(v) for v in end - start)
    return on_plan(-x, -y), on_plan(x, y)


def beside_door(place: Place, door: Door) -> tuple[float, float]:
    """Wall left beside a door to its ends or the next door: toward its first corner, and on [m]."""
    start, end = (np.array(p) for p in place.floor.walls[door.wall])
    first = float(door.from_corner)
    last = first + float(door.clear_width)
    others = [
        (float(d.from_corner), float(d.from_corner) + float(d.clear_width))
        for d in place.doors
        if d.wall == door.wall and d is not door
    ]
    low = max([0.0, *(b for _, b in others if b <= first + 1e-9)])
    length = float(np.linalg.norm(end - start))
    high = min([length, *(a for a, _ in others if a >= last - 1e-9)])
    return first - low, high - last


def _wider(case: Case, k: int, share: float, size: float) -> Case:
    place = shifted(case.place, ("doors", k, "clear_width"), size)
    if share:
        place = shifted(place, ("doors", k, "from_corner"), -share * size)
    return with_changed(case, place=place)


def _taller(case: Case, k: int, size: float) -> Case:
    return with_changed(case, place=shifted(case.place, ("doors", k, "clear_height"), size))


def above_door(place: Place, door: Door) -> float:
    """How much taller a door can be under the ceiling at its wall [m]; 1 m where none is given."""
    if place.ceiling is None:
        return 1.0
    over = min(height_at(place, *end) for end in door_ends(place, door))
    return over - float(door.clear_height)
