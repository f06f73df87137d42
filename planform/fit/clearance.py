"""Every clearance of an aircraft parked in a room: exact distances between the solids."""

from __future__ import annotations

import hashlib
import itertools
from collections import OrderedDict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.stance import Standing
from planform.core.frames import floor2place
from planform.core.quantity import Metres, PlacePoint
from planform.core.shape.clip import clip_slab
from planform.core.shape.distance import Nearest, mesh_distance
from planform.core.shape.distances import nearest_of_all
from planform.design.place import Spot
from planform.design.roof import RoofLine
from planform.fit.room import Fixed, Room

Array = NDArray[np.float64]


UP = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True, eq=False)
class Clearance:
    """The least gap between a part and a fixed thing [m]; below zero they overlap by that much.

    at_part, at_thing : the two nearest points in place axes, shape (3,)
    """

    part: str
    thing: str
    kind: str
    gap: Metres
    at_part: PlacePoint
    at_thing: PlacePoint

    @property
    def direction(self) -> str:
        """The way the gap runs from the part to the thing, in words."""
        run = self.at_thing - self.at_part
        if np.linalg.norm(run) < 1e-9:
            return "touching"
        words = ("to the right", "to the left"), ("away from the front", "to the front")
        level = float(np.hypot(run[0], run[1]))
        if abs(run[2]) >= level:
            return "up" if run[2] > 0.0 else "down"
        axis = int(np.argmax(np.abs(run[:2])))
        text = words[axis][0 if run[axis] > 0.0 else 1]
        if abs(run[2]) > 0.4 * level:
            text += " and up" if run[2] > 0.0 else " and down"
        return text


Solid = tuple[str, Array, NDArray[np.int64], float]
"""A placed part: name, points in place axes, faces, bulge."""


def placed(standing: Standing, spot: Spot) -> list[Solid]:
    """The parts in place axes: name, points, faces, bulge."""
    turn = floor2place(float(spot.heading))
    shift = np.array([float(spot.at[0]), float(spot.at[1]), 0.0])
    return [(p.name, p.points @ turn.T + shift, p.faces, p.bulge) for p in standing.parts]


def _box_gap(points: Array, thing: Fixed) -> float:
    low = np.array([*thing.outline.min(axis=0), thing.low])
    high = np.array([*thing.outline.max(axis=0), thing.high])
    apart = np.maximum(np.maximum(low - points.max(axis=0), points.min(axis=0) - high), 0.0)
    return float(np.linalg.norm(apart))


def _overlap(points: Array, faces: NDArray[np.int64], thing: Fixed) -> tuple[float, Array, Array]:
    """How far a part reaches into a thing [m], and where: the least of all ways out.

    Level: along the outward normals of the thing's convex outline, the part's deepest point.
    Upright: the part's rise over the thing's bottom, or its sink under the thing's top, of what it
    has over the rectangle round the outline. Out of a wall: level, into the room or an opening.
    """
    if thing.faces is not None:
        found = (_out_by(points[faces], thing, side) for side in thing.faces)
        back = [way for way in found if way is not None]
        if back:
            return min(back, key=lambda way: way[0])
    triangles = clip_slab(points[faces], 2, thing.low, thing.high)
    inside = triangles.reshape(-1, 3)
    if not len(inside):
        inside = points
    ways: list[tuple[float, Array, Array]] = []
    edge = np.roll(thing.outline, -1, axis=0) - thing.outline
    for corner, run in zip(thing.outline, edge, strict=True):
        normal = np.array([run[1], -run[0]]) / np.linalg.norm(run)
        depth = (corner - inside[:, :2]) @ normal
        k = int(np.argmax(depth))
        way = np.array([*(normal * depth[k]), 0.0])
        ways.append((float(depth[k]), inside[k], inside[k] + way))
    low, high = thing.outline.min(axis=0), thing.outline.max(axis=0)
    over = points[faces]
    for axis in (0, 1):
        over = clip_slab(over, axis, low[axis], high[axis])
    over = over.reshape(-1, 3)
    for value, sign in ((thing.low, 1.0), (thing.high, -1.0)):
        if len(over) and value > 0.0:
            depth = sign * (over[:, 2] - value)
            k = int(np.argmax(depth))
            if depth[k] > 0.0:
                ways.append((float(depth[k]), over[k], over[k] - np.array([0, 0, sign * depth[k]])))
    return min(ways, key=lambda way: way[0])


