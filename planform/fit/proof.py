"""A second opinion: routes and proofs that there is none, checked by other means.

Nothing here is shared with the search but the ground plan. Routes are swept on the uncut, exact
outlines with a general library; a closed shell of boxes is checked face by face and box by box.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.outlines import Shape, band_outline
from planform.core.halting import look
from planform.core.motion.closed import Closed
from planform.fit.ground_plan import GroundPlan
from planform.fit.moves import Move, Pose, Route

Array = NDArray[np.float64]

STEP = 1e-4
"""A route may fail the clearance by this much [m]: the resolution of the sweep."""


@dataclass(frozen=True)
class Swept:
    """The outcome of a sweep: whether it keeps the clearance, the least gap met and where."""

    good: bool
    least: float
    move: int
    share: float
    looks: int


def sweep(plan: GroundPlan, route: Route, clearance: float, exact: bool = True) -> Swept:
    """Sweep a route on a level floor continuously.

    Between two instants no point of the aircraft moves further than its distance from the point
    that goes straight, times the turn, plus the shift; an interval passes where the gap at its
    middle covers the clearance and half of that.
    exact : on the outlines as built; else on the pieces of the ground plan
    """
    import shapely

    pairs = _outlines(plan) if exact else _pieces(plan)
    corners = np.concatenate([shapely.get_coordinates(region) for region, _, _ in pairs])
    least, where, looks = np.inf, (0, 0.0), 0
    for number, move in enumerate(route.moves):
        speed = _speed(move, corners)
        todo = [(0.0, 1.0)]
        while todo:
            look()
            a, b = todo.pop()
            share = 0.5 * (a + b)
            pose = move.at(share)
            looks += 1
            gap = _least_gap(pairs, pose)
            if gap < least:
                least, where = gap, (number, share)
            if gap < clearance - STEP:
                return Swept(False, gap, number, share, looks)
            if gap - 0.5 * (b - a) * speed < clearance - STEP:
                if (b - a) * speed < 1e-2 * STEP:
                    return Swept(False, gap, number, share, looks)
                todo += [(share, b), (a, share)]
    return Swept(True, least, *where, looks)


def gap_at(plan: GroundPlan, pose: Pose) -> float:
    """The level gap beyond what is kept, on the outlines as built, at a pose [m]; 0: they meet."""
    return _least_gap(_outlines(plan), pose)


def _least_gap(pairs: list[tuple[Shape, Shape, float]], pose: Pose) -> float:
    import shapely

    return min(
        float(shapely.distance(shapely.transform(region, pose.place), things)) - keep
        for region, things, keep in pairs
    )


def _speed(move: Move, corners: Array) -> float:
    """The longest way any corner of the aircraft goes during a move, at most [m]."""
    if move.centre is not None:
        there = move.start.place(corners)
        return float(np.linalg.norm(there - np.array(move.centre), axis=1).max() * abs(move.turn))
    point = np.array([move.carried])
    shift = float(np.linalg.norm(move.end.place(point) - move.start.place(point)))
    reach = float(np.linalg.norm(corners - point, axis=1).max())
    return shift + reach * abs(move.turn)


def _outlines(plan: GroundPlan) -> list[tuple[Shape, Shape, float]]:
    """What the aircraft has in each height range, the things in it, and what to keep of them."""
    import shapely

    out = []
    for number, (low, high, _) in enumerate(plan.ranges):
        things = [thing for k, thing in plan.things if k == number]
        off_wheels = any(thing.kind == "threshold" for thing in things)
        parts = [p for p in plan.standing.parts if not (off_wheels and p.role == "wheel")]
        region = shapely.union_all([band_outline(p, low, high) for p in parts])
        if region.is_empty:
            continue
        for keep in {thing.keep for thing in things}:
            rings = [shapely.polygons(t.outline) for t in things if t.keep == keep]
            out.append((region, shapely.union_all(rings), keep))
    return out


def _pieces(plan: GroundPlan) -> list[tuple[Shape, Shape, float]]:
    import shapely

    out = []
    for number, (_, _, pieces) in enumerate(plan.ranges):
        things = [thing for k, thing in plan.things if k == number]
        for keep in {thing.keep for thing in things}:
            rings = [shapely.polygons(t.outline) for t in things if t.keep == keep]
            region = shapely.union_all([shapely.polygons(p + plan.pivot) for p in pieces])
            out.append((region, shapely.union_all(rings), keep))
    return out


def fault_in(plan: GroundPlan, proof: Closed) -> str:
    """'' where a proof that there is no way out holds, else what is wrong with it.

    Checked: the start lies in a reached box; every face of a reached box is shared with another
    box of the proof; no reached box has a pose wholly outside; every box of the shell is blocked.
    """
    known = {tuple(box) for box in np.concatenate([proof.reached, proof.shell]).tolist()}
    if len(known) != len(proof.reached) + len(proof.shell):
        return "a box is listed twice"
    if not _hold(proof, np.concatenate([proof.reached, proof.shell])).any():
        return "the start lies in no box"
    for box in proof.reached.tolist():
        look()
        for axis in range(3):
            for side in (-1, 1):
                if not _covered(known, proof.grid, box, axis, side):
                    return f"box {box} is open on one side"
    if len(proof.reached):
        poses, shift, turn = _middles(proof, proof.reached)
        floors = [_separations(plan.hull, floor, poses) for floor in plan.floors]
        swing = 2.0 * np.sin(0.5 * turn) * float(np.hypot(*plan.hull.T).max())
        if (np.min(floors, axis=0) + shift + swing >= plan.beyond).any():
            return "a reached box may be outside"
    return _all_blocked(plan, proof)


def _middles(proof: Closed, boxes: NDArray[np.int64]) -> tuple[Array, Array, Array]:
    """Middle poses (n, 3), largest shift [m] and turn [rad] within each box."""
    x0, y0, half, turn = proof.frame
    share = 0.5 ** boxes[:, 0].astype(float)
    h, d = half * share, turn * share
    x, y = x0 + (2 * boxes[:, 1] + 1) * h, y0 + (2 * boxes[:, 2] + 1) * h
    return np.column_stack([x, y, (2 * boxes[:, 3] + 1) * d]), np.sqrt(2.0) * h, d


def _hold(proof: Closed, boxes: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Whether the start lies in each box, shape (n,)."""
    poses, shift, turn = _middles(proof, boxes)
    half = shift / np.sqrt(2.0)
    off = np.array(proof.start) - poses
    off[:, 2] = (off[:, 2] + np.pi) % (2.0 * np.pi) - np.pi
    beside = np.abs(off[:, :2]).max(axis=1)
    return np.asarray((beside <= half + 1e-9) & (np.abs(off[:, 2]) <= turn + 1e-9))


