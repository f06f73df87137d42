"""The place as solids: walls with their openings, the ceiling, things that hang and stand."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.prism import prism
from planform.core.shown import Brief, Shown
from planform.design.doors import Door
from planform.design.levels import door_floor, floor_height
from planform.design.place import Place, Spot
from planform.design.problems import InputError, unknown
from planform.design.roof import RoofLine, height_at, roof_lines
from planform.design.slope import least_clear_height, uphill
from planform.design.told import said
from planform.fit.filled import things
from planform.fit.leaves import pieces_of
from planform.fit.levels import EDGE, blocks
from planform.fit.outside import outside

Array = NDArray[np.float64]
Faces = NDArray[np.int64]


WISHES = {
    "wall": "walls",
    "threshold": None,
    "pit": None,
    "door side": "door_sides",
    "door head": "door_head",
    "obstacle": "obstacles",
    "aircraft": "obstacles",
    "ceiling": "ceiling",
    "ground": "ground",
    "kept off": None,
    "kept free": None,
}
"""Which field of a place's clearances speaks of which kind of thing."""


PIT_EDGE = 0.02
"""A wheel is over a pit with all of it that is lower than this [m]: of a tyre of 0.2 m radius 87 mm
ahead of its axle and behind, more than its contact is long. Assumption."""


@dataclass(frozen=True, eq=False)
class Fixed:
    """A fixed thing: a plan polygon (n, 2) over a height range, and the clearance wanted to it.

    kind : 'wall', 'door head', 'threshold', 'pit', 'obstacle', 'ceiling', 'aircraft' (a parked
        one), 'kept off' (the space round a power line), 'kept free' (for people, while parked)
    beside : the doors that a piece of wall ends at
    leaf_of : the door whose open leaf it is a piece of
    outside : whether the place gives it as outside the walls
    given : heights of its underside and top as the file gives them [m], where low and high count
        to the safe side of them; None where they are those
    faces : of a piece of wall, the sides of its outline toward the room or an opening, by number;
        what reaches into it comes out there; None where any side will do
    """

    name: str
    kind: str
    outline: Array
    low: float
    high: float
    beside: tuple[str, ...] = ()
    leaf_of: str = ""
    outside: bool = False
    given: tuple[float, float] | None = None
    faces: tuple[int, ...] | None = None

    @property
    def as_given(self) -> tuple[float, float]:
        """The heights of its underside and top as the file gives them [m]."""
        return self.given or (self.low, self.high)

    @cached_property
    def mesh(self) -> tuple[Array, Faces]:
        """Closed mesh of the prism."""
        return prism(self.outline, self.low, self.high)


@dataclass(frozen=True, eq=False, repr=False)
class Room(Shown):
    """The place, built.

    roof : what the ceiling is made of, the lowest counts; empty where none is given
    height : of the floor that it is seen from, over the room's floor [m]; see `fit.levels`
    edge : how high over that floor its edges count [m]
    """

    place: Place
    fixed: tuple[Fixed, ...]
    floor: Array
    top: float
    roof: tuple[RoofLine, ...] = ()
    height: float = 0.0
    edge: float = EDGE

    @cached_property
    def solid(self) -> tuple[Fixed, ...]:
        """The fixed things that nothing moves through: all but what is kept free while parked."""
        return tuple(thing for thing in self.fixed if thing.kind != "kept free")

    def wanted(self, kind: str) -> tuple[float | None, str]:
        """What is to be kept free to this kind of thing [m], None where not given; and whence."""
        field = WISHES[kind]
        return (None, "") if field is None else self.place.clearances.wanted(field)

    def wanted_on_the_way(self, thing: Fixed) -> tuple[float | None, str]:
        """What is to be kept free to a fixed thing while moving [m], and whence.

        A piece of wall that ends at a door asks what the place asks beside its doors.
        """
        return self.wanted("door side" if thing.beside else thing.kind)

    def ceiling_over(self, points: Array) -> Array:
        """Ceiling height [m] over points (n, 2 or 3); infinite where no ceiling is given."""
        if not self.roof:
            return np.full(len(points), np.inf)
        heights = [line.over(points[:, line.axis]) for line in self.roof]
        return heights[0] if len(heights) == 1 else np.min(heights, axis=0)

    def brief(self) -> Brief:
        """Its floor and what stands on it."""
        wide, deep = np.ptp(self.floor, axis=0)
        units = self.place.units
        rows = [
            ("floor", f"{said(wide, 'length', units)} by {said(deep, 'length', units)}"),
            ("doors", ", ".join(door.name for door in self.place.doors) or "none"),
        ]
        names = [thing.name for thing in self.fixed if thing.kind in ("obstacle", "aircraft")]
        within = ", ".join(dict.fromkeys(names))
        return Brief(self.place.name, (*rows, ("in it", within or "nothing")))


