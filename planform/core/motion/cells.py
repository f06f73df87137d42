"""Is there a way out with a given clearance: boxes of poses, proved free or blocked, or cut.

After the idea of subdivision planning with two-sided bounds (Wang, Chiang, Yap, SoCG 2013; Zhou,
Chiang, Yap, ESA 2018). Deterministic. The boxes are kept from one question to the next.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from time import monotonic

import numpy as np
from numpy.typing import NDArray

from planform.core.halting import look
from planform.core.motion import box_tree, routing
from planform.core.motion.box_tree import Tree
from planform.core.motion.closed import Closed
from planform.core.motion.plan_moves import PlanMove, keeps
from planform.core.motion.planar import Outside, Planar, nearest_pair, off_floor, witness

Array = NDArray[np.float64]

WAY, NONE, OPEN = "way", "none", "open"
"""A way is proved, proved that there is none, or not decided."""

DEEPEST = 13
"""Boxes are split this often at most; the smallest are then about 0.2 mm wide."""

FINEST = 1e-5
"""A sweep gives up where less than this [m] would decide."""

MOST_SOWN = 30_000_000
"""Pairs of a piece and a thing that are looked at before the first question: in a wide room the
first boxes are larger, so that neither time nor memory runs away. Assumption."""

MOST_HELD = 1 << 27
"""Pairs that all boxes together may remember; four bytes each, and twice that while it grows."""

DEEP, JAM_TO = 1.0, 1e-3
"""How much overlap is looked for where it jams, and how close [m]; assumption."""

Watch = Callable[[int, float], bool]
"""Told the boxes in use, none before the first cut, and the seconds gone; False stops the search,
nothing is lost."""


@dataclass(frozen=True, eq=False)
class PlanProblem:
    """What can meet what, and what being outside means."""

    planar: Planar
    outside: Outside

    @property
    def reach(self) -> float:
        """The largest distance of the hull from the pivot [m]."""
        return float(np.hypot(*self.outside.hull[: len(self.outside.hull) // 2].T).max())

    def clearance(self, pose: tuple[float, float, float]) -> tuple[float, int]:
        """The clearance beyond what is kept [m] at a pose, and the pair that has it."""
        pairs = np.arange(len(self.planar.piece), dtype=np.int32)
        value, pair = nearest_pair(self.planar, *map(float, pose), pairs)
        return float(value), int(pair)

    def off_floor(self, pose: tuple[float, float, float]) -> float:
        """How far the whole aircraft is outside [m]; below zero it is not."""
        return float(off_floor(self.outside, *map(float, pose)))

    def keeps(self, move: PlanMove, c: float) -> bool:
        """Whether a move is proved to keep clearance c [m] all along."""
        pairs = np.arange(len(self.planar.piece), dtype=np.int32)
        return bool(keeps(self.planar, move, c, pairs, FINEST)[0] == 1)


@dataclass(frozen=True, eq=False)
class Decision:
    """The answer for one clearance.

    path : (n, 3)   poses of the pivot from the start to outside; moves between them are straight
    lower : clearance proved along the path [m]
    """

    answer: str
    clearance: float
    path: Array | None
    lower: float
    boxes: int
    rounds: int
    seconds: float


@dataclass
class Cells:
    """The boxes of one scene, for clearances up to `cap`.

    looks : how often a watch was looked at in all questions, each time after about the same work
    """

    scene: PlanProblem
    start: tuple[float, float, float]
    cap: float
    most: int = 3_000_000
    tree: Tree = field(init=False)
    looks: int = 0

    def __post_init__(self) -> None:
        reach = self.scene.reach
        turns = 16
        turn = np.pi / turns
        half = 2.0 * reach * np.sin(0.5 * turn) / np.sqrt(2.0)
        edge = reach + self.scene.outside.beyond + 0.3
        low = self.scene.outside.floors.min(axis=0) - edge
        span = np.ptp(self.scene.outside.floors, axis=0) + 2.0 * edge
        each = max(1, len(self.scene.planar.piece))
        roots = turns * float(np.prod(np.ceil(span / (2.0 * half))))
        half *= max(1.0, np.sqrt(roots / np.clip(MOST_SOWN / each, 1 << 12, 1 << 18)))
        nx, ny = (int(np.ceil(s / (2.0 * half))) for s in span)
        extra = np.array([nx, ny]) * 2.0 * half - span
        x0, y0 = low - 0.5 * extra
        roots = nx * ny * turns
        self.tree = _empty(max(1 << 15, 2 * roots), 1 << 20)._replace(
            grid=np.array([nx, ny, turns]), frame=np.array([x0, y0, half, turn])
        )
        while not box_tree.plant(self.tree, *self._things):
            self._grow(0, 2 * len(self.tree.pool))
            self.tree.size[:] = 0

    @property
    def _things(self) -> tuple[object, ...]:
        return self.scene.planar, self.scene.outside, self.cap

    def _grow(self, boxes: int, pool: int) -> None:
        """Give the arrays at least so much room, twice as much as they had where that is short."""
        t, larger = self.tree, {}
        for name in t._fields[: t._fields.index("size")]:
            old, need = getattr(t, name), pool if name == "pool" else boxes
            if need > len(old):
                new = np.empty(max(need, 2 * len(old)), old.dtype)
                new[: len(old)] = old
                larger[name] = new
        self.tree = t._replace(**larger)

    @property
    def boxes(self) -> int:
        """How many boxes there are."""
        return int(self.tree.size[0])

    def decide(self, c: float, watch: Watch = lambda boxes, seconds: True) -> Decision:
        """Whether a way out keeps clearance c [m], which must not be over the cap.

        Each round takes the cheapest route of boxes that are not blocked and cuts the undecided
        ones on it. A route of free boxes is a proof of yes, no route at all a proof of no.
        """
        began = monotonic()
        kept = np.empty(max(1, len(self.scene.planar.piece)), np.int32)
        r = routing.routing(self.tree)
        home = box_tree.leaf_of(self.tree, *self.start)
        routing.reckon(self.tree, r, home, home, c, DEEPEST)

        def told(answer: str, path: Array | None = None, lower: float = -np.inf) -> Decision:
            seconds = monotonic() - began
            return Decision(answer, c, path, lower, self.boxes, int(r.counts[4]), seconds)

        found = routing.BUSY
        while True:
            look()
            if found == routing.LARGER and self.tree.size[1] <= MOST_HELD:
                self._grow(*map(int, r.counts[5:7]))
                r = routing.larger(r, self.tree)
            elif found != routing.BUSY or not self._goes_on(watch, began, r):
                return told(OPEN)
            found = routing.advance(
                self.tree, *self._things, r, self.start, c, DEEPEST, self.most, kept
            )
            if found == routing.SHUT:
                return told(NONE)
            if found == routing.FOUND:
                route = [int(r.counts[2])]
                while r.before[route[-1]] >= 0:
                    route.append(int(r.before[route[-1]]))
                route.reverse()
                return told(WAY, self._path(route), float(self.tree.lower[route].min()))

    def _goes_on(self, watch: Watch, began: float, r: routing.Routing) -> bool:
        """Look at the watch; what the boxes there are tell is found out before they are counted."""
        self.looks += 1
        used = self.boxes if r.counts[4] else 0
        return watch(used, monotonic() - began)

    def likely_jam(self) -> tuple[float, float, float] | None:
        """A pose where the way that is least closed is, by the middles of the boxes as they are.

        It proves nothing. None where a way leads out by them, or none with `DEEP` overlap.
        """
        home = box_tree.leaf_of(self.tree, *self.start)
        there = self.tree._replace(upper=np.empty(len(self.tree.upper)))
        there.upper[: self.boxes] = self.tree.middle[: self.boxes]
        outside = self.tree.out[: self.boxes] > 0

        def shut(c: float) -> NDArray[np.int64]:
            marks = box_tree.closed_in(there, home, c)
            if (outside & (marks == 1)).any():
                return np.empty(0, np.int64)
            return np.flatnonzero((marks == 2) & (there.upper[: self.boxes] >= c - DEEP))

        low, high, shell = -DEEP, 0.0, shut(0.0)
        if not len(shell) or len(shut(low)):
            return None
        while high - low > JAM_TO:
            middle = 0.5 * (low + high)
            found = shut(middle)
            low, high, shell = (low, middle, found) if len(found) else (middle, high, shell)
        x, y, heading, _, _ = box_tree.centre_of(self.tree, shell[there.upper[shell].argmax()])
        return float(x), float(y), float(heading)

    def closed(self, c: float) -> Closed:
        """The boxes that prove that no way keeps clearance c [m]; ValueError where there is one."""
        home = box_tree.leaf_of(self.tree, *self.start)
        if self.tree.upper[home] < c:
            reached, shell = np.empty(0, np.int64), np.array([home])
        else:
            marks = box_tree.closed_in(self.tree, home, c)
            reached, shell = np.flatnonzero(marks == 1), np.flatnonzero(marks == 2)
        if (self.tree.out[reached] > 0).any():
            raise ValueError("the boxes are not closed: a way out may keep this clearance")
        everything = np.arange(len(self.scene.planar.piece), dtype=np.int32)
        by = np.empty(len(shell), np.int32)
        for n, k in enumerate(shell):
            look()
            x, y, heading, h, d = box_tree.centre_of(self.tree, k)
            _, by[n] = witness(self.scene.planar, x, y, heading, np.sqrt(2.0) * h, d, everything)
        t = self.tree
        boxes = np.column_stack([t.level, t.ix, t.iy, t.it]).astype(np.int64)
        return Closed(
            self.start, c, tuple(map(float, t.frame)), tuple(map(int, t.grid)),
            boxes[reached], boxes[shell], by,
        )  # fmt: skip

    def _path(self, route: list[int]) -> Array:
        """Poses through the boxes of a route: the middles, and a point of each shared face."""
        poses = [np.array(self.start)]
        full = 2.0 * np.pi
        last: tuple[Array, Array] | None = None
        for k in route:
            x, y, heading, h, d = box_tree.centre_of(self.tree, k)
            middle, half = np.array([x, y, heading]), np.array([h, h, d])
            middle[2] += full * np.round((poses[-1][2] - middle[2]) / full)
            if last is not None:
                low = np.maximum(last[0] - last[1], middle - half)
                high = np.minimum(last[0] + last[1], middle + half)
                poses.append(0.5 * (low + high))
                poses.append(middle)
            last = middle, half
        if len(route) == 1:
            poses.append(last[0] if last else poses[0])
        return np.array(poses)


def _empty(boxes: int, pool: int) -> Tree:
    integer = {name: np.empty(boxes, np.int32) for name in ("ix", "iy", "it", "child", "start")}
    return Tree(
        level=np.empty(boxes, np.int8),
        **integer,
        lower=np.empty(boxes),
        upper=np.empty(boxes),
        middle=np.empty(boxes, np.float32),
        out=np.empty(boxes, np.int8),
        held=np.empty(boxes, np.int32),
        pool=np.empty(pool, np.int32),
        size=np.zeros(2, np.int64),
        grid=np.zeros(3, np.int64),
        frame=np.zeros(4),
    )


def rings(polygons: list[Array]) -> tuple[Array, Array, NDArray[np.int32]]:
    """Counter-clockwise convex polygons as flat corners, outward unit normals and first indices."""
    corners = np.concatenate(polygons) if polygons else np.empty((0, 2))
    normals = []
    for ring in polygons:
        run = np.roll(ring, -1, axis=0) - ring
        size = np.linalg.norm(run, axis=1)
        if size.min() <= 0.0:
            raise ValueError("a ring has the same corner twice")
        normals.append(np.column_stack([run[:, 1], -run[:, 0]]) / size[:, None])
    first = np.cumsum([0, *(len(p) for p in polygons)]).astype(np.int32)
    return corners, np.concatenate(normals) if normals else np.empty((0, 2)), first


def _circle(ring: Array) -> tuple[Array, float]:
    """A circle about a ring, about the middle of its box."""
    middle = 0.5 * (ring.min(axis=0) + ring.max(axis=0))
    return middle, float(np.linalg.norm(ring - middle, axis=1).max())


def scene(
    pieces: list[tuple[int, Array]],
    things: list[tuple[int, Array, float]],
    hull: Array,
    floors: list[Array],
    beyond: float,
) -> PlanProblem:
    """Convex pieces and things, each with the number of its height range, as a scene.

    pieces : (height range, corners about the pivot)
    things : (height range, corners in place axes, level clearance to keep [m])
    hull : (n, 2) convex, counter-clockwise, about the pivot
    All corners counter-clockwise, at most `planar.WIDEST` of them.
    """
    corners, normals, first = rings([ring for _, ring in pieces])
    thing_corners, thing_normals, thing_first = rings([ring for _, ring, _ in things])
    about = [_circle(ring) for _, ring in pieces]
    thing_about = [_circle(ring) for _, ring, _ in things]
    pairs = [
        (i, j)
        for i, (band, _) in enumerate(pieces)
        for j, (other, _, _) in enumerate(things)
        if band == other
    ]
    floor_corners, floor_normals, floor_first = rings(floors)
    hull_corners, hull_normals, _ = rings([hull])
    planar = Planar(
        corners=corners,
        normals=normals,
        first=first,
        reach=np.array([float(np.hypot(*ring.T).max()) for _, ring in pieces]),
        middle=np.array([m for m, _ in about]).reshape(-1, 2),
        round_by=np.array([r for _, r in about]),
        thing_corners=thing_corners,
        thing_normals=thing_normals,
        thing_first=thing_first,
        thing_middle=np.array([m for m, _ in thing_about]).reshape(-1, 2),
        thing_round_by=np.array([r for _, r in thing_about]),
        keep=np.array([keep for _, _, keep in things]),
        piece=np.array([i for i, _ in pairs], dtype=np.int32),
        thing=np.array([j for _, j in pairs], dtype=np.int32),
    )
    hull_sides = np.concatenate([hull_corners, hull_normals])
    outside = Outside(hull_sides, floor_corners, floor_normals, floor_first, float(beyond))
    return PlanProblem(planar, outside)
