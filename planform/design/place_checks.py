"""Checks between the fields of a place: outlines, openings in walls, heads under a ceiling."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np

from planform.design.bounds import FLOOR, overall
from planform.design.ceiling_checks import check_ceiling
from planform.design.doors import Door
from planform.design.ground_checks import check_ground
from planform.design.guidance import guide_names
from planform.design.place import Place
from planform.design.problems import Problem, unknown
from planform.design.roof import height_at
from planform.design.slope import STEEPEST, TOWARD, extent
from planform.design.things import Obstacle
from planform.design.units import like

OPENING = ("from_corner", "clear_width", "clear_height")
PLAN = ("floor.outline", "floor.width", "floor.depth")
NEAR = 1e-3
"""Corners nearer than this to one another, or to another side, count as touching [m];
assumption."""


def _no_such_wall(path: str, given: str, walls: list[str]) -> Problem:
    if walls[0] == "front":
        which = "as seen from the front wall into the room; the width runs along the front wall"
    else:
        which = "by its corners: wall 1 runs from the first corner of the outline to the second"
    problem = unknown(path, given, walls)
    return replace(problem, allowed=f"{problem.allowed}; {which}", rests=PLAN)


def _check_fall(place: Place) -> Iterator[Problem]:
    fall = place.floor.fall
    assert fall is not None
    low, high = extent(place, TOWARD[fall.toward][0])
    most = STEEPEST * (high - low)
    if fall.drop > most:
        allowed = (
            f"allowed: at most {like(most, fall.drop.text)} over the whole floor, 1 in 40; a "
            "steeper one is a ramp: give the door a ground profile"
        )
        yield Problem("floor.fall.drop", repr(fall.drop.text), allowed, PLAN)


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
    yield from _check_openings(place)
    if place.floor is not None and place.floor.fall is not None:
        yield from _check_fall(place)
    yield from check_ceiling(place)
    if place.floor is not None:
        for k, door in enumerate(place.doors or ()):
            yield from _check_door(place, f"doors[{k + 1}]", door)
    for k, thing in enumerate(place.obstacles or ()):
        yield from _check_obstacle(f"obstacles[{k + 1}]", thing)


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
    if min(ends) < door.clear_height - 1e-9:
        yield Problem(
            f"{path}.clear_height",
            repr(door.clear_height.text),
            "allowed: a head under the ceiling, which is at "
            f"{like(min(ends), door.clear_height.text)} there",
            ("ceiling", *PLAN, *(f"{path}.{field}" for field in OPENING)),
        )


def _check_obstacle(path: str, thing: Obstacle) -> Iterator[Problem]:
    yield from check_outline(f"{path}.outline", list(thing.outline))
    if thing.kind == "standing" and thing.top is None:
        yield Problem(f"{path}.top", "nothing", "a standing thing needs its top height")
    if thing.kind == "hanging" and not thing.bottom > 0.0:
        yield Problem(
            f"{path}.bottom", repr(thing.bottom.text), "a hanging thing needs its bottom height"
        )
    if thing.top is not None and not thing.top > thing.bottom:
        yield Problem(
            f"{path}.top",
            repr(thing.top.text),
            f"allowed: above its bottom ({thing.bottom.text}); is it upside down?",
            (f"{path}.bottom",),
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
        if one.wall == two.wall and two.from_corner < one.from_corner + one.clear_width:
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


def check_outline(path: str, corners: list[tuple[float, float]]) -> Iterator[Problem]:
    """Problems of a plan outline: corners twice, sides that touch or cross, no area."""
    points = np.array([(float(x), float(y)) for x, y in corners])
    n = len(points)
    following = np.roll(points, -1, axis=0)
    along = following - points
    length = np.hypot(*along.T)
    if (length < NEAR).any():
        k = int(np.argmin(length))
        yield Problem(
            path,
            f"corners {k + 1} and {(k + 1) % n + 1} at one place",
            "allowed: each corner once, and the last one not again the first",
        )
        return
    for k in range(n):
        start, way = points[k], along[k] / length[k]
        off = points - start
        ahead, aside = off @ way, off @ np.array([-way[1], way[0]])
        met = (ahead > -NEAR) & (ahead < length[k] + NEAR) & (np.abs(aside) < NEAR)
        met[[k, (k + 1) % n]] = False
        if met.any():
            yield Problem(
                path,
                f"corner {int(np.argmax(met)) + 1} lies on the side after corner {k + 1}",
                "allowed: sides that meet at their own corners only",
            )
            return
        # sides whose ends are on either side of this one, and this one's of theirs
        other = np.roll(aside, -1)
        back = along[:, 0] * (start - points)[:, 1] - along[:, 1] * (start - points)[:, 0]
        front = back + along[:, 0] * along[k, 1] - along[:, 1] * along[k, 0]
        crossed = (aside * other < 0.0) & (back * front < 0.0)
        crossed[[k - 1, k, (k + 1) % n]] = False
        if crossed.any():
            yield Problem(
                path,
                f"sides {k + 1} and {int(np.argmax(crossed)) + 1} cross",
                "allowed: corners in order round the edge",
            )
            return
    area = float((points[:, 0] * following[:, 1] - following[:, 0] * points[:, 1]).sum())
    if abs(area) < NEAR * NEAR:
        yield Problem(path, f"{n} corners", "allowed: corners that enclose an area")
    elif area < 0.0 and path == "floor.outline":
        yield Problem(
            path, "corners clockwise", "allowed: corners counter-clockwise seen from above"
        )


def inside(corners: list[tuple[float, float]], x: float, y: float) -> bool:
    """Whether a point is within an outline."""
    odd = False
    for (x0, y0), (x1, y1) in pairwise([*corners, corners[0]]):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            odd = not odd
    return odd
