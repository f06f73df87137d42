"""Aircraft and room as a plan question: convex pieces against things, in each height range.

A parked aircraft keeps its height and attitude while it moves over a level floor, so meeting a
prism is meeting its outline with what the aircraft has in its height range: exact, no loss.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planform.airframe.footprint import plan_hull
from planform.airframe.outlines import Shape, band_outline
from planform.airframe.stance import Standing
from planform.core.halting import look
from planform.core.shape.convex import convex_pieces, counter_clockwise, drawn_out
from planform.design.roof import RoofLine
from planform.fit.moves import Pose
from planform.fit.room import Room

Array = NDArray[np.float64]

DRAWN_OUT = 1e-3
"""Outlines get fewer corners by growing, nowhere by more than this [m]; assumption."""

CEILING_STEP = 0.02
"""A sloped ceiling is drawn as steps that hang at most this much lower [m]; assumption."""

MOST_CORNERS = 24

NO_SIDE = 1e-9
"""A side of an outline shorter than this [m] is rounding and dropped."""


@dataclass(frozen=True)
class Keep:
    """Clearances to keep while moving [m], by kind of thing; a missing kind means 0.

    level : across the floor ; upright : over and under
    """

    level: dict[str, float]
    upright: dict[str, float]

    @classmethod
    def nothing(cls) -> Keep:
        """Just not touching."""
        return cls({}, {})

    @classmethod
    def same(cls, level: float, upright: float = 0.0) -> Keep:
        """The same to everything."""
        return cls(dict.fromkeys(KINDS, level), dict.fromkeys(KINDS, upright))

    @classmethod
    def wished(cls, room: Room) -> Keep:
        """What the place asks for: to a wall with a door in it, what it asks beside the door."""
        asked = ("wall", "obstacle", "aircraft", "door side", "door head", "ceiling")
        wish = {kind: room.wanted(kind)[0] or 0.0 for kind in asked}
        level = {kind: wish[kind] for kind in ("wall", "obstacle", "aircraft")}
        level["wall with a door"] = wish["door side"]
        upright = {kind: wish[kind] for kind in ("door head", "obstacle", "aircraft", "ceiling")}
        return cls(level, upright)

    @property
    def any(self) -> bool:
        """Whether it asks for anything."""
        return any(self.level.values()) or any(self.upright.values())


KINDS = (
    "wall",
    "wall with a door",
    "obstacle",
    "aircraft",
    "door head",
    "threshold",
    "ceiling",
    "kept off",
)


@dataclass(frozen=True, eq=False)
class Thing:
    """Something that is in the way over a height range: a convex outline and what to keep of it."""

    name: str
    kind: str
    outline: Array
    low: float
    high: float
    keep: float


@dataclass(frozen=True, eq=False)
class GroundPlan:
    """The plan question of one standing aircraft in one room.

    pivot : the point of the aircraft (floor axes) that its outline reaches least far from [m]
    ranges : the height ranges, each with the convex pieces of the aircraft in it, about the pivot
    things : what is in the way, each with the number of its height range
    hull : convex plan hull about the pivot ; floors : convex pieces of the floor
    """

    standing: Standing
    room: Room
    pivot: Array
    ranges: tuple[tuple[float, float, tuple[Array, ...]], ...]
    things: tuple[tuple[int, Thing], ...]
    hull: Array
    floors: tuple[Array, ...]
    beyond: float
    keep: Keep

    @property
    def drawn_out(self) -> float:
        """How far outlines stand outside the built facets at most [m]: fewer corners, curves."""
        return DRAWN_OUT + self.standing.bulge

    @property
    def stepped(self) -> float:
        """How much lower than it is the ceiling counts at most [m]; 0 where none is in steps."""
        return CEILING_STEP if any(thing.kind == "ceiling" for _, thing in self.things) else 0.0

    def pivot_at(self, pose: Pose) -> tuple[float, float, float]:
        """Place and heading of the pivot for a pose of the parking point."""
        x, y = pose.place(self.pivot[None])[0]
        return float(x), float(y), pose.heading

    def pose_at(self, x: float, y: float, heading: float) -> Pose:
        """The pose of the parking point for a place and heading of the pivot."""
        dx, dy = Pose(0.0, 0.0, heading).place(self.pivot[None])[0]
        return Pose(float(x - dx), float(y - dy), float(heading))


def ground_plan(standing: Standing, room: Room, keep: Keep) -> GroundPlan:
    """The plan question of an aircraft in a room with given clearances."""
    import shapely

    hull = counter_clockwise(plan_hull(standing.all_points()))
    circle = shapely.minimum_bounding_circle(shapely.multipoints(hull))
    pivot = np.array([circle.centroid.x, circle.centroid.y])
    things = _things(standing, room, keep)
    wanted: dict[tuple[float, float, bool], int] = {}
    numbered = []
    for thing in things:
        rise = keep.upright.get(thing.kind, 0.0) + standing.bulge
        key = (thing.low - rise, thing.high + rise, thing.kind == "threshold")
        numbered.append((wanted.setdefault(key, len(wanted)), thing))
    ranges = tuple(
        (low, high, tuple(p - pivot for p in _pieces(standing, low, high, off_wheels)))
        for low, high, off_wheels in wanted
    )
    kept = tuple((k, thing) for k, thing in numbered if ranges[k][2])
    thick = room.place.floor.thickness
    floors = tuple(convex_rings(shapely.polygons(room.floor)))
    return GroundPlan(standing, room, pivot, ranges, kept, hull - pivot, floors, thick, keep)


@lru_cache(maxsize=256)
def _pieces(standing: Standing, low: float, high: float, off_wheels: bool) -> tuple[Array, ...]:
    """Convex pieces of what the aircraft has in a height range, drawn out a little."""
    import shapely

    parts = [p for p in standing.parts if not (off_wheels and p.role == "wheel")]
    bands = []
    for part in parts:
        look()
        bands.append(band_outline(part, low, high))
    whole = shapely.union_all(bands)
    return tuple(convex_rings(_simpler(whole)))


def _simpler(region: Shape) -> Shape:
    """The region with fewer corners, grown by at most `DRAWN_OUT`."""
    import shapely

    polygons = [p for p in shapely.get_parts(region) if p.geom_type == "Polygon" and p.area > 0.0]
    grown = []
    for polygon in polygons:
        outside = shapely.polygons(drawn_out(_ring(polygon.exterior, True), DRAWN_OUT))
        rings = [_ring(hole, True) for hole in polygon.interiors]
        holes = [shapely.polygons(ring) for ring in rings if len(ring) > 2]
        left = []
        for hole in holes:
            ring = drawn_out(_ring(hole.exterior, False), DRAWN_OUT)
            left.append(shapely.make_valid(shapely.polygons(ring)).intersection(hole))
        grown.append(shapely.make_valid(outside).difference(shapely.union_all(left)))
    return shapely.union_all([*grown, *polygons])


def _ring(line: Shape, ccw: bool) -> Array:
    ring = np.asarray(line.coords)[:-1, :2]
    ring = ring[np.linalg.norm(ring - np.roll(ring, 1, axis=0), axis=1) > NO_SIDE]
    ring = counter_clockwise(ring)
    return ring if ccw else ring[::-1].copy()


def convex_rings(region: Shape) -> list[Array]:
    """Convex pieces of a region, counter-clockwise, none with too many corners."""
    import shapely

    out: list[Array] = []
    for polygon in shapely.get_parts(region):
        if polygon.geom_type != "Polygon" or polygon.area < 1e-9:
            continue
        if shapely.equals_exact(polygon, polygon.convex_hull, 1e-9) and not polygon.interiors:
            pieces = [_ring(polygon.exterior, True)]
        else:
            parts = shapely.get_parts(shapely.constrained_delaunay_triangles(polygon))
            corners = np.array([np.asarray(t.exterior.coords)[:3, :2] for t in parts])
            pieces = [p for p in convex_pieces(corners) if len(p) >= 3]
        out += itertools.chain.from_iterable(map(_cut, pieces))
    return out


def _cut(ring: Array) -> list[Array]:
    """A convex ring with too many corners in two or more."""
    if len(ring) <= MOST_CORNERS:
        return [ring]
    half = len(ring) // 2
    return [*_cut(ring[: half + 1]), *_cut(np.concatenate([ring[half:], ring[:1]]))]


def _things(standing: Standing, room: Room, keep: Keep) -> list[Thing]:
    import shapely

    out: list[Thing] = []
    for fixed in room.solid:
        kind = "wall with a door" if fixed.beside else fixed.kind
        level = keep.level.get(kind, 0.0) + standing.bulge
        for ring in convex_rings(shapely.polygons(fixed.outline)):
            out.append(Thing(fixed.name, kind, ring, fixed.low, fixed.high, level))
    return out + list(_ceiling_steps(standing, room, keep))


def _ceiling_steps(standing: Standing, room: Room, keep: Keep) -> Iterable[Thing]:
    """A sloped ceiling as hanging steps over the floor, from its lowest line to the aircraft's top.

    A level ceiling is no plan question: it is the same everywhere.
    """
    import shapely

    top = float(standing.all_points()[:, 2].max()) + keep.upright.get("ceiling", 0.0)
    floor = shapely.polygons(room.floor)
    for line in room.roof:
        if line.level or top + standing.bulge <= float(min(line.height)):
            continue
        axis = line.axis
        span = room.floor[:, 1 - axis].min() - 1.0, room.floor[:, 1 - axis].max() + 1.0
        for level, lower in hanging_steps(line, room.floor[:, axis], top):
            corners = np.array([[lower[0], span[0]], [lower[1], span[0]]])
            ring = np.concatenate([corners, [[lower[1], span[1]], [lower[0], span[1]]]])
            strip = shapely.polygons(ring if axis == 0 else ring[:, ::-1])
            for piece in convex_rings(strip.intersection(floor)):
                kept = keep.level.get("ceiling", 0.0) + standing.bulge
                yield Thing("ceiling", "ceiling", piece, level, room.top, kept)


def hanging_steps(
    line: RoofLine, floor: Array, top: float
) -> Iterator[tuple[float, tuple[float, float]]]:
    """Steps that a line of the ceiling hangs in: underside [m], and from where to where [m].

    floor : distances of the floor's corners along the line's axis [m] ; top : no step over this
    """
    ends = np.array([floor.min(), floor.max()])
    lines = np.union1d(np.asarray(line.at), ends)
    lines = lines[(lines >= ends[0]) & (lines <= ends[1])]
    heights = line.over(lines)
    for level, upper in _levels(line, top):
        before: tuple[float, float] | None = None
        for (a, b), (ha, hb) in zip(
            itertools.pairwise(lines), itertools.pairwise(heights), strict=True
        ):
            lower = _under(a, b, ha, hb, upper)
            if lower is None:
                continue
            if before is not None and line.arc and lower[0] - before[1] < 1e-9:
                before = before[0], lower[1]
                continue
            if before is not None:
                yield level, before
            before = lower
        if before is not None:
            yield level, before


def _levels(line: RoofLine, top: float) -> Iterator[tuple[float, float]]:
    """Under and upper side of each step of a line of the ceiling, from its lowest up [m].

    An arch gets higher steps where it is steep: a step stands out of it by no more than
    `CEILING_STEP`, across or upright.
    """
    low = float(min(line.height))
    if not line.arc:
        for level in np.arange(low, top + CEILING_STEP, CEILING_STEP):
            yield float(level), float(level) + CEILING_STEP
        return
    half = len(line.at) // 2 + 1
    at, height = np.array(line.at[:half]), np.array(line.height[:half])
    level = low
    while level < top + CEILING_STEP:
        across = float(np.interp(level, height, at)) + CEILING_STEP
        upper = max(level + CEILING_STEP, float(np.interp(across, at, height)))
        yield level, upper
        level = upper


def _under(a: float, b: float, ha: float, hb: float, level: float) -> tuple[float, float] | None:
    """Where between a and b the line from ha to hb is lower than a level."""
    if min(ha, hb) >= level or b - a < 1e-9:
        return None
    if max(ha, hb) <= level:
        return a, b
    cut = a + (b - a) * (level - ha) / (hb - ha)
    return (a, cut) if ha < hb else (cut, b)