def _out_by(triangles: Array, thing: Fixed, side: int) -> tuple[float, Array, Array] | None:
    """How far a part reaches in behind one side of a thing [m], and where; of what is before it.

    Moved square to that side, only what lies between its two ends comes by it.
    """
    corner, end = thing.outline[side], np.roll(thing.outline, -1, axis=0)[side]
    run = (end - corner) / np.linalg.norm(end - corner)
    turn = np.eye(3)
    turn[:2, :2] = np.stack([run, [run[1], -run[0]]])
    start = np.array([*corner, 0.0])
    own = clip_slab((triangles - start) @ turn.T, 2, thing.low, thing.high)
    own = clip_slab(own, 0, 0.0, float(np.linalg.norm(end - corner))).reshape(-1, 3)
    if not len(own):
        return None
    deepest = own[int(np.argmin(own[:, 1]))]
    if deepest[1] >= 0.0:
        return None
    at = deepest @ turn + start
    return float(-deepest[1]), at, at - deepest[1] * turn[1]


def gap_to(solid: Solid, thing: Fixed, limit: float) -> Clearance | None:
    """The least gap of one placed part to one thing; None where it is over a limit [m]."""
    if _box_gap(solid[1], thing) > limit:
        return None
    near = mesh_distance(solid[1], solid[2], *thing.mesh, limit=limit)
    return None if near.distance > limit else _gap(solid, thing, near)


def _gap(solid: Solid, thing: Fixed, near: Nearest) -> Clearance:
    """The gap of a part to a thing, once it is known where their facets are nearest."""
    name, points, faces, bulge = solid
    if near.distance <= 0.0:
        depth, a, b = _overlap(points, faces, thing)
        return Clearance(name, thing.name, thing.kind, -depth - bulge, a, b)
    gap = near.distance - bulge
    return Clearance(name, thing.name, thing.kind, gap, near.point_a, near.point_b)


def clearances(standing: Standing, room: Room, spot: Spot, limit: float) -> tuple[Clearance, ...]:
    """Every clearance under `limit` [m], least first, and the least one to each kind of thing.

    Distances are exact between the facets; what the true shapes bulge beyond them is taken off.
    """
    return Gaps().near(standing, room, spot, limit)


KEPT, THINGS = 500, 400
"""Parts whose clearances are kept, the last used ones, and to how many things; assumption."""


class Gaps:
    """Clearances; of a part that stands where it stood, to a thing as it was, they are kept."""

    def __init__(self) -> None:
        self._kept: OrderedDict[bytes, dict[bytes, Clearance | None]] = OrderedDict()

    def near(
        self, standing: Standing, room: Room, spot: Spot, limit: float
    ) -> tuple[Clearance, ...]:
        """As `clearances`."""
        solids = {_told_apart(solid, limit): solid for solid in placed(standing, spot)}
        things = [(_thing_told_apart(thing), thing) for thing in room.fixed]
        new = {part: solid for part, solid in solids.items() if part not in self._kept}
        old = {part: solid for part, solid in solids.items() if part in self._kept}
        self._measure(new, things, limit)
        self._measure(
            old, [t for t in things if any(t[0] not in self._kept[p] for p in old)], limit
        )
        keys = [thing for thing, _ in things]
        roof = repr(room.roof).encode()
        found = []
        for part, solid in solids.items():
            kept = self._kept.setdefault(part, {})
            self._kept.move_to_end(part)
            if len(kept) > THINGS:
                kept = self._kept[part] = {thing: kept[thing] for thing in keys}
            if roof not in kept:
                overhead = [to_ceiling(*solid, line) for line in room.roof]
                kept[roof] = min(overhead, key=_gap_of, default=None)
            found += [near for thing in keys if (near := kept[thing]) is not None]
            up = kept[roof]
            found += [up] if up is not None and up.gap <= limit else []
        while len(self._kept) > KEPT:
            self._kept.popitem(last=False)
        return tuple(sorted(found, key=_gap_of))

    def _measure(
        self, solids: Mapping[bytes, Solid], things: Sequence[tuple[bytes, Fixed]], limit: float
    ) -> None:
        """Keep the clearance of each part to each thing; None where it is over the limit."""
        if not solids or not things:
            return
        parts = list(solids)
        for part in parts:
            self._kept.setdefault(part, {}).update(dict.fromkeys(key for key, _ in things))
        meshes = [(solids[part][1], solids[part][2]) for part in parts]
        for i, j, near in nearest_of_all(meshes, [thing.mesh for _, thing in things], limit):
            key, thing = things[j]
            self._kept[parts[i]][key] = _gap(solids[parts[i]], thing, near)


def _gap_of(one: Clearance) -> float:
    return one.gap


