"""Checks of the levels of a floor and of the ramps between them."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from planform.design.levels import (
    SAME,
    floor_height,
    heights_at,
    on_ramp,
    outline_of,
    ramp_line,
    ramp_top,
)
from planform.design.outline_checks import NEAR, check_outline, inside
from planform.design.place import Place
from planform.design.problems import Problem, unknown
from planform.design.roof import height_at
from planform.design.units import like

STEEPEST = 0.5
"""A ramp rises by at most this share of its level run; assumption: what is steeper is a step."""

PLAN = ("floor.outline", "floor.width", "floor.depth")

AT_EDGE = 0.05
"""The head of a ramp is within this of its level's edge [m]; assumption."""


def check_levels(place: Place) -> Iterator[Problem]:
    """Problems of the levels and ramps of a place; `place` may lack what could not be read."""
    floor = place.floor
    if floor is None or not (floor.levels or floor.ramps):
        return
    yield from _check_names(place)
    for k, level in enumerate(floor.levels):
        path = f"floor.levels[{k + 1}]"
        yield from check_outline(f"{path}.outline", list(level.outline))
        if place.ceiling is not None:
            least = min(height_at(place, x, y) for x, y in outline_of(level))
            if not level.height < least:
                allowed = f"allowed: under the ceiling, {like(least, level.height.text)} there"
                yield Problem(f"{path}.height", repr(level.height.text), allowed, ("ceiling",))
    ramps = list(_check_ramps(place))
    yield from ramps
    yield from _check_doors(place)
    yield from _check_things(place)
    if not ramps:
        yield from _check_spots(place)


def _check_names(place: Place) -> Iterator[Problem]:
    seen: set[str] = set()
    for what in ("levels", "ramps", "pits"):
        for k, one in enumerate(getattr(place.floor, what)):
            if one.name in seen:
                allowed = "allowed: names of their own for levels, ramps and pits"
                yield Problem(f"floor.{what}[{k + 1}].name", repr(one.name), allowed)
            seen.add(one.name)


def _check_spots(place: Place) -> Iterator[Problem]:
    """Spots on a ramp."""
    for k, spot in enumerate(place.spots or ()):
        at = float(spot.at[0]), float(spot.at[1])
        under = [
            ramp.name
            for ramp in place.floor.ramps
            if on_ramp(ramp, *at) and floor_height(place, *at) < ramp_top(place, ramp)
        ]
        if under:
            given = f"{spot.at[0].text!r}, {spot.at[1].text!r}"
            allowed = f"allowed: on the floor or a level; this is on the ramp {under[0]!r}"
            yield Problem(f"spots[{k + 1}].at", given, allowed, ("floor.ramps",))


def _check_ramps(place: Place) -> Iterator[Problem]:
    levels = {level.name: level for level in place.floor.levels}
    for k, ramp in enumerate(place.floor.ramps):
        path = f"floor.ramps[{k + 1}]"
        if ramp.level not in levels:
            if levels:
                yield unknown(f"{path}.level", ramp.level, list(levels))
            else:
                allowed = "allowed: the name of one of the floor's levels; there is none"
                yield Problem(f"{path}.level", repr(ramp.level), allowed)
            continue
        level = levels[ramp.level]
        foot, head = ramp_line(ramp)
        run = float(np.hypot(*(head - foot)))
        least = float(level.height) / STEEPEST
        if run < max(least, NEAR):
            yield Problem(
                f"{path}.foot",
                f"{ramp.foot[0].text!r}, {ramp.foot[1].text!r}",
                f"allowed: at least {like(max(least, NEAR), level.height.text)} from the head for "
                f"a rise of {level.height.text}, 1 in 2; steeper is a step",
                (f"{path}.head", f"floor.levels.{ramp.level}.height"),
            )
            continue
        way = (head - foot) / run
        back, on = head - AT_EDGE * way, head + AT_EDGE * way
        corners = outline_of(level)
        if inside(corners, *map(float, back)) or not inside(corners, *map(float, on)):
            yield Problem(
                f"{path}.head",
                f"{ramp.head[0].text!r}, {ramp.head[1].text!r}",
                f"allowed: at the edge of level {ramp.level!r}, the foot outside it",
                (f"{path}.foot", "floor.levels"),
            )
        elif (
            not inside([start for start, _ in place.floor.walls.values()], *map(float, foot))
            or floor_height(place, *map(float, foot - AT_EDGE * way)) > 0.0
        ):
            yield Problem(
                f"{path}.foot",
                f"{ramp.foot[0].text!r}, {ramp.foot[1].text!r}",
                "allowed: on the room's floor; a ramp from a level to a higher one cannot be said",
                (*PLAN, "floor.levels"),
            )


def _check_doors(place: Place) -> Iterator[Problem]:
    """Doors that open on two levels, and what a door on a level cannot have."""
    for k, door in enumerate(place.doors or ()):
        if door.wall not in place.floor.walls:
            continue
        path = f"doors[{k + 1}]"
        heights = heights_at(place, door)
        low, high = min(heights), max(heights)
        if high - low > SAME:
            yield Problem(
                f"{path}.from_corner",
                f"{door.from_corner.text!r}, {door.clear_width.text!r} wide",
                "allowed: an opening that is all on one level, or two doors side by side",
                ("floor.levels", f"{path}.clear_width"),
            )
        elif high > 0.0 and (door.ground is not None or door.planks):
            field = "ground" if door.ground is not None else "planks"
            allowed = "allowed: none for a door that opens on a level, which is taken as going on"
            given = f"{len(getattr(door, field) or ())} of them"
            yield Problem(f"{path}.{field}", given, allowed, ("floor.levels",))
        elif high > 0.0 and place.outside is not None:
            allowed = "allowed: none where a door opens on a level, as the ground there is not said"
            yield Problem("outside", f"beside door {door.name!r}", allowed, ("floor.levels",))


def _check_things(place: Place) -> Iterator[Problem]:
    """Things whose top is under the level that they stand on, and ones half on a level."""
    for k, thing in enumerate(place.obstacles or ()):
        if thing.kind != "standing" or thing.top is None:
            continue
        points = thing.outline or thing.line or (() if thing.centre is None else (thing.centre,))
        high = max((floor_height(place, float(x), float(y)) for x, y in points), default=0.0)
        if high > 0.0 and not thing.top > high:
            yield Problem(
                f"obstacles[{k + 1}].top",
                repr(thing.top.text),
                "allowed: over the level that it stands on, "
                f"{like(high, thing.top.text)}; heights are over the room's floor",
                ("floor.levels",),
            )
    for k, car in enumerate(place.cars or ()):
        if floor_height(place, float(car.at[0]), float(car.at[1])) > 0.0:
            allowed = "allowed: on the room's floor; on a level say it as an obstacle"
            given = f"{car.at[0].text!r}, {car.at[1].text!r}"
            yield Problem(f"cars[{k + 1}].at", given, allowed, ("floor.levels",))