def _covered(
    known: set[tuple[int, ...]], grid: tuple[int, ...], box: list[int], axis: int, side: int
) -> bool:
    """Whether the face of a box is covered by boxes of the proof on its other side."""
    level = box[0]
    beside = list(box[1:])
    beside[axis] += side
    size = [g << level for g in grid]
    beside[2] %= size[2]
    if not 0 <= beside[axis] < size[axis]:
        return False
    for up in range(level + 1):
        if (level - up, *(b >> up for b in beside)) in known:
            return True
    return _filled(known, level, beside, axis, 0 if side > 0 else 1, 0)


def _filled(
    known: set[tuple[int, ...]], level: int, at: list[int], axis: int, near: int, depth: int
) -> bool:
    """Whether smaller boxes of the proof fill the near face of a box."""
    if depth > 20:
        return False
    for bits in range(8):
        down = [(bits >> k) & 1 for k in range(3)]
        if down[axis] != near:
            continue
        child = [2 * a + b for a, b in zip(at, down, strict=True)]
        if (level + 1, *child) in known:
            continue
        if not _filled(known, level + 1, child, axis, near, depth + 1):
            return False
    return True


def _all_blocked(plan: GroundPlan, proof: Closed) -> str:
    """'' where every box of the shell is blocked by the pair it names."""
    pieces = [(k, ring) for k, (_, _, rings) in enumerate(plan.ranges) for ring in rings]
    pairs = [(ring, thing) for k, ring in pieces for number, thing in plan.things if number == k]
    poses, shift, turn = _middles(proof, proof.shell)
    for by in np.unique(proof.by):
        chosen = np.flatnonzero(proof.by == by)
        if by < 0:
            return "a box of the shell names nothing that blocks it"
        ring, thing = pairs[by]
        apart = _separations(ring, thing.outline, poses[chosen]) - thing.keep
        reach = float(np.hypot(*ring.T).max())
        most = apart + shift[chosen] + 2.0 * np.sin(0.5 * turn[chosen]) * reach
        if (most >= proof.clearance).any():
            return f"a box of the shell is not blocked by {thing.name}"
    return ""


AT_ONCE = 2048
"""Most poses whose separations are worked out at once (some kB each)."""


def _separations(ring: Array, thing: Array, poses: Array) -> Array:
    """Signed separation of a convex ring at poses (n, 3) from a convex thing, shape (n,).

    Exact where they are apart, at most the true one where they overlap.
    """
    starts = range(0, len(poses), AT_ONCE)
    return np.concatenate([_apart(ring, thing, poses[k : k + AT_ONCE]) for k in starts])


def _apart(ring: Array, thing: Array, poses: Array) -> Array:
    import shapely

    look()

    s, c = np.sin(poses[:, 2]), np.cos(poses[:, 2])
    turn = np.stack([np.stack([-s, c], axis=-1), np.stack([-c, -s], axis=-1)], axis=-2)
    there = np.einsum("nij,kj->nki", turn, ring) + poses[:, None, :2]
    own = np.roll(thing, -1, axis=0) - thing
    normal = np.column_stack([own[:, 1], -own[:, 0]]) / np.linalg.norm(own, axis=1)[:, None]
    by_thing = (there @ normal.T - (thing * normal).sum(axis=1)).min(axis=1).max(axis=1)
    run = np.roll(there, -1, axis=1) - there
    out = np.stack([run[..., 1], -run[..., 0]], axis=-1)
    out /= np.linalg.norm(out, axis=-1)[..., None]
    support = np.einsum("nki,mi->nkm", out, thing).min(axis=2)
    by_ring = (support - (there * out).sum(axis=-1)).max(axis=1)
    apart = np.maximum(by_thing, by_ring)
    off = apart > 0.0
    if off.any():
        apart[off] = shapely.distance(shapely.polygons(there[off]), shapely.polygons(thing))
    return np.asarray(apart)
