"""Changes of what stands and hangs: moved, raised or taken away, as each thing may be."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from planform.design.naming import Path
from planform.design.place import Place
from planform.design.roof import height_at
from planform.design.things import Hoist, Obstacle
from planform.design.vary import shifted
from planform.fit.filled import Filled, hook_name, obstacle
from planform.study.change_cases import (
    FREES,
    WAYS,
    Asked,
    Case,
    Family,
    fine_step,
    on_plan,
    one_size,
    scan,
    with_changed,
)

if TYPE_CHECKING:
    from planform.airframe.outlines import Shape

CARRIES = "Ask first whether it carries the roof, a hoist or a line; the file does not say."

ALONG = {"along the width": 0, "along the depth": 1}
"""The axis of the only line that a thing may be moved along."""


def plan_shape(place: Place, thing: Obstacle) -> Shape:
    """The plan of a thing, of a row all of them."""
    return _shape(solid(place, thing))


def _shape(pieces: list[Filled]) -> Shape:
    import shapely

    return shapely.union_all([shapely.polygons(piece.outline) for piece in pieces])


def solid(place: Place, thing: Obstacle) -> list[Filled]:
    """What of a thing is in the way while something is moved: not the swing of its doors."""
    return [piece for piece in obstacle(place, thing) if piece.kind != "kept free"]


def obstacles(case: Case, asked: Asked) -> Iterator[Family]:
    """Each thing moved each way that it may be, where taking it away frees the aircraft at all."""
    for k, thing in enumerate(case.place.obstacles):
        if thing.movable == "no":
            continue
        rest = tuple(o for o in case.place.obstacles if o is not thing)
        away = _without(case, "obstacles", k)
        cautions = (CARRIES,) if thing.movable is None else ()
        gone = Family("obstacle", f"take the {thing.name} away", away, cautions=cautions)
        if asked(away(1.0), gone.what) != FREES:
            if thing.movable not in ALONG:
                yield gone
            continue
        yield from _moves(case, k, thing, rest, cautions)
        if thing.movable not in ALONG:
            yield gone
    yield from _cars(case)
    yield from _hooks(case)


def _without(case: Case, field: str, k: int) -> Callable[[float], Case]:
    """The case with one thing of a list taken away, at any size."""
    things = getattr(case.place, field)
    rest = (*things[:k], *things[k + 1 :])
    return one_size(case, place=case.place.model_copy(update={field: rest}))


def _moves(
    case: Case, k: int, thing: Obstacle, rest: tuple[Obstacle, ...], cautions: tuple[str, ...]
) -> Iterator[Family]:
    """A thing moved along the floor and raised, as far as it may be."""
    ways = [] if thing.movable == "away" else WAYS
    only = ALONG.get(thing.movable or "")
    for x, y in ways:
        if only is not None and (x, y)[only] == 0.0:
            continue
        most = _room_to_move(case.place, thing, rest, x, y, fine_step(case))
        if most > 0.0:
            yield Family(
                "obstacle",
                f"move the {thing.name} {on_plan(x, y)}",
                partial(_moved, case, k, x, y),
                scan(case, most),
                fine_step(case),
                unit="length",
                cautions=cautions,
            )
    if thing.kind == "hanging" and thing.movable in (None, "anywhere"):
        most = _room_above(case.place, thing)
        if scan(case, most):
            yield Family(
                "obstacle",
                f"raise the {thing.name}",
                partial(_raised, case, k),
                scan(case, most),
                fine_step(case),
                monotone=True,
                unit="length",
                cautions=cautions,
            )


def _room_to_move(
    place: Place, thing: Obstacle, rest: tuple[Obstacle, ...], x: float, y: float, fine: float
) -> float:
    """How far a thing can be moved one way within the floor and clear of the others [m]."""
    import shapely

    floor = shapely.polygons([start for start, _ in place.floor.walls.values()])
    others = [plan_shape(place, o) for o in rest if _share_heights(place, thing, o)]
    shape = plan_shape(place, thing)

    def can(size: float) -> bool:
        there = shapely.transform(shape, lambda points: points + size * np.array([x, y]))
        inside = floor.buffer(1e-6).covers(there)
        return inside and not any(shapely.area(there & o) > 1e-6 for o in others)

    most, every = 0.0, 2 * fine
    while can(most + every):
        most += every
    return most


def _share_heights(place: Place, a: Obstacle, b: Obstacle) -> bool:
    spans = []
    for thing in (a, b):
        pieces = solid(place, thing)
        tops = [math.inf if piece.high is None else piece.high for piece in pieces]
        spans.append((min(piece.low for piece in pieces), max(tops)))
    return spans[0][0] < spans[1][1] and spans[1][0] < spans[0][1]


def _room_above(place: Place, thing: Obstacle) -> float:
    if place.ceiling is None:
        return 0.0
    if thing.drop is not None:
        return float(thing.drop)
    corners = np.concatenate([piece.outline for piece in solid(place, thing)])
    return min(height_at(place, *p) for p in corners) - float(thing.bottom)


def points_of(thing: Obstacle) -> Iterator[Path]:
    """The paths of the plan points of a thing, of its plan and of its doors."""
    for name in ("outline", "line"):
        yield from ((name, k) for k in range(len(getattr(thing, name) or ())))
    if thing.centre is not None:
        yield ("centre",)
    for k in range(len(thing.swings)):
        yield from (("swings", k, end) for end in ("hinge", "shut"))


def _moved(case: Case, k: int, x: float, y: float, size: float) -> Case:
    place = case.place
    for path in points_of(place.obstacles[k]):
        for axis, run in enumerate((x, y)):
            if run:
                place = shifted(place, ("obstacles", k, *path, axis), run * size)
    return with_changed(case, place=place)


def _raised(case: Case, k: int, size: float) -> Case:
    thing = case.place.obstacles[k]
    if thing.drop is not None:
        left = max(1e-4, float(thing.drop) - size) - float(thing.drop)
        return with_changed(case, place=shifted(case.place, ("obstacles", k, "drop"), left))
    place = shifted(case.place, ("obstacles", k, "bottom"), size)
    thing = place.obstacles[k]
    if thing.top is not None and float(thing.top) <= float(thing.bottom):
        place = shifted(place, ("obstacles", k, "top"), size)
    return with_changed(case, place=place)


def _cars(case: Case) -> Iterator[Family]:
    """Each car driven away, where it may be."""
    for k, car in enumerate(case.place.cars):
        if car.movable != "no":
            away = _without(case, "cars", k)
            yield Family("obstacle", f"drive the {car.name} away", away)


def _hooks(case: Case) -> Iterator[Family]:
    """Each hook parked at either end of its rail."""
    for k, hoist in enumerate(case.place.hoists):
        if hoist.hook is None:
            continue
        half = 0.5 * float(hoist.hook.length)
        for which, at in (("first", half), ("second", math.dist(*hoist.line) - half)):
            if hoist.hook.at is not None and abs(at - hoist.hook.at) < fine_step(case):
                continue
            make = _hook_at(case, k, hoist, at)
            yield Family("obstacle", f"park the {hook_name(hoist)} at its rail's {which} end", make)


def _hook_at(case: Case, k: int, hoist: Hoist, at: float) -> Callable[[float], Case]:
    """The case with a hook at a place of its rail, at any size."""
    assert hoist.hook is not None
    hook = hoist.hook.model_copy(update={"at": hoist.hook.length.with_value(at)})
    hoists = list(case.place.hoists)
    hoists[k] = hoist.model_copy(update={"hook": hook})
    return one_size(case, place=case.place.model_copy(update={"hoists": tuple(hoists)}))
