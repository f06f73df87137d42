"""Checks between the fields of a place: outlines, openings in walls, heads under a ceiling."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from planform.design.bounds import FLOOR, overall
from planform.design.ceiling_checks import check_ceiling
from planform.design.doors import Door
from planform.design.ground_checks import check_ground
from planform.design.guidance import guide_names
from planform.design.leaf_checks import check_leaf
from planform.design.level_checks import check_levels
from planform.design.levels import door_floor
from planform.design.outline_checks import check_outline, inside
from planform.design.outside_checks import check_outside
from planform.design.place import Place
from planform.design.problems import Problem, unknown
from planform.design.roof import height_at
from planform.design.slope import STEEPEST, TOWARD, extent
from planform.design.things_checks import check_things
from planform.design.units import like

OPENING = ("from_corner", "clear_width", "clear_height")
PLAN = ("floor.outline", "floor.width", "floor.depth")


def _no_such_wall(path: str, given: str, walls: list[str]) -> Problem:
    if walls[0] == "front":
        which = "as seen from the front wall into the room; the width runs along the front wall"
    else:
        which = "by its corners: wall 1 runs from the first corner of the outline to the second"
    problem = unknown(path, given, walls)
    return replace(problem, allowed=f"{problem.allowed}; {which}", rests=PLAN)


def _check_fall(place: Place, field: str) -> Iterator[Problem]:
    fall = getattr(place.floor, field)
    if fall is None:
        return
    low, high = extent(place, TOWARD[fall.toward][0])
    most = STEEPEST * (high - low)
    if fall.drop > most:
        allowed = (
            f"allowed: at most {like(most, fall.drop.text)} over the whole floor, 1 in 40; a "
            "steeper one is a ramp: give the door a ground profile"
        )
        yield Problem(f"floor.{field}.drop", repr(fall.drop.text), allowed, PLAN)


def check_place(place: Place) -> Iterator[Problem]:
    """Problems between the fields of a place; `place` may lack what could not be read."""
    if place.clearances is not None:
        for name in place.clearances.guide:
            if name not in guide_names():
                yield unknown("clearances.guide", name, guide_names())
    if place.floor is not None and place.floor.outline is not None:
        yield from check_outline("floor.outline", list(place.floor.outline))
        columns = zip(*place.floor.outline, strict=True)
        spans = {
            name: float(max(at) - min(at))
            for name, at in zip(("wide", "deep"), columns, strict=True)
        }
        yield from overall("floor.outline", spans, FLOOR, PLAN)
    for k, pit in enumerate(place.floor.pits if place.floor is not None else ()):
        yield from check_outline(f"floor.pits[{k + 1}].outline", list(pit.outline))
    yield from _check_openings(place)
    if place.floor is not None:
        yield from _check_fall(place, "fall")
        yield from _check_fall(place, "second_fall")
    yield from check_ceiling(place)
    if place.floor is not None:
        for k, door in enumerate(place.doors or ()):
            yield from _check_door(place, f"doors[{k + 1}]", door)
    yield from check_things(place)
    yield from check_outside(place)
    yield from check_levels(place)


def _check_door(place: Place, path: str, door: Door) -> Iterator[Problem]:
    walls = place.floor.walls
    if door.wall not in walls:
        yield _no_such_wall(f"{path}.wall", door.wall, list(walls))
        return
    (x0, y0), (x1, y1) = walls[door.wall]
    length = float(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
    if not length > 0.0:
        return  # a corner that stands twice, which is told of the outline
    if door.from_corner + door.clear_width > length + 1e-9:
        yield Problem(
            f"{path}.clear_width",
            f"{door.clear_width.text!r} from {door.from_corner.text!r}",
            f"allowed: an opening inside its wall; {door.wall} is "
            f"{like(length, door.clear_width.text)} long",
            (*PLAN, f"{path}.from_corner"),
        )
    for part in ("width", "height"):
        nominal = getattr(door, f"nominal_{part}")
        clear = getattr(door, f"clear_{part}")
        if nominal is not None and clear > nominal:
            yield Problem(
                f"{path}.clear_{part}",
                repr(clear.text),
                f"allowed: at most the nominal {part} ({nominal.text})",
                (f"{path}.clear_{part}", f"{path}.nominal_{part}"),
            )
    if not door.clear_height > door.threshold:
        yield Problem(
            f"{path}.clear_height",
            repr(door.clear_height.text),
            f"allowed: above the threshold ({door.threshold.text})",
            (f"{path}.threshold",),
        )
    yield from check_ground(path, door, place.floor.thickness)
    yield from check_leaf(place, path, door)
    yield from _check_head(place, path, door)


def _check_head(place: Place, path: str, door: Door) -> Iterator[Problem]:
    """A door's head over the ceiling."""
    if place.ceiling is None:
        return
    (x0, y0), (x1, y1) = place.floor.walls[door.wall]
    length = float(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
    ends = []
    for along in (door.from_corner, door.from_corner + door.clear_width):
        s = along / length
        ends.append(height_at(place, x0 + s * (x1 - x0), y0 + s * (y1 - y0)))
    under = door_floor(place, door)
    room = min(ends) - under
    if room < door.clear_height - 1e-9:
        yield Problem(
            f"{path}.clear_height",
            repr(door.clear_height.text),
            "allowed: a head under the ceiling, which is at "
            f"{like(room, door.clear_height.text)} {'over the level ' if under else ''}there",
            ("ceiling", *PLAN, *(f"{path}.{field}" for field in OPENING)),
        )


def _check_openings(place: Place) -> Iterator[Problem]:
    """Names that stand twice, openings that overlap, and spots off the floor."""
    for field in ("doors", "spots"):
        seen: set[str] = set()
        for k, item in enumerate(getattr(place, field) or ()):
            if item.name in seen:
                yield Problem(f"{field}[{k + 1}].name", repr(item.name), f"two {field} have it")
            seen.add(item.name)
    doors = sorted(enumerate(place.doors or ()), key=lambda d: (d[1].wall, float(d[1].from_corner)))
    for (j, one), (k, two) in pairwise(doors):
        if one.wall == two.wall and two.from_corner < one.from_corner + one.clear_width - 1e-9:
            yield Problem(
                f"doors[{k + 1}].from_corner",
                repr(two.from_corner.text),
                f"allowed: beyond {one.name!r}, which begins at {one.from_corner.text} and is "
                f"{one.clear_width.text} wide",
                (*(f"doors[{j + 1}].{f}" for f in OPENING), f"doors[{k + 1}].clear_width"),
            )
    if place.floor is None:
        return
    corners = [start for start, _ in place.floor.walls.values()]
    for k, spot in enumerate(place.spots or ()):
        x, y = float(spot.at[0]), float(spot.at[1])
        if not inside(corners, x, y):
            yield Problem(
                f"spots[{k + 1}].at",
                f"{spot.at[0].text!r}, {spot.at[1].text!r}",
                "allowed: a point of the floor; the aircraft's parking point stands there",
                PLAN,
            )