def _thing_told_apart(thing: Fixed) -> bytes:
    """What tells a thing from others: all of it."""
    told = (thing.name, thing.kind, thing.low, thing.high, thing.given, thing.faces)
    digest = hashlib.blake2b(repr(told).encode())
    digest.update(thing.outline.tobytes())
    return digest.digest()


def _told_apart(solid: Solid, limit: float) -> bytes:
    """What tells a placed part from others: its name, its facets where they are, its bulge."""
    name, points, faces, bulge = solid
    digest = hashlib.blake2b(repr((name, bulge, limit, points.shape)).encode())
    for array in (points, faces):
        digest.update(array.tobytes())
    return digest.digest()


def to_ceiling(
    name: str, points: Array, faces: NDArray[np.int64], bulge: float, line: RoofLine
) -> Clearance:
    """The least distance to a line of the ceiling, square to it where it slopes.

    Exact under one slope, as facets are cut where it breaks downward into a valley (where it breaks
    into a ridge, no point between two corners is nearer to it than both); where the part is near a
    break, the steeper slope counts for all of it, from the safe side: no ceiling of that slope is
    nearer.
    """
    if line.arc:
        return _to_arch(name, points[faces], bulge, line)
    axis, at, heights = line.axis, line.at, line.height
    corners = points
    low, high = points[:, axis].min(), points[:, axis].max()
    if valleys := [x for x in _valleys(at, heights) if low < x < high]:
        bounds = [-np.inf, *valleys, np.inf]
        triangles = points[faces]
        pieces = [
            clip_slab(triangles, axis, a, b).reshape(-1, 3) for a, b in itertools.pairwise(bounds)
        ]
        corners = np.concatenate(pieces)
    height = line.over(corners[:, axis])
    k = int(np.argmin(height - corners[:, 2]))
    upright = float(height[k] - corners[k, 2])
    slope = _steepest(at, heights, low - abs(upright), high + abs(upright))
    square = np.hypot(1.0, slope)
    top = corners[k].copy()
    top[2] += upright / square**2
    top[axis] -= slope * upright / square**2
    return Clearance(name, "ceiling", "ceiling", upright / square - bulge, corners[k], top)


def _to_arch(name: str, triangles: Array, bulge: float, line: RoofLine) -> Clearance:
    """The least distance to the flats of an arch: exact, as no flat bends inward.

    What is between the walls is under the planes of all flats, and nearest to one of them at one
    of its corners. What is wholly beyond has the eaves over it.
    """
    at, heights = np.array(line.at), np.array(line.height)
    points = clip_slab(triangles, line.axis, at[0], at[-1]).reshape(-1, 3)
    if not len(points):
        top = triangles.reshape(-1, 3)[int(np.argmax(triangles[..., 2]))]
        gap = float(heights[0] - top[2])
        return Clearance(name, "ceiling", "ceiling", gap - bulge, top, top + gap * UP)
    slope = np.diff(heights) / np.diff(at)
    over = heights[:-1] + slope * (points[:, line.axis, None] - at[:-1]) - points[:, 2, None]
    square = over / np.hypot(1.0, slope)
    corner, flat = np.unravel_index(int(np.argmin(square)), square.shape)
    near, part = points[corner].copy(), points[corner]
    near[2] += over[corner, flat] / (1.0 + slope[flat] ** 2)
    near[line.axis] -= slope[flat] * over[corner, flat] / (1.0 + slope[flat] ** 2)
    return Clearance(name, "ceiling", "ceiling", float(square[corner, flat]) - bulge, part, near)


def _valleys(at: Sequence[float], heights: Sequence[float]) -> list[float]:
    """Where a ceiling that runs from point to point, level beyond, rises more than before it."""
    slopes = np.diff(heights) / np.diff(at) if len(at) > 1 else np.zeros(0)
    rises = np.diff([0.0, *slopes, 0.0]) > 0.0
    return [float(x) for x, rise in zip(at, rises, strict=True) if rise]


def _steepest(at: Sequence[float], heights: Sequence[float], low: float, high: float) -> float:
    """The steepest rise per metre of a ceiling between two distances along its slope."""
    found = [
        (hb - ha) / (b - a)
        for (a, ha), (b, hb) in itertools.pairwise(zip(at, heights, strict=True))
        if a < high and b > low
    ]
    return max(found, key=abs, default=0.0)


def outside_floor(standing: Standing, room: Room, spot: Spot) -> bool:
    """Whether the aircraft's middle stands off the floor of the place."""
    import shapely

    points = np.concatenate([p for _, p, _, _ in placed(standing, spot)])
    middle = 0.5 * (points.min(axis=0) + points.max(axis=0))
    return not shapely.polygons(room.floor).contains(shapely.points(middle[:2]))
