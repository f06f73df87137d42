"""The whole push out of a door over uneven ground, on the aircraft's own three wheels.

Distances along the way are outward from the inner wall line, across it to the right of the door's
middle looking out, heights over the room's floor. At every place the pose is solved from the
wheels; between places it is bounded, so that no lip is stepped over.
"""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Part
from planform.airframe.stance import Standing
from planform.core.motion.contacts import CannotStand
from planform.core.motion.uneven_ground import Play, Pose, Top, Wheel, blocking_step, play, settle
from planform.core.quantity import DoorPoint, Metres
from planform.design.place import Door, Place, Spot
from planform.design.roof import breaks
from planform.design.slope import least_clear_height
from planform.design.standing import contacts_of
from planform.design.units import show
from planform.fit.ground import FAR, Ground, Strip, ground_of
from planform.fit.room import Room

Array = NDArray[np.float64]
Triple = Sequence[float]
"""Along, across and up."""

NEAR_ENOUGH = 1e-3
"""How closely the least clearance along the way is bracketed [m]."""
FIRST = 0.4
"""Length of the pieces the way is first cut into [m]; assumption."""
SHORTEST = 1e-5
"""Pieces of the way are not cut shorter than twice this [m]."""
MOST = 4000
"""Pieces of the way looked at for one kind of clearance before the bracket is left as it is."""
SPARE = 0.3
"""What the push begins before and goes on after the aircraft is clear of the wall [m]."""

ALIGNED = float(np.cos(np.radians(2.0)))
"""Parked within 2 deg of the way out, it is pushed out as it stands; assumption."""

JAMBS = {"left jamb": "the jamb past the door", "right jamb": "the jamb before the door"}
"""What the jambs are called: as the pieces of wall, from the corner the door is measured from."""

KINDS = ("left jamb", "right jamb", "head", "ceiling", "ground", "legs")
"""What the aircraft may meet on the way. 'ground': all but the carrying wheels and their legs."""


@dataclass(frozen=True, eq=False)
class Tightest:
    """The least clearance of one kind along the way.

    gap : [m], proved: nowhere along the way is there less; below zero it strikes
    bracket : how much more there may truly be [m]
    pose : the instant it was found at; `pose.along` is where the parking point then is
    at_part, at_thing : along, across and height of the two points [m]
    """

    kind: str
    gap: Metres
    bracket: Metres
    part: str
    thing: str
    pose: Pose
    at_part: DoorPoint
    at_thing: DoorPoint


@dataclass(frozen=True, eq=False)
class Push:
    """One push through a door from wholly inside to wholly outside.

    ahead : 1 nose first, -1 tail first
    across : of the parking point, to the right of the door's middle looking out [m]
    start, end : places of the parking point [m]
    problem : why it could not be followed; then there is nothing in `tightest`
    remarks : what the reader should know about how it was followed
    """

    door: str
    ahead: int
    across: Metres
    start: Metres
    end: Metres
    tightest: tuple[Tightest, ...] = ()
    problem: str = ""
    remarks: tuple[str, ...] = ()

    @property
    def way(self) -> str:
        """Which end leads."""
        return "nose first" if self.ahead > 0 else "tail first"

    def least(self, kind: str) -> Tightest | None:
        """The least clearance of a kind; None where nothing of the kind is near."""
        return next((t for t in self.tightest if t.kind == kind), None)


@dataclass(frozen=True, eq=False)
class _Piece:
    """A part by its points from the parking point in aircraft axes, and its box's corners."""

    part: Part
    points: Array
    box: Array


LookedAt = tuple[tuple[_Piece, ...], Array]
"""Parts, and the corners of their boxes, shape (n, 8, 3)."""

Found = tuple[float, Array, Array, str]
"""A gap, the points of the part and of the thing, the thing's name."""


def _slab_of(triangles: Array, axis: int, low: float, high: float) -> Array:
    """As `planform.core.shape.clip.clip_slab`, compiled."""
    from planform.core.shape.slab import slab

    return np.asarray(slab(np.ascontiguousarray(triangles), axis, float(low), float(high)))


