"""Few and long moves of a way on its own wheels: straight, one arc, straight, each proved.

Two poses on one heading line are joined by a push straight; else the lines along both headings
cross, and an arc about a point of the main axle's line rounds the corner. It rolls without
side-slip, like the pushes it replaces.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from planform.core.motion.plan_moves import PlanMove, about, along

Array = NDArray[np.float64]
Keeps = Callable[[PlanMove], bool]
Chain = tuple[float, int, float, list[PlanMove]]
"""What a chain of links costs up to a pose, the pose before, the sense there, and the last link."""

PIECE = 0.3
"""Moves are cut into pieces of about this length [m], whose ends are joined anew; assumption."""

MOST = 120
"""The most pieces that are looked at; longer ways are cut into longer pieces."""

SHORT = 0.3
"""A move shorter than this [m] is hard to follow on a floor: a foot, about; assumption."""

COST, FIDDLY, SHUNT = 1.0, 0.7, 3.0
"""What a move counts, a short one beside, and a change between ahead and astern; assumptions."""

SMALL = 1e-6


def long_moves(moves: list[PlanMove], axle: float, least: float, keeps: Keeps) -> list[PlanMove]:
    """The moves, or fewer and longer ones that are proved too, between the same two poses.

    axle : of the main axle's middle, aft of the pivot [m]
    least : the least radius of the axle's middle about a centre of turn [m]
    keeps : whether a move is proved to keep the clearance
    Of all chains of links between the poses on the way, the one that costs least.
    """
    poses = _cut(moves)
    costs: list[dict[float, Chain]] = [{} for _ in poses]  # by sense of rolling
    costs[0][0.0] = (0.0, -1, 0.0, [])
    for k, here in enumerate(costs[:-1]):
        if not here:
            continue
        for j in range(len(poses) - 1, k, -1):
            link = joined(poses[k], poses[j], axle, least, keeps)
            if link is None:
                continue
            sense = rolling(link[0], axle)
            own = sum(COST + FIDDLY * (_length(m, axle) < SHORT) for m in link)
            for before, chain in here.items():
                total = chain[0] + own + SHUNT * (before * sense < 0.0)
                if sense not in costs[j] or total < costs[j][sense][0]:
                    costs[j][sense] = (total, k, before, link)
    if not costs[-1]:
        return moves
    out: list[PlanMove] = []
    k, sense = len(poses) - 1, min(costs[-1], key=lambda s: costs[-1][s][0])
    while k > 0:
        _, k, sense, link = costs[k][sense]
        out = link + out
    return out if len(out) < len(moves) else moves


def _length(move: PlanMove, axle: float) -> float:
    """Way of the main axle's middle in a move [m]."""
    if not move.arc:
        return float(np.hypot(move.dx, move.dy))
    middle = move.start[:2] - axle * _nose(move.heading)
    return abs(move.turn) * float(np.hypot(*(middle - move.centre)))


def rolling(move: PlanMove, axle: float) -> float:
    """1 where a move rolls ahead, -1 where astern."""
    nose = _nose(move.heading)
    if not move.arc:
        return float(np.sign(move.way[:2] @ nose))
    right = (move.centre - (move.start[:2] - axle * nose)) @ np.array([nose[1], -nose[0]])
    return float(np.sign(move.turn * right))


def _cut(moves: list[PlanMove]) -> list[Array]:
    """Poses along the moves, at their ends and between, shape (3,) each."""
    lengths = [
        float(np.hypot(m.dx, m.dy))
        + (abs(m.turn) * float(np.hypot(*(m.start[:2] - m.centre))) if m.arc else 0.0)
        for m in moves
    ]
    piece = max(PIECE, sum(lengths) / MOST)
    poses = [moves[0].start]
    for move, length in zip(moves, lengths, strict=True):
        count = max(1, int(np.ceil(length / piece)))
        poses += [np.array(along(move, k / count)) for k in range(1, count + 1)]
    return poses


def joined(a: Array, b: Array, axle: float, least: float, keeps: Keeps) -> list[PlanMove] | None:
    """Proved moves from one pose to another, all ahead or all astern; None where none is found."""
    turn = (float(b[2] - a[2]) + np.pi) % (2.0 * np.pi) - np.pi
    ua, ub = _nose(a[2]), _nose(b[2])
    run = (b[:2] - axle * ub) - (a[:2] - axle * ua)
    if abs(turn) < SMALL:
        aside = float(run @ np.array([ua[1], -ua[0]]))
        return None if abs(aside) > SMALL else _proved([_straight(a, float(run @ ua))], keeps)
    t, w = np.linalg.solve(np.column_stack([ua, ub]), run)
    sense = 1.0 if t + w > 0.0 else -1.0
    t, w = sense * float(t), sense * float(w)
    round_it = np.tan(0.5 * abs(turn))
    most = min(t, w) / round_it
    if most < least * (1.0 - 1e-9):
        return None
    for radius in dict.fromkeys((most, 0.5 * (most + least), least)):
        cut = radius * round_it
        first = _straight(a, sense * (t - cut))
        start = np.array(along(first, 1.0))
        centre = start[:2] - axle * ua + sense * np.sign(turn) * radius * np.array([ua[1], -ua[0]])
        arc = about(start, turn, centre)
        last = _straight(np.array(along(arc, 1.0)), sense * (w - cut))
        found = _proved([first, arc, last], keeps)
        if found is not None:
            return found
    return None


def _nose(heading: float) -> Array:
    return np.array([np.sin(heading), np.cos(heading)])


def _straight(pose: Array, length: float) -> PlanMove:
    (x, y, heading), (dx, dy) = map(float, pose), map(float, length * _nose(pose[2]))
    return PlanMove(x, y, heading, dx, dy, 0.0)


def _proved(moves: list[PlanMove], keeps: Keeps) -> list[PlanMove] | None:
    """The moves without those of no length, where all are proved."""
    real = [m for m in moves if m.arc or float(np.hypot(m.dx, m.dy)) > SMALL]
    return real if all(keeps(move) for move in real) else None
