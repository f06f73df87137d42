"""Gaps of a standing aircraft to a door and its ground, at one place of a push or near it.

Distances along the way are outward from the inner wall line, across it to the right of the door's
middle looking out, heights over the room's floor.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part
from planform.airframe.stance import Standing
from planform.core.motion.uneven_ground import GroundPose, Top
from planform.design.doors import Door
from planform.design.roof import RoofLine
from planform.design.slope import least_clear_height
from planform.fit.clearance import gap_to
from planform.fit.ground import FAR, Ground, Strip
from planform.fit.met import LOOK, drawn_back, met_over_ground
from planform.fit.ramped import ground_in
from planform.fit.room import Fixed, Room, doorway

Array = NDArray[np.float64]
Triple = Sequence[float]
"""Along, across and up."""

JAMBS = {"left jamb": "the jamb past the door", "right jamb": "the jamb before the door"}
"""What the jambs are called: as the pieces of wall, from the corner the door is measured from."""

KINDS = ("left jamb", "right jamb", "head", "ceiling", "ground", "legs")
"""What the aircraft may meet on the way. 'ground': all but the carrying wheels and their legs."""


@dataclass(frozen=True, eq=False)
class PushedPart:
    """A part by its points from the parking point in aircraft axes, and its box's corners."""

    part: Part
    points: Array
    box: Array


LookedAt = tuple[tuple[PushedPart, ...], Array]
"""Parts, and the corners of their boxes, shape (n, 8, 3)."""

Found = tuple[float, Array, Array, str]
"""A gap, the points of the part and of the thing, the thing's name."""


class PartBox(NamedTuple):
    """What of a part is looked at.

    play : how far its points may be off along, across and up [m]
    under : only a gap below this is wanted [m]
    low, high : of its box, its play included
    """

    play: Triple
    under: float
    low: Triple
    high: Triple


def _slab_of(triangles: Array, axis: int, low: float, high: float) -> Array:
    """As `planform.core.shape.clip.clip_slab`, compiled."""
    from planform.core.shape.slab import slab

    return np.asarray(slab(np.ascontiguousarray(triangles), axis, float(low), float(high)))


