"""A part taken off and carried out by hand: how it is best tilted, and what opening it passes.

Straight along one direction, without turning on the way, rolled about that direction: exact for
the convex hull of what was built. A curved part may do better by turning; that is not looked at.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe
from planform.airframe.part import Part
from planform.airframe.presence import covers
from planform.core.quantity import Metres, Radians
from planform.core.shape.convex import counter_clockwise
from planform.core.shape.tilt import Outline, across
from planform.core.shape.trough import Cost, Trough, turns
from planform.core.shown import Brief, Shown
from planform.design.doors import Door
from planform.design.kinds import INNER
from planform.design.place import Place
from planform.design.problems import InputError, Problem, unknown
from planform.design.told import said

Array = NDArray[np.float64]

PASSES, TIGHT, NOT_FOUND = "passes", "passes with less than is wanted", "not found"
"""Through an opening; the last proves nothing, as turning on the way was not looked at."""

EASY = 1e-3
"""Lying flat is told where no roll leaves more than this [m] besides; assumption."""

BEST = "as best found"

STARTS = 400
"""Attitudes that are looked at first, besides those along edges of the hull; assumption."""

KEPT = 24
"""The best of them, from which is searched on; assumption."""

ROUNDS = 60
"""Rounds of a search, each trying turns about many axes; assumption."""

LEAST_TURN = 1e-7
"""A search ends where turns of this do no more [rad]."""
AXES = (
    ("nose or tail first", (1.0, 0.0, 0.0)),
    ("sideways", (0.0, 1.0, 0.0)),
    ("from below or above", (0.0, 0.0, 1.0)),
)


@dataclass(frozen=True, eq=False, repr=False)
class Carried(Shown):
    """Parts in one piece, as they are joined on the aircraft.

    hull : corners of their convex hull, aircraft axes, shape (n, 3) [m]
    sides : directions of the hull's edges, shape (m, 3)
    margin : how far the true shape may stand outside [m]
    units : those that a reader of its sizes is shown
    """

    parts: tuple[Part, ...]
    hull: Array
    sides: Array
    margin: float
    units: str

    @property
    def title(self) -> str:
        """The parts' names in one line."""
        names = [part.name for part in self.parts]
        return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"

    @cached_property
    def ways(self) -> tuple[Along, ...]:
        """Directions to carry it along: the one that needs least area, then the aircraft's axes."""
        best = self.best_of(_area)
        return (best, *(Along(name, self, np.array(d)) for name, d in AXES))

    def best_of(self, cost: Cost) -> Along:
        """The direction that costs least of all found, looked for from many starts.

        cost : of widths and heights across, arrays of one shape [m], to what is to be least; it
            grows with both
        """
        return Along(BEST, self, _least_direction(self, cost))

    def brief(self) -> Brief:
        """Its parts and the room that they take as they lie on the aircraft."""
        sizes = np.ptp(self.hull, axis=0) + 2.0 * self.margin
        axes = ("along the aircraft", "across", "upright")
        told = (said(float(size), "fine_up", self.units) for size in sizes)
        return Brief(self.title, tuple(zip(axes, told, strict=True)))


@dataclass(frozen=True, eq=False)
class Along:
    """One direction to carry it along, level; it may be rolled about it.

    direction : array, shape (3,), aircraft axes
    A roll of 0 has its least rectangle lying flat.
    """

    name: str
    carried: Carried
    direction: Array

    @cached_property
    def outline(self) -> Outline:
        """The outline across the way, its least rectangle flat at roll 0."""
        ring = counter_clockwise(_hull2(self.seen(self.carried.hull)))
        return Outline(ring, self.carried.margin)

    @cached_property
    def axes(self) -> Array:
        """Level and up across the way, its least rectangle flat, shape (2, 3)."""
        axes = across(self.direction)
        ring = counter_clockwise(_hull2(self.carried.hull @ axes.T))
        flat = Outline(ring, self.carried.margin).smallest
        c, s = np.cos(flat), np.sin(flat)
        return np.asarray(np.array([[c, -s], [s, c]]) @ axes)

    def seen(self, points: Array) -> Array:
        """Points of aircraft axes (n, 3) as seen along the way, lying flat, shape (n, 2) [m]."""
        return np.asarray(points @ self.axes.T)

    @property
    def length(self) -> Metres:
        """Its length along the way [m]."""
        unit = self.direction / float(np.linalg.norm(self.direction))
        return float(np.ptp(self.carried.hull @ unit)) + 2.0 * self.carried.margin

    @property
    def rectangle(self) -> tuple[Metres, Metres]:
        """Width and height of the least rectangle across the way, flat [m]."""
        return float(self.outline.width(0.0)), float(self.outline.height(0.0))

    @property
    def area(self) -> float:
        """Area of that rectangle [m2]."""
        return self.rectangle[0] * self.rectangle[1]

    @property
    def narrowest(self) -> tuple[float, float, float]:
        """Roll [rad], width and height [m] where it is narrowest."""
        roll = self.outline.narrowest
        return roll, float(self.outline.width(roll)), float(self.outline.height(roll))


