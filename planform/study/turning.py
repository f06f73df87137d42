"""Whether the inputs' tolerances could turn a check that fits to one that needs care.

A bound on how far each input moves any part and any thing, all of them added, says so at once of
most checks; only the others are measured again.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

import numpy as np

from planform.core.motion.contacts import CannotStand
from planform.core.motion.uneven_ground import Top
from planform.fit.answer import FitAnswer
from planform.fit.check import Check
from planform.fit.clearance import Clearance
from planform.fit.ground import Ground
from planform.fit.push import Push
from planform.fit.verdict import FITS
from planform.study.inputs import Input
from planform.study.probes import Moved, path_in

MARGIN = 1.25
"""A gap this many times what all inputs can do together is not measured again; assumption. Along a
push, motions are looked at where it starts and where it is tight."""


def may_turn(check: Check, answer: FitAnswer, moves: Sequence[Moved]) -> bool:
    """Whether a check that fits might not once the inputs move within their tolerances.

    False is certain, but for the margin told above.
    """
    if check.gap is None or check.verdict != FITS:
        return False
    if check.clearance is not None:
        pairs = [c for c in answer.near if c.kind == check.clearance.kind]
        return any(c.gap <= MARGIN * _all(moves, partial(_parked, c)) for c in pairs)
    if check.tight is not None:
        push = next(p for p in answer.pushes if p.door == check.group)
        at = push.start, check.tight.pose.along
        return check.gap <= MARGIN * _all(moves, lambda move: _pushed(move, push, at))
    return True


def _parked(pair: Clearance, move: Moved) -> float:
    return move.reach(pair.part, pair.thing)


def _all(moves: Sequence[Moved], reach: Callable[[Moved], float]) -> float:
    """What all inputs can do together, each at the end where it does most [m]."""
    most: dict[Input, float] = {}
    for move in moves:
        most[move.input] = max(most.get(move.input, 0.0), reach(move))
    return sum(most.values())


def _pushed(move: Moved, push: Push, places: Sequence[float]) -> float:
    """The most that the aircraft moves at places of a push, and the things of the room [m]."""
    before, after = path_in(push, move.base), path_in(push, move.state)
    things = max(move.things.values(), default=0.0) + _ground_moved(before.ground, after.ground)
    if move.state.standing is move.base.standing and before.ground == after.ground:
        return things
    points = {piece.part.name: piece.points for piece in after.pieces}
    run = 0.0
    try:
        for at in places:
            was, now = before.pose(at), after.pose(at)
            for piece in before.pieces:
                there = points[piece.part.name]
                if there.shape != piece.points.shape:
                    return np.inf
                apart = after.seen(there, now) - before.seen(piece.points, was)
                run = max(run, float(np.linalg.norm(apart, axis=1).max()))
    except CannotStand:
        return np.inf
    return run + things + abs(after.bulge - before.bulge)


def _ground_moved(before: Ground, after: Ground) -> float:
    """The most that any end of the ground's pieces moves [m]; infinite where they are others."""
    if before == after:
        return 0.0
    here, there = ([_ends(top) for s in g.strips for top in s.tops] for g in (before, after))
    if len(here) != len(there):
        return np.inf
    return float(np.linalg.norm(np.subtract(here, there), axis=-1).max())


def _ends(top: Top) -> tuple[tuple[float, float], tuple[float, float]]:
    """Both ends of a piece of ground: along the way and height [m]."""
    return (top.start, top.start_height), (top.end, top.end_height)