def build_room(place: Place, height: float = 0.0, edge: float = EDGE) -> Room:
    """Build the walls, doors and things of a place as prisms.

    height : of the floor that it is seen from, over the room's floor [m]
    edge : how high over that floor its edges count [m]
    """
    walls = place.floor.walls
    floor = np.array([start for start, _ in walls.values()])
    leaves = [(door.name, one) for door in place.doors for one in pieces_of(place, door)]
    sills = {door.name: door_floor(place, door) for door in place.doors}
    top = max([_highest(place, floor), *(leaf.high for _, leaf in leaves)]) + 1.0
    top += max(sills.values(), default=0.0)
    thick = place.floor.thickness
    fixed: list[Fixed] = []
    for name, (start, end) in walls.items():
        doors = [door for door in place.doors if door.wall == name]
        opened = [(door, sills[door.name]) for door in doors]
        fixed += _wall(name, np.array(start), np.array(end), opened, top, thick)
    inside = tuple(things(place))
    for k, one in enumerate((*inside, *outside(place))):
        high, beyond = top if one.high is None else one.high, k >= len(inside)
        ring = _turned(one.outline)
        fixed.append(Fixed(one.name, one.kind, ring, one.low, high, outside=beyond))
    for pit in place.floor.pits:
        ring = np.array([[float(x), float(y)] for x, y in pit.outline])
        floors = [floor_height(place, *at) for at in (*ring.tolist(), ring.mean(axis=0).tolist())]
        on = max(floors) if place.floor.levels else 0.0
        fixed.append(Fixed(pit.name, "pit", _turned(ring), on, on + PIT_EDGE))
    for name, kind, ring, low, high in blocks(place, height, edge):
        fixed.append(Fixed(name, kind, ring, low, high))
    for door, leaf in leaves:
        name, ring, up = leaf.name, leaf.outline, sills[door]
        heights = (leaf.low + up if leaf.low > 0.0 else 0.0, leaf.high + up)
        fixed.append(Fixed(name, "obstacle", ring, *heights, leaf_of=door))
    heads = {f"head of {door.name}": least_clear_height(place, door) for door in place.doors}
    leant = (leaning(f, place, heads.get(f.name)) for f in fixed)
    return Room(place, tuple(leant), floor, top, roof_lines(place), height, edge)


def without_doors(room: Room, names: Collection[str]) -> Room:
    """The room with some of its doors shut, their walls whole."""
    doors = tuple(door for door in room.place.doors if door.name not in names)
    return build_room(room.place.model_copy(update={"doors": doors}), room.height, room.edge)


@lru_cache(maxsize=32)
def at_height(room: Room, height: float, edge: float = EDGE) -> Room:
    """The room as it is met from its floor of a height [m]; the very same where it is that.

    edge : how high over that floor its edges count [m]
    """
    same = room.height == height and room.edge == edge
    return room if same else build_room(room.place, height, edge)


def leaning(thing: Fixed, place: Place, head: float | None = None) -> Fixed:
    """A plumb thing as it stands over a floor that falls: bounded from outside.

    Its outline covers all of it that leans uphill over its height, and a level underside or top
    is taken as low and as high as it is anywhere over the floor.
    """
    import shapely

    lean = np.array(uphill(place))
    if not lean.any():
        return thing
    low, high = thing.outline + thing.low * lean, thing.outline + thing.high * lean
    ends = zip(low, np.roll(low, -1, axis=0), high, np.roll(high, -1, axis=0), strict=True)
    sides = [shapely.convex_hull(shapely.multipoints(np.array(side))) for side in ends]
    rings = shapely.polygons([low, high])
    whole = shapely.union_all([*rings, *sides])
    outline = np.asarray(shapely.orient_polygons(whole).exterior.coords)[:-1]
    sag = 0.5 * float(np.abs(lean) @ np.ptp(thing.outline, axis=0))
    bottom = max(0.0, thing.low - sag) if thing.low > 0.0 else 0.0
    return replace(
        thing,
        outline=outline,
        low=bottom if head is None else head,
        high=thing.high + sag,
        given=(thing.low, thing.high),
        faces=None,
    )