@dataclass(frozen=True, eq=False, repr=False)
class Through(Shown):
    """How it passes an opening.

    width, height : what is clear there [m] ; side, head : what is wanted of it [m]
    roll, spare : the roll that leaves most on the tighter of both ways, with nothing set aside
    ranges : rolls at which it passes with what is wanted, or bare where that is nowhere [rad]
    """

    opening: str
    width: Metres
    height: Metres
    side: Metres
    head: Metres
    way: Along
    roll: Radians
    spare: Metres
    ranges: tuple[tuple[Radians, Radians], ...]
    answer: str

    def brief(self) -> Brief:
        """Whether it passes, and how it is rolled for that."""
        units = self.way.carried.units
        opening = f"{said(self.width, 'length', units)} by {said(self.height, 'length', units)}"
        rows = (
            ("opening", opening),
            ("carried along", self.way.name),
            ("rolled", said(self.roll, "angle", units)),
            ("to spare", said(self.spare, "gap", units)),
        )
        return Brief(f"{self.way.carried.title} through {self.opening}: {self.answer}", rows)


def one_piece(airframe: Airframe, names: Sequence[str]) -> Carried:
    """The parts of these names (a part's own or its group's) in one piece.

    What stands inside them comes along; it is named where it reaches out of them.

    Raises InputError for a name that no part has, or where none is given.
    """
    if not names:
        allowed = f"allowed: {', '.join(_known(airframe))}"
        raise InputError("option", [Problem("--part", "none", allowed)])
    wrong = [n for n in names if not any(covers(n, part) for part in airframe.parts)]
    if wrong:
        known = _known(airframe)
        raise InputError("option", [unknown("--part", name, known) for name in wrong])
    taken = {p.name for p in airframe.parts if any(covers(n, p) for n in names)}
    along = {p.name for p in _inside(airframe, taken | set(names)) if not _hidden(p, taken)}
    parts = tuple(p for p in airframe.parts if p.name in taken | along)
    return in_one(parts, airframe.design.units)


def inside_of(airframe: Airframe, parts: Iterable[Part]) -> tuple[Part, ...]:
    """What stands inside some parts and comes along with them, seen or not."""
    return tuple(_inside(airframe, {part.name for part in parts}))


def _inside(airframe: Airframe, taken: set[str]) -> Iterator[Part]:
    """What stands inside parts of these names; taken : parts, or groups of which both sides are."""
    yield from (p for p in airframe.parts if p.role in INNER and taken & set(p.hosts[-2:]))


def _hidden(part: Part, taken: set[str]) -> bool:
    """Whether a part lies inside skins that are all taken."""
    return bool(part.within) and set(part.within) <= taken


def piece_named(airframe: Airframe, text: str) -> Carried:
    """A piece as it is written: a part or a group, or several joined by +."""
    return one_piece(airframe, joined_names(airframe, text))


def joined_names(airframe: Airframe, text: str) -> list[str]:
    """The names that a text joins by +, as few as it can be read as: a name may hold a + itself."""
    names = ((p.name, p.group, p.name.removesuffix(" leg")) for p in airframe.parts)
    known = set(chain.from_iterable(names))
    bits = text.split("+")
    read: list[list[str] | None] = [[]]
    for end in range(1, len(bits) + 1):
        ways = [
            [*before, name]
            for start, before in enumerate(read)
            if before is not None and (name := "+".join(bits[start:end]).strip()) in known
        ]
        read.append(min(ways, key=len, default=None))
    return read[-1] or [bit.strip() for bit in bits]


def in_one(parts: tuple[Part, ...], units: str) -> Carried:
    """Parts in one piece."""
    import trimesh

    points = np.concatenate([part.points for part in parts])
    whole = trimesh.convex.convex_hull(points)
    corners = np.asarray(whole.vertices)
    edges = corners[whole.edges_unique]
    run = edges[:, 1] - edges[:, 0]
    run = run[np.linalg.norm(run, axis=1) > 1e-3]
    run /= np.linalg.norm(run, axis=1)[:, None]
    run *= np.where(run @ [1.0, 1e-3, 1e-6] < 0.0, -1.0, 1.0)[:, None]
    sides = np.unique(np.round(run, 3), axis=0)
    return Carried(parts, corners, sides, max(part.bulge for part in parts), units)


def _known(airframe: Airframe) -> list[str]:
    groups = dict.fromkeys(part.group for part in airframe.parts)
    return [*groups, *(p.name for p in airframe.parts if p.name not in groups)]


def _hull2(points: Array) -> Array:
    import shapely

    hull = shapely.convex_hull(shapely.multipoints(points))
    return np.asarray(shapely.get_coordinates(hull))[:-1]