class PushPath:
    """One way out of a door for one standing aircraft: poses and gaps at any place along it."""

    def __init__(
        self, standing: Standing, room: Room, door: Door, ahead: int = 1, across: float = 0.0
    ) -> None:
        self.standing, self.room, self.door = standing, room, door
        self.ahead, self.across = ahead, across
        self.thickness = room.place.floor.thickness
        self.ground: Ground = ground_of(door, self.thickness)
        self.bulge = standing.bulge
        self.half = 0.5 * float(door.clear_width)
        self._poses: dict[float, Pose] = {}
        self._plays: dict[tuple[float, float], Play | None] = {}
        self.middle, self.outward = doorway(room.place, door)
        self.rightward = np.array([self.outward[1], -self.outward[0]])

    # --- what rolls ---

    @cached_property
    def wheels(self) -> tuple[Wheel, ...]:
        """The wheels that carry; CannotStand where it stands on anything else or is blocked."""
        design = self.standing.airframe.design
        contacts = contacts_of(design, design.stances[self.standing.stance_name])
        parked, units = self.standing.parked, self.room.place.units
        out = []
        for contact in contacts:
            if contact.radius <= 0.0 or contact.support != 0.0:
                raise CannotStand(
                    f"it stands on {contact.name}, which is no wheel on the floor; a push over "
                    "uneven ground is followed on its own wheels only"
                )
            x, y, z = contact.point
            left, right = self._track(y - parked[1], contact.width)
            tops = self.ground.under(left, right)
            step = blocking_step(tops, contact.radius)
            if step is not None:
                raise CannotStand(
                    f"{contact.name} cannot roll over a step that reaches its axle "
                    f"({show(contact.radius, 'length', units)}), {self._where(step[0])}; ramp it"
                )
            arm = (x - parked[0], y - parked[1], z - parked[2])
            out.append(Wheel(contact.name, arm, contact.radius, contact.width, tops))
        return tuple(out)

    def _where(self, along: float) -> str:
        side = "outside" if along >= 0.0 else "inside"
        told = show(abs(along), "length", self.room.place.units)
        return f"{told} {side} the inner wall line"

    def _track(self, butt: float, width: float) -> tuple[float, float]:
        middle = self.across + self.ahead * butt
        return middle - 0.5 * width, middle + 0.5 * width

    def remarks(self) -> tuple[str, ...]:
        """Tyres that run only partly on a plank."""
        out = []
        for wheel in self.wheels:
            left, right = self._track(wheel.arm[1], wheel.width)
            for strip in self.ground.strips:
                on = min(right, strip.right) - max(left, strip.left)
                if 0.0 < on < wheel.width - 1e-9:
                    out.append(
                        f"{self.door.name}: {wheel.name} has only {100.0 * on / wheel.width:.0f} % "
                        f"of its tyre on {strip.name}; it is taken as carried by it"
                    )
        return tuple(out)

    @cached_property
    def pieces(self) -> tuple[_Piece, ...]:
        """The parts, those that reach highest first."""
        standing = self.standing
        out = []
        for part in standing.parts:
            points = (part.points - standing.shift) @ standing.turn - standing.parked
            low, high = points.min(axis=0), points.max(axis=0)
            box = np.array(list(itertools.product(*zip(low, high, strict=True))))
            out.append(_Piece(part, points, box))
        return tuple(sorted(out, key=lambda piece: -float(piece.points[:, 2].max())))

    def pose(self, along: float) -> Pose:
        """The pose with the parking point at a place along the way."""
        if along not in self._poses:
            self._poses[along] = settle(self.wheels, along, self.ahead)
        return self._poses[along]

    def _play(self, pose: Pose, half: float) -> Play | None:
        key = pose.along, half
        if key not in self._plays:
            self._plays[key] = play(self.wheels, pose, self.ahead, half)
        return self._plays[key]

    def seen(self, points: Array, pose: Pose) -> Array:
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

    @cached_property
    def reach(self) -> tuple[float, float]:
        """First and last place of the parking point: inside, as far as the room lets; outside."""
        ends = self.ahead * np.concatenate([p.box for p in self.pieces])[:, 0]
        depth = float(((self.middle - self.room.floor) @ self.outward).max())
        start = max(float(ends.min()), -depth + float(ends.max()))
        return start - SPARE, float(ends.max()) + self.thickness + SPARE

    # --- gaps at one place, or the least they can be near it ---

    def _gaps(
        self, kind: str, looked_at: LookedAt, pose: Pose, play: Array, under: float
    ) -> Iterator[tuple[Found, _Piece]]:
        """Ever smaller gaps of a kind at a pose, each with its part, from a value down.

        play : how far points may be off along, across and up [m], shape (n, 3) for the parts
            looked at; zeros for the gaps as they are
        """
        pieces, boxes = looked_at
        seen = self.seen(boxes.reshape(-1, 3), pose).reshape(boxes.shape)
        lows, highs = (seen.min(axis=1) - play).tolist(), (seen.max(axis=1) + play).tolist()
        for piece, off, low, high in zip(pieces, play.tolist(), lows, highs, strict=True):
            found = self._gap(kind, piece, pose, off, under + self.bulge, low, high)
            if found is not None and found[0] < under:
                under = found[0]
                yield found, piece

    def _gap(
        self,
        kind: str,
        piece: _Piece,
        pose: Pose,
        play: Triple,
        under: float,
        low: Triple,
        high: Triple,
    ) -> Found | None:
        """The least gap of a kind; None also where the faceted part's is not under a value.

        low, high : of the part's box, its play included
        """
        if kind in ("ground", "legs"):
            return self._ground_gap(piece, pose, play, under, low, high)
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
        return self._ceiling_gap(piece, pose, play, under, low, high)

    def _slab(
        self, piece: _Piece, pose: Pose, play: Triple, axis: int = 2, least: float = -np.inf
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
        self, piece: _Piece, pose: Pose, play: Triple, under: float, low: Triple, high: Triple
    ) -> Found | None:
        if self.room.place.ceiling is None:
            return None
        axis, at, height = breaks(self.room.place)
        corners = np.array(list(itertools.product((low[0], min(high[0], 0.0)), (low[1], high[1]))))
        plan = self.to_place(np.column_stack([corners, np.zeros(4)]))[:, axis]
        near = [h for a, h in zip(at, height, strict=True) if plan.min() < a < plan.max()]
        lowest = min([*np.interp(plan, at, height), *near])
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
        room = self.room.ceiling_over(corners) - corners[:, 2]
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

    def _ground_gap(
        self, piece: _Piece, pose: Pose, play: Triple, under: float, low: Triple, high: Triple
    ) -> Found | None:
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

    @cached_property
    def looked_at(self) -> dict[str, LookedAt]:
        """The parts that each kind of clearance looks at, likely ones first, and their boxes."""
        gear = {wheel.name for wheel in self.wheels}
        hung = [p for p in reversed(self.pieces) if p.part.name not in gear]
        out: dict[str, list[_Piece]] = {kind: list(self.pieces) for kind in KINDS}
        out["ground"] = [p for p in hung if p.part.role != "leg"]
        out["legs"] = [p for p in hung if p.part.role == "leg"]
        for side, kind in ((-1.0, "left jamb"), (1.0, "right jamb")):
            out[kind].sort(key=lambda p: -float((side * self.ahead * p.box[:, 1]).max()))
        return {
            kind: (tuple(pieces), np.array([p.box for p in pieces]).reshape(-1, 8, 3))
            for kind, pieces in out.items()
        }

    def gap(
        self,
        kind: str,
        along: float,
        part: str | None = None,
        beside: float = 0.0,
        under: float = np.inf,
    ) -> float:
        """The gap of a kind with the parking point at one place [m]; infinite where none.

        part : the part alone
        beside : points this far beside the thing along the way count as well [m]
        under : only a gap below this is wanted [m]; infinite where there is none
        """
        pieces, boxes = self.looked_at[kind]
        chosen = [k for k, p in enumerate(pieces) if part in (None, p.part.name)]
        looked_at = tuple(pieces[k] for k in chosen), boxes[chosen]
        play = np.tile([beside, 0.0, 0.0], (len(chosen), 1))
        found = [f[0] for f, _ in self._gaps(kind, looked_at, self.pose(along), play, under)]
        return float(found[-1]) if found else np.inf

    # --- the least along the way ---

    def least(
        self,
        kind: str,
        start: float,
        end: float,
        near_enough: float = NEAR_ENOUGH,
    ) -> Tightest | None:
        """The least gap of a kind along a stretch of the way; None where nothing is met.

        The stretch is cut where a bound allows less than the least found, until the two agree.
        """
        looked_at = self.looked_at[kind]
        still = np.zeros((len(looked_at[0]), 3))
        best: tuple[Found, _Piece] | None = None
        where: Pose | None = None
        waiting: list[tuple[float, float, float]] = []
        proved = np.inf

        def look(a: float, b: float, floor: float) -> None:
            nonlocal best, where
            pose = self.pose(0.5 * (a + b))
            under = np.inf if best is None else best[0][0]
            for found in self._gaps(kind, looked_at, pose, still, under):
                best, where, under = found, pose, found[0][0]
            near = self._play(pose, 0.5 * (b - a))
            least = -np.inf if near is None else under
            if near is not None:
                for bound, _ in self._gaps(kind, looked_at, pose, near.of(looked_at[1]), under):
                    least = bound[0]
            heapq.heappush(waiting, (max(floor, least), a, b))

        count = max(1, int(np.ceil((end - start) / FIRST)))
        edges = np.linspace(start, end, count + 1)
        for a, b in itertools.pairwise(edges):
            look(float(a), float(b), -np.inf)
        for _ in range(MOST):
            proved, a, b = waiting[0]
            under = np.inf if best is None else best[0][0]
            if proved >= under - near_enough or b - a < 2.0 * SHORTEST:
                break
            heapq.heappop(waiting)
            middle = 0.5 * (a + b)
            look(a, middle, proved)
            look(middle, b, proved)
        proved = waiting[0][0]
        if proved == -np.inf:
            raise CannotStand(
                f"its pose jumps {self._where(0.5 * sum(waiting[0][1:]))}; "
                "the ground there is too rough"
            )
        if best is None or where is None:
            return None
        (gap, point, other, thing), piece = best
        proved = min(proved, gap)
        return Tightest(kind, proved, gap - proved, piece.part.name, thing, where, point, other)


