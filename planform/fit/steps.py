"""A route as steps that people can follow: one plain move that stands for a run of moves."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.core.quantity import Metres
from planform.fit.moves import Move, Pose, Route
from planform.fit.swept import farthest_travel, parking_travel, path_length

Array = NDArray[np.float64]

LEVEL_TURN = math.radians(0.05)
"""A turn under this is none [rad]."""
NO_SHIFT = 1e-6
"""A shift under this is none [m]."""
SAME = 1e-3
"""How far a plain move may stray from what it stands for in any case [m]."""
STRAY_MOST = 0.05
"""How far it may stray at the most [m], whatever the clearance. Assumption."""
TINY = 0.3
"""A move in which no point of the outline goes farther than this [m] is told together with its
neighbours. Assumption."""
STRAIGHT = math.radians(5.0)
"""Within this of the nose, tail or side a straight move is told as straight [rad]."""
CHECK_STEP = 0.05
"""Travel of the outline between two places at which a plain move is held against the moves [m]."""


@dataclass(frozen=True, eq=False)
class Step:
    """A run of moves of a route, and the one plain move that stands for them.

    number : from 1; first, last : indices in the route of the first and the last of its moves
    stray : how far any point of the outline is, at most, from where the moves have it [m]
    """

    number: int
    first: int
    last: int
    moves: tuple[Move, ...]
    plain: Move
    stray: Metres

    @property
    def start(self) -> Pose:
        """The pose before the step."""
        return self.plain.start

    @property
    def end(self) -> Pose:
        """The pose after it."""
        return self.plain.end

    @property
    def travel(self) -> Metres:
        """Length of the way of the parking point over all its moves [m]."""
        return path_length(self.moves)

    @property
    def kind(self) -> str:
        """'ahead', 'back', 'left', 'right', 'across', 'turn' or 'slide and turn'."""
        return kind_of(self.plain)

    def has(self, move: int) -> bool:
        """Whether a move of the route belongs to the step."""
        return self.first <= move <= self.last


def turning_point(start: Pose, end: Pose) -> tuple[float, float] | None:
    """The one point of the floor that a turn takes from start to end about; None without a turn."""
    angle = start.heading - end.heading  # clockwise headings, right-handed plan
    if abs(math.remainder(angle, math.tau)) < 1e-9:
        return None
    c, s = math.cos(angle), math.sin(angle)
    turn = np.array([[c, -s], [s, c]])
    right = np.array([end.x, end.y]) - turn @ np.array([start.x, start.y])
    x, y = np.linalg.solve(np.eye(2) - turn, right)
    return float(x), float(y)


def settled(move: Move) -> Move:
    """The same move, told as a turn where it only turns and as straight where it does not turn."""
    if abs(move.turn) < LEVEL_TURN:
        return move if move.centre is None else Move(move.start, move.end)
    if move.centre is None:
        point = np.array([move.carried])
        a, b = move.start.place(point)[0], move.end.place(point)[0]
        if float(np.linalg.norm(b - a)) < NO_SHIFT:
            return Move(move.start, move.end, (float(a[0]), float(a[1])))
    return move


def bearing(move: Move) -> float:
    """The way a straight move goes, from the nose, clockwise seen from above [rad], -pi to pi."""
    way = math.atan2(move.end.x - move.start.x, move.end.y - move.start.y)
    return math.remainder(way - move.start.heading, math.tau)


def kind_of(move: Move) -> str:
    """What a settled move is: 'ahead', 'back', 'left', 'right', 'across', 'turn', ..."""
    if abs(move.turn) >= LEVEL_TURN:
        return "turn" if move.centre is not None else "slide and turn"
    way = bearing(move)
    for name, angle in (("ahead", 0.0), ("right", 0.5), ("back", 1.0), ("left", -0.5)):
        if abs(math.remainder(way - angle * math.pi, math.tau)) <= STRAIGHT:
            return name
    return "across"


def _key(move: Move) -> tuple[str, float]:
    turn = move.turn if abs(move.turn) >= LEVEL_TURN else 0.0
    return kind_of(move), math.copysign(1.0, turn) if turn else 0.0


def _plain(moves: Sequence[Move]) -> list[Move]:
    """The plain moves that might stand for a run."""
    start, end = moves[0].start, moves[-1].end
    if len(moves) == 1:
        return [settled(moves[0])]
    if abs(end.heading - start.heading) < LEVEL_TURN:
        return [Move(start, end)]
    if all(move.centre is not None for move in moves):
        centre = turning_point(start, end)
        return [Move(start, end, centre)] if centre else []
    carried = [move.carried for move in moves if move.centre is None]
    points = list(dict.fromkeys([(0.0, 0.0), carried[0]]))
    return [settled(Move(start, end, None, point)) for point in points]


def stray_of(moves: Sequence[Move], plain: Move, corners: Array) -> float:
    """How far any corner of the outline is from where the moves have it, at most [m].

    Both are run through side by side, each move taking its share of the whole travel.
    corners : of the outline's hull in floor axes, shape (n, 2)
    """
    sizes = [farthest_travel(move, corners) for move in moves]
    whole = sum(sizes)
    if whole <= 0.0:
        return 0.0
    worst, done = 0.0, 0.0
    for move, size in zip(moves, sizes, strict=True):
        count = max(1, math.ceil(size / CHECK_STEP))
        for k in range(1, count + 1):
            share = k / count
            here = move.at(share).place(corners)
            there = plain.at(min(1.0, (done + share * size) / whole)).place(corners)
            worst = max(worst, float(np.linalg.norm(here - there, axis=1).max()))
        done += size
    return worst


def _best(moves: Sequence[Move], corners: Array) -> tuple[Move, float] | None:
    found = [(plain, stray_of(moves, plain, corners)) for plain in _plain(moves)]
    return min(found, key=lambda pair: pair[1]) if found else None


Run = tuple[tuple[Move, ...], Move, float]


def _alone(move: Move, corners: Array) -> Run:
    plain = settled(move)
    return (move,), plain, 0.0 if plain is move else stray_of([move], plain, corners)


def _joined(
    runs: list[Run], corners: Array, allowed: float, may: Callable[[Run, Run], bool]
) -> list[Run]:
    """Neighbours put together, one after the other, as long as they may be and stray little."""
    out: list[Run] = []
    for run in runs:
        if out and may(out[-1], run):
            moves = out[-1][0] + run[0]
            best = _best(moves, corners)
            if best is not None and best[1] <= allowed:
                out[-1] = (moves, *best)
                continue
        out.append(run)
    return out


def steps_of(route: Route, corners: Array) -> tuple[Step, ...]:
    """The route as steps.

    Moves of one kind that follow each other become one step, and tiny moves of any kind, as long
    as the plain move that is told strays from them by no more than half the clearance proved
    (and STRAY_MOST): who follows the words keeps at least the other half. On the aircraft's own
    wheels only moves that are the same move go together, as a mean of two would slip sideways.
    corners : of the outline's hull in floor axes, shape (n, 2)
    """
    allowed = SAME
    if route.moving != "gear":
        allowed = max(SAME, min(STRAY_MOST, 0.5 * max(0.0, route.clearance)))
    moves = [(k, move) for k, move in enumerate(route.moves) if _goes(move)]
    runs: list[Run] = [_alone(move, corners) for _, move in moves]
    runs = _joined(runs, corners, allowed, lambda a, b: _key(a[1]) == _key(b[1]))

    def tiny(run: Run) -> bool:
        return farthest_travel(run[1], corners) <= TINY

    def small(a: Run, b: Run) -> bool:
        return tiny(b) and (tiny(a) or kind_of(a[1]) == "slide and turn")

    runs = _joined(runs, corners, allowed, small)
    runs = _joined(runs, corners, allowed, lambda a, b: _key(a[1]) == _key(b[1]))
    out: list[Step] = []
    done = 0
    for run, plain, stray in runs:
        first, last = moves[done][0], moves[done + len(run) - 1][0]
        out.append(Step(len(out) + 1, first, last, run, plain, stray))
        done += len(run)
    return tuple(out)


def _goes(move: Move) -> bool:
    return abs(move.turn) > 0.0 or parking_travel(move) > NO_SHIFT