def _highest(place: Place, floor: Array) -> float:
    heads = [float(door.clear_height) for door in place.doors]
    if place.ceiling is not None:
        heads += [height_at(place, x, y) for x, y in floor]
        heads += [height for line in roof_lines(place) for height in line.height]
    heads += [t.low if t.high is None else t.high for t in (*things(place), *outside(place))]
    return max([3.0, *heads])


def _turned(outline: Array) -> Array:
    """The outline counter-clockwise."""
    x, y = outline.T
    area = float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())
    return outline if area > 0.0 else outline[::-1].copy()


INNER, ENDS = 2, (1, 3)
"""Sides of a piece of wall, by number in its outline: to the room; its far and its near end."""


def _wall(
    name: str,
    start: Array,
    end: Array,
    opened: list[tuple[Door, float]],
    top: float,
    thick: float,
) -> list[Fixed]:
    length = float(np.linalg.norm(end - start))
    along = (end - start) / length
    outward = np.array([along[1], -along[0]])

    def strip(a: float, b: float) -> Array:
        p, q = start + a * along, start + b * along
        return np.array([p + thick * outward, q + thick * outward, q, p])

    out: list[Fixed] = []
    edges = [0.0]
    opened = sorted(opened, key=lambda one: float(one[0].from_corner))
    for door, sill in opened:
        a = float(door.from_corner)
        b = a + float(door.clear_width)
        edges += [a, b]
        out.append(
            Fixed(
                f"head of {door.name}",
                "door head",
                strip(a, b),
                float(door.clear_height) + sill,
                top,
            )
        )
        if door.threshold > 0.0:
            out.append(
                Fixed(
                    f"threshold of {door.name}",
                    "threshold",
                    strip(a, b),
                    0.0,
                    float(door.threshold) + sill,
                )
            )
    edges.append(length)
    names = [door.name for door, _ in opened]
    for k, (a, b) in enumerate(zip(edges[::2], edges[1::2], strict=True)):
        if b - a > 1e-9:
            beside = tuple(names[max(k - 1, 0) : k + 1])
            faces = (INNER, *((ENDS[0],) * (k < len(names))), *((ENDS[1],) * (k > 0)))
            told = _piece(wall_name(name), beside, k)
            out.append(Fixed(told, "wall", strip(a, b), 0.0, top, beside, faces=faces))
    return out


def wall_name(wall: str) -> str:
    """What a wall is called: by its side of a rectangle, else by its number."""
    return wall if wall.startswith("wall") else f"{wall} wall"


def _piece(wall: str, beside: tuple[str, ...], number: int) -> str:
    """What a piece of wall is called, going from the corner that its doors are measured from."""
    if len(beside) == 2:
        return f"{wall} between {' and '.join(beside)}"
    return f"{wall} {'past' if number else 'before'} {beside[0]}" if beside else wall


def door_ends(place: Place, door: Door) -> Array:
    """The two ends of a door's clear opening on the inner wall line, place axes, shape (2, 2)."""
    corner, along = _corner_of(place, door)
    first = float(door.from_corner)
    return np.array([corner + s * along for s in (first, first + float(door.clear_width))])


def doorway(place: Place, door: Door) -> tuple[Array, Array]:
    """The middle of a door on the inner wall line, and the way out of it; place axes, (2,)."""
    corner, along = _corner_of(place, door)
    middle = corner + (float(door.from_corner) + 0.5 * float(door.clear_width)) * along
    return middle, np.array([along[1], -along[0]])


def _corner_of(place: Place, door: Door) -> tuple[Array, Array]:
    """The corner that a door is measured from, and the unit vector from there along its wall."""
    start, end = (np.array(corner) for corner in place.floor.walls[door.wall])
    return start, (end - start) / np.linalg.norm(end - start)


def spot_point(place: Place, name: str | None) -> Spot | None:
    """The spot with this name (the first where no name is given), or None."""
    if name is None:
        return place.spots[0] if place.spots else None
    for spot in place.spots:
        if spot.name == name:
            return spot
    raise InputError("spot", [unknown("spot", name, [s.name for s in place.spots])])