def doorway(place: Place, door: Door) -> tuple[Array, Array]:
    """The middle of a door on the inner wall line, and the way out of it; place axes, (2,)."""
    start, end = (np.array(corner) for corner in place.floor.walls[door.wall])
    run = (end - start) / np.linalg.norm(end - start)
    middle = start + (float(door.from_corner) + 0.5 * float(door.clear_width)) * run
    return middle, np.array([run[1], -run[0]])


def leading(place: Place, door: Door, spot: Spot | None) -> tuple[int, ...]:
    """Which end may lead out of a door: as it is parked along the way, else either."""
    if spot is None:
        return (1, -1)
    _, outward = doorway(place, door)
    nose = np.array([np.sin(float(spot.heading)), np.cos(float(spot.heading))])
    along = float(nose @ outward)
    return (1 if along > 0.0 else -1,) if abs(along) > ALIGNED else (1, -1)


def push_through(
    standing: Standing, room: Room, door: Door, ahead: int = 1, across: float = 0.0
) -> Push:
    """Follow one push out of a door; what stops it is told in `problem`.

    ahead : 1 nose first, -1 tail first
    across : of the parking point, to the right of the door's middle looking out [m]
    """
    way = PushPath(standing, room, door, ahead, across)
    start, end = way.reach
    try:
        found = [way.least(kind, start, end) for kind in KINDS]
    except CannotStand as error:
        return Push(door.name, ahead, across, start, end, problem=str(error))
    near = tuple(t for t in found if t is not None)
    return Push(door.name, ahead, across, start, end, near, remarks=way.remarks())