def _area(wide: Array, high: Array) -> Array:
    return np.asarray(wide * high)


def _least_direction(one: Carried, cost: Cost) -> Array:
    """The direction of the attitude that costs least: many starts, each turned on downhill.

    Level, up and the way are at right angles, so an attitude is a turn in space; the cost has kinks
    where a face or an edge lies flush, so turns about many axes are tried and made smaller. A push
    straight through passes if and only if such an attitude does, so nothing else is searched.
    """
    rng = np.random.default_rng(0)
    trough = Trough(one.hull, one.margin, cost)
    along = [_flush(one, direction) for direction in one.sides]
    frames = np.concatenate([turns(rng.normal(size=(STARTS, 4)))[:, :2], *along])
    found = trough.costs(frames)
    order = np.argsort(found, kind="stable")[:KEPT]
    frames, found = frames[order], found[order]
    steps = np.full(len(frames), 0.1)
    for _ in range(ROUNDS):
        axes = rng.normal(size=(32, 3))
        axes /= np.linalg.norm(axes, axis=1)[:, None]
        half = 0.5 * steps[:, None] * rng.uniform(0.2, 1.0, (len(frames), len(axes)))
        quaternions = np.concatenate(
            [np.cos(half)[..., None], np.sin(half)[..., None] * axes], axis=-1
        )
        turned = frames[:, None] @ np.swapaxes(turns(quaternions.reshape(-1, 4)), -1, -2).reshape(
            len(frames), len(axes), 3, 3
        )
        flat = turned.reshape(-1, 2, 3)
        costs = trough.costs(flat).reshape(len(frames), -1)
        best = costs.argmin(axis=1)
        rows = np.arange(len(frames))
        good = costs[rows, best] < found
        frames[good] = turned[rows, best][good]
        found[good] = costs[rows, best][good]
        steps = np.where(good, 1.3 * steps, 0.5 * steps)
        if steps.max() < LEAST_TURN:
            break
    level, up = trough.bottom(frames[int(found.argmin())])
    return np.asarray(np.cross(level, up))


def _flush(one: Carried, direction: Array) -> Array:
    """The attitudes along a direction with a side of the outline upright or level, (k, 2, 3)."""
    level, up = axes = across(direction)
    turn = Outline(counter_clockwise(_hull2(one.hull @ axes.T))).flush
    c, s = np.cos(turn)[:, None], np.sin(turn)[:, None]
    return np.stack([c * level - s * up, s * level + c * up], axis=1)


def through_doors(one: Carried, place: Place) -> tuple[Through, ...]:
    """The best way and roll through each door of a place."""
    return tuple(_through(one, place, door) for door in place.doors)


def _through(one: Carried, place: Place, door: Door) -> Through:
    width, height = _clear(door)
    side, head = (place.clearances.wanted(f)[0] or 0.0 for f in ("door_sides", "door_head"))
    wished = width - 2.0 * side, height - head
    way, roll, left = _best_through(one, *wished)
    answer = PASSES
    if left < 0.0:
        wished = width, height
        way, roll, left = _best_through(one, *wished)
        answer = TIGHT if left >= 0.0 else NOT_FOUND
    ranges = way.outline.passing(*wished)
    flat = float(way.outline.spare(*wished, 0.0))
    if flat >= left - EASY:
        roll = 0.0
    spare = float(way.outline.spare(width, height, roll))
    return Through(door.name, width, height, side, head, way, roll, spare, ranges, answer)


def _best_through(one: Carried, width: float, height: float) -> tuple[Along, float, float]:
    """The way, the roll and the spare that are best in an opening [rad, m].

    All directions are searched where the least opening and the aircraft's axes do not pass.
    """

    def lacking(wide: Array, high: Array) -> Array:
        return np.asarray(np.maximum(0.5 * (wide - width), high - height))

    def best(ways: Sequence[Along]) -> tuple[Along, float, float]:
        found = [(way, *way.outline.best_for(width, height)) for way in ways]
        return max(found, key=lambda f: round(f[2], 9))

    told = best(one.ways)
    return told if told[2] >= 0.0 else best((*one.ways, one.best_of(lacking)))


def spare_of(one: Carried, door: Through, place: Place) -> float:
    """What is left in a door [m] for a part, maybe built otherwise, carried and rolled as told."""
    width, height = next(_clear(d) for d in place.doors if d.name == door.opening)
    c, s = np.cos(door.roll), np.sin(door.roll)
    seen = door.way.seen(one.hull) @ np.array([[c, s], [-s, c]])
    wide, high = (float(v) + 2.0 * one.margin for v in np.ptp(seen, axis=0))
    return min(0.5 * (width - wide), height - high)


def _clear(door: Door) -> tuple[float, float]:
    """Clear width of a door, and clear height over its threshold [m]."""
    return float(door.clear_width), float(door.clear_height) - float(door.threshold)