class DoorGaps:
    """Gaps of one standing aircraft to a door, its ceiling and its ground, at a pose on the way."""

    def __init__(
        self, standing: Standing, room: Room, door: Door, ahead: int = 1, across: float = 0.0
    ) -> None:
        self.standing, self.room, self.door = standing, room, door
        self.ahead, self.across = ahead, across
        self.thickness = room.place.floor.thickness
        self.ground: Ground = ground_in(room, door)
        self.bulge = standing.bulge
        self.half = 0.5 * float(door.clear_width)
        self.middle, self.outward = doorway(room.place, door)
        self.rightward = np.array([self.outward[1], -self.outward[0]])

    @cached_property
    def met(self) -> dict[str, tuple[Fixed, ...]]:
        """What it meets besides the door and the ground, by kind; only kinds there are."""
        return met_over_ground(self.room, self.door, self.ground)

    @cached_property
    def pieces(self) -> tuple[PushedPart, ...]:
        """The parts, those that reach highest first."""
        standing = self.standing
        out = []
        for part in standing.parts:
            points = (part.points - standing.shift) @ standing.turn - standing.parked
            low, high = points.min(axis=0), points.max(axis=0)
            box = np.array(list(itertools.product(*zip(low, high, strict=True))))
            out.append(PushedPart(part, points, box))
        return tuple(sorted(out, key=lambda piece: -float(piece.points[:, 2].max())))

    def seen(self, points: Array, pose: GroundPose) -> Array:
        """Points (n, 3) from the parking point to along, across, height of the way."""
        moved = points @ pose.turn.T
        out = np.empty_like(moved)
        out[:, 0] = pose.along - self.ahead * moved[:, 0]
        out[:, 1] = self.across + self.ahead * moved[:, 1]
        out[:, 2] = pose.height + moved[:, 2]
        return out

    def to_place(self, points: Array) -> Array:
        """Points (..., 3) of the way in place axes."""
        plan = self.middle + points[..., :1] * self.outward + points[..., 1:2] * self.rightward
        return np.concatenate([plan, points[..., 2:]], axis=-1)

    def gaps(
        self, kind: str, looked_at: LookedAt, pose: GroundPose, play: Array, under: float
    ) -> Iterator[tuple[Found, PushedPart]]:
        """Ever smaller gaps of a kind at a pose, each with its part, from a value down.

        play : how far points may be off along, across and up [m], shape (n, 3) for the parts
            looked at; zeros for the gaps as they are
        """
        pieces, boxes = looked_at
        seen = self.seen(boxes.reshape(-1, 3), pose).reshape(boxes.shape)
        lows, highs = (seen.min(axis=1) - play).tolist(), (seen.max(axis=1) + play).tolist()
        for piece, off, low, high in zip(pieces, play.tolist(), lows, highs, strict=True):
            found = self._gap(kind, piece, pose, PartBox(off, under + self.bulge, low, high))
            if found is not None and found[0] < under:
                under = found[0]
                yield found, piece

    def _gap(self, kind: str, piece: PushedPart, pose: GroundPose, near: PartBox) -> Found | None:
        """The least gap of a kind; None also where the faceted part's is not under a value."""
        if kind in ("ground", "legs"):
            return self._ground_gap(piece, pose, near)
        if kind in self.met:
            return self._thing_gap(kind, piece, pose, near)
        play, under, low, high = near
        if high[0] < 0.0 and kind != "ceiling":
            return None
        if low[0] > (0.0 if kind == "ceiling" else self.thickness):
            return None
        if kind == "head":
            limit = least_clear_height(self.room.place, self.door)
            if limit - high[2] >= under:
                return None
            inside = self._slab(piece, pose, play, 2, limit - play[2] - under)
            return self._upper(inside, 2, 1.0, limit, play[2], "the door head")
        if kind in ("left jamb", "right jamb"):
            side = 1.0 if kind == "right jamb" else -1.0
            if self.half - max(side * low[1], side * high[1]) >= under:
                return None
            inside = self._slab(piece, pose, play)
            return self._upper(inside, 1, side, self.half, play[1], JAMBS[kind])
        found = [self._ceiling_gap(piece, pose, near, line) for line in self.room.roof]
        return min((one for one in found if one is not None), key=lambda one: one[0], default=None)

    def _slab(
        self,
        piece: PushedPart,
        pose: GroundPose,
        play: Triple,
        axis: int = 2,
        least: float = -np.inf,
    ) -> Array:
        """The facets' corners inside the wall's thickness; of facets that reach `least` on axis."""
        triangles = self.seen(piece.points, pose)[piece.part.faces]
        along = triangles[:, :, 0]
        near = (along.max(axis=1) >= -play[0]) & (along.min(axis=1) <= self.thickness + play[0])
        near &= triangles[:, :, axis].max(axis=1) >= least
        return _slab_of(triangles[near], 0, -play[0], self.thickness + play[0]).reshape(-1, 3)

    def _upper(
        self, inside: Array, axis: int, side: float, limit: float, play: float, thing: str
    ) -> Found | None:
        if not len(inside):
            return None
        k = int(np.argmax(side * inside[:, axis]))
        other = inside[k].copy()
        other[axis] = side * limit
        gap = limit - float(side * inside[k, axis]) - self.bulge - play
        return gap, inside[k], other, thing

    def _ceiling_gap(
        self, piece: PushedPart, pose: GroundPose, near: PartBox, line: RoofLine
    ) -> Found | None:
        play, under, low, high = near
        axis, at, height = line.axis, line.at, line.height
        corners = np.array(list(itertools.product((low[0], min(high[0], 0.0)), (low[1], high[1]))))
        plan = self.to_place(np.column_stack([corners, np.zeros(4)]))[:, axis]
        bends = [h for a, h in zip(at, height, strict=True) if plan.min() < a < plan.max()]
        lowest = min([*np.interp(plan, at, height), *bends])
        if lowest - high[2] >= under:
            return None
        triangles = self.seen(piece.points, pose)[piece.part.faces]
        triangles = triangles[triangles[:, :, 2].max(axis=1) >= lowest - under - play[2]]
        inside = _slab_of(triangles, 0, -np.inf, play[0])
        placed = self.to_place(inside)
        bounds = [-np.inf, *at, np.inf] if len(at) > 1 else [-np.inf, np.inf]
        cut = [_slab_of(placed, axis, a, b).reshape(-1, 3) for a, b in itertools.pairwise(bounds)]
        corners = np.concatenate(cut)
        if not len(corners):
            return None
        room = line.over(corners[:, axis]) - corners[:, 2]
        k = int(np.argmin(room))
        steep = max(
            (abs((h1 - h0) / (a1 - a0)) for (a0, h0), (a1, h1) in
             itertools.pairwise(zip(at, height, strict=True))),
            default=0.0,
        )  # fmt: skip
        off = play[2] + steep * float(np.hypot(play[0], play[1]))
        plan_point = corners[k, :2] - self.middle
        point = np.array([plan_point @ self.outward, plan_point @ self.rightward, corners[k, 2]])
        other = point + np.array([0.0, 0.0, room[k]])
        return float(room[k]) - self.bulge - off, point, other, "the ceiling"

    def to_way(self, point: Array) -> Array:
        """A point (3,) in place axes as along, across and height of the way."""
        plan = point[:2] - self.middle
        return np.array([plan @ self.outward, plan @ self.rightward, point[2]])

    def _thing_gap(
        self, kind: str, piece: PushedPart, pose: GroundPose, near: PartBox
    ) -> Found | None:
        """The least distance to a thing of a kind, drawn out along the way by the play there."""
        play, under, low, high = near
        under, best = min(under, LOOK + self.bulge), None
        back = play[0] * self.outward
        points: Array | None = None
        for thing in self.met[kind]:
            ring = thing.outline - self.middle
            plan = np.column_stack([ring @ self.outward, ring @ self.rightward])
            first = np.array([*plan.min(axis=0), thing.low])
            last = np.array([*plan.max(axis=0), thing.high])
            apart = np.maximum(np.maximum(first - high, low - last), 0.0)
            if np.linalg.norm(apart) >= under:
                continue
            if points is None:
                points = self.to_place(self.seen(piece.points, pose))
            drawn = drawn_back(thing.outline + back, 2.0 * back) if play[0] else thing.outline
            solid = piece.part.name, points, piece.part.faces, 0.0
            found = gap_to(solid, replace(thing, outline=drawn), under)
            if found is None or found.gap >= under:
                continue
            under = found.gap
            ends = self.to_way(found.at_part), self.to_way(found.at_thing)
            gap = found.gap - self.bulge - float(np.hypot(play[1], play[2]))
            best = gap, *ends, thing.name
        return best

    def _ground_gap(self, piece: PushedPart, pose: GroundPose, near: PartBox) -> Found | None:
        play, under, low, high = near
        best: Found | None = None
        triangles: Array | None = None
        for strip in self.ground.strips:
            if high[1] < strip.left or low[1] > strip.right:
                continue
            for top in strip.tops:
                least = under if best is None else min(under, best[0] + self.bulge)
                if high[0] < top.start or low[0] > top.end or low[2] - top.highest >= least:
                    continue
                if triangles is None:
                    triangles = self.seen(piece.points, pose)[piece.part.faces]
                found = self._over(triangles, strip, top, play, least)
                if found is not None and (best is None or found[0] < best[0]):
                    best = found
        return best

    def _over(
        self, triangles: Array, strip: Strip, top: Top, play: Triple, under: float
    ) -> Found | None:
        near = triangles[:, :, 2].min(axis=1) <= top.highest + under + play[2]
        inside = _slab_of(triangles[near], 0, top.start - play[0], top.end + play[0])
        if strip.right < FAR:
            inside = _slab_of(inside, 1, strip.left - play[1], strip.right + play[1])
        corners = inside.reshape(-1, 3)
        if not len(corners):
            return None
        along = np.clip(corners[:, 0], top.start, top.end)
        height = top.start_height + top.slope * (along - top.start)
        raised = np.minimum(height + abs(top.slope) * play[0], top.highest)
        room = corners[:, 2] - raised
        k = int(np.argmin(room))
        other = np.array([corners[k, 0], corners[k, 1], height[k]])
        return float(room[k]) - self.bulge - play[2], corners[k], other, strip.name
