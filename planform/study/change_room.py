"""Changes of the room: doors wider or taller. What stands and hangs: `change_things`."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from planform.design.doors import Door
from planform.design.place import Place
from planform.design.roof import height_at
from planform.design.vary import shifted
from planform.fit.room import door_ends
from planform.study.change_cases import (
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
