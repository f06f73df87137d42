"""Routes with few moves: shortcuts that are proved to keep the same clearance."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.core.motion.cells import PlanProblem
from planform.core.motion.plan_moves import PlanMove, straight

Array = NDArray[np.float64]

STEP = 0.25
"""Long moves are cut into pieces of this length [m] before the next round of shortcuts."""

SMALL = 1e-9


def fewer_moves(scene: PlanProblem, path: Array, c: float, ways: Array) -> list[PlanMove]:
    """Few moves along or beside a path that keeps clearance c [m], as moves of the pivot.

    path : (n, 3)   poses of the pivot, the last one outside
    ways : (k, 2)   unit vectors out of the doors, tried to end the route early
    """
    poses = [np.asarray(p) for p in path]
    best = _pass(scene, poses, c, ways)
    for _ in range(4):
        again = _pass(scene, _refined(best), c, ways)
        if _effort(again, scene.reach) > _effort(best, scene.reach) - 1e-3:
            break
        best = again
    return best


def _effort(moves: list[PlanMove], reach: float) -> float:
    """What a route costs in work: way and turning [m], and something for each move."""
    way = sum(float(np.hypot(m.dx, m.dy)) + 0.5 * reach * abs(m.turn) for m in moves)
    return way + 0.5 * len(moves)


def _refined(moves: list[PlanMove]) -> list[Array]:
    """Poses along straight moves, at their ends and between, shape (3,) each."""
    poses = [moves[0].start]
    for move in moves:
        length = float(np.hypot(move.dx, move.dy) + abs(move.turn))
        count = max(1, int(np.ceil(length / STEP)))
        poses += [move.start + move.way * (k / count) for k in range(1, count + 1)]
    return poses


def _pass(scene: PlanProblem, poses: list[Array], c: float, ways: Array) -> list[PlanMove]:
    """One greedy pass: from each pose the furthest later one that a proved shortcut reaches."""
    moves: list[PlanMove] = []
    k = 0
    while k < len(poses) - 1:
        out = straight_out(scene, poses[k], c, ways)
        if out is not None:
            return [*moves, out]
        far, chosen = k + 1, _link(scene, poses[k], poses[k + 1], c)
        step = 2
        while k + step < len(poses):
            link = _link(scene, poses[k], poses[k + step], c)
            if link is None:
                break
            far, chosen = k + step, link
            step *= 2
        low, high = far, min(k + step, len(poses))
        while high - low > 1:
            middle = (low + high) // 2
            link = _link(scene, poses[k], poses[middle], c)
            if link is None:
                high = middle
            else:
                low, far, chosen = middle, middle, link
        if chosen is None:
            chosen = [straight(poses[k], poses[k + 1])]
        moves += chosen
        k = far
    return moves


def _link(scene: PlanProblem, a: Array, b: Array, c: float) -> list[PlanMove] | None:
    """Proved moves from a to b: push and turn apart if possible, else both at once."""
    still, kept = a.copy(), b.copy()
    still[2], kept[2] = b[2], a[2]
    if abs(a[2] - b[2]) < SMALL or np.hypot(*(b - a)[:2]) < SMALL:
        move = straight(a, b)
        return [move] if scene.keeps(move, c) else None
    for middle in (still, kept):
        pair = [straight(a, middle), straight(middle, b)]
        if all(scene.keeps(move, c) for move in pair):
            return pair
    move = straight(a, b)
    return [move] if scene.keeps(move, c) else None


def straight_out(scene: PlanProblem, a: Array, c: float, ways: Array) -> PlanMove | None:
    """A straight push out of a door without turning, where one is proved."""
    for way in ways:
        off = scene.off_floor((float(a[0]), float(a[1]), float(a[2])))
        if off >= 0.0:
            return None
        low, high = 0.0, 4.0 * scene.reach + 2.0 * float(np.ptp(scene.outside.floors, axis=0).max())
        while high - low > 1e-3:
            length = 0.5 * (low + high)
            end = a[:2] + length * way
            if scene.off_floor((float(end[0]), float(end[1]), float(a[2]))) >= 0.0:
                high = length
            else:
                low = length
        move = straight(a, np.array([*(a[:2] + high * way), a[2]]))
        if scene.keeps(move, c):
            return move
    return None
