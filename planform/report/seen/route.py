"""The way out of a look: poses along it, its steps in words, where it is tight, what it sweeps."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from planform.airframe.stance import Standing
from planform.design.told import said
from planform.fit.moves import Move, Pose, Tight
from planform.fit.roll_out import RollOut
from planform.fit.room import Room
from planform.fit.steps import Step, steps_of
from planform.fit.swept import corners_of, plan_outline, simplified_outward, swept_outline
from planform.fit.walkers import step_at
from planform.report.record import Record
from planform.report.way_out.instructions import instruction
from planform.report.way_out.words import summary

APART = 0.1
"""How far the parking point or, in turns, the tips go at most between two poses [m]; assumption."""
ARM = 4.0
"""What a turn is multiplied with for that [m]: about a half-span; assumption."""

SLACK = 0.005
"""How coarsely the outline of what is swept is simplified, outward [m]; assumption."""


def way_look(found: RollOut, standing: Standing, room: Room, system: str) -> Record:
    """What was found of the way out, and the way itself where there is one."""
    told: Record = {"told": summary(found, system), "verdict": found.verdict.colour}
    route = found.route
    if route is None or not route.moves:
        jams = [_tight(t, -1, 0, system) for t in found.jams]
        return told | {"poses": [], "steps": [], "tight": jams, "swept": []}
    shape = plan_outline(standing)
    steps = steps_of(route, corners_of(shape))
    poses: list[Pose] = [steps[0].moves[0].start]
    ends: list[tuple[int, int]] = []
    at_move: list[list[int]] = []
    for step in steps:
        first = len(poses) - 1
        for move in step.moves:
            numbers = [len(poses) - 1]
            for share in _shares(move):
                poses.append(move.at(share))
                numbers.append(len(poses) - 1)
            at_move.append(numbers)
        ends.append((first, len(poses) - 1))
    swept = simplified_outward(swept_outline(shape, route.moves), SLACK)
    return told | {
        "clearance": said(route.clearance, "gap", system),
        "steps": [
            {
                "number": step.number,
                "words": instruction(standing, room, step, system),
                "first": first,
                "last": last,
            }
            for step, (first, last) in zip(steps, ends, strict=True)
        ],
        "poses": [[pose.x, pose.y, pose.heading] for pose in poses],
        "lengths": _lengths(poses),
        "tight": [
            _tight(t, _number(at_move[t.move], t.share), _step_of(steps, t), system)
            for t in found.tight
        ],
        "swept": [_ring(piece) for piece in getattr(swept, "geoms", [swept])],
    }


def _shares(move: Move) -> Sequence[float]:
    """Shares of a move at which a pose is told; the last is 1."""
    run = math.dist((move.start.x, move.start.y), (move.end.x, move.end.y))
    count = max(1, math.ceil((run + ARM * abs(move.turn)) / APART))
    return [(k + 1) / count for k in range(count)]


def _lengths(poses: Sequence[Pose]) -> list[float]:
    """How far the parking point has come at each pose [m]."""
    points = np.array([[pose.x, pose.y] for pose in poses])
    runs = np.linalg.norm(np.diff(points, axis=0), axis=1)
    return [0.0, *(float(x) for x in np.cumsum(runs))]


def _number(numbers: Sequence[int], share: float) -> int:
    return numbers[round(share * (len(numbers) - 1))]


def _step_of(steps: Sequence[Step], tight: Tight) -> int:
    step = step_at(steps, tight)
    return 0 if step is None else step.number


def _tight(tight: Tight, pose: int, step: int, system: str) -> Record:
    """An instant at which it is tight, with its own pose; pose : the nearest of those told."""
    return {
        "pose": pose,
        "step": step,
        "at": [tight.pose.x, tight.pose.y, tight.pose.heading],
        "gap": tight.gap,
        "text": said(tight.gap, "gap", system),
        "part": tight.part,
        "thing": tight.thing,
        "from": [float(x) for x in tight.at_part],
        "to": [float(x) for x in tight.at_thing],
    }


def _ring(piece: object) -> list[list[float]]:
    import shapely

    assert isinstance(piece, shapely.Polygon)
    return [[float(x), float(y)] for x, y in piece.exterior.coords]
