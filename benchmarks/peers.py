"""Peers of the search: sampling planners of a general library, and a clearance lattice.

Each is asked for a way that keeps a clearance c [m]; none can tell that there is none.
"""

from __future__ import annotations

import heapq
import itertools
import time
from typing import Any

import numpy as np

from planform.fit.moves import Move, Route
from planform.fit.question import Question, door_ways
from planform.fit.way_out import WAY

PLANNERS = ("RRTConnect", "BKPIECE1")

Found = tuple[str, float, Route | None]
"""The answer, seconds, and a route where there is one."""


def route_of(question: Question, poses: list[tuple[float, float, float]]) -> Route:
    """Poses of the pivot as a route."""
    plan = question.plan
    carried = (float(plan.pivot[0]), float(plan.pivot[1]))
    there = [plan.pose_at(*pose) for pose in poses]
    moves = tuple(Move(a, b, None, carried) for a, b in itertools.pairwise(there))
    return Route(moves, 0.0, "dollies")


def unwound(poses: np.ndarray[Any, Any]) -> list[tuple[float, float, float]]:
    """Headings without jumps, so that each move turns the short way."""
    poses[:, 2] = np.unwrap(poses[:, 2])
    return [tuple(map(float, pose)) for pose in poses]  # type: ignore[misc]


def goals(question: Question, c: float) -> list[tuple[float, float, float]]:
    """Poses outside, straight off each door, at sixteen headings."""
    out = []
    for middle, way in door_ways(question.plan.room.place):
        at = middle + way * (question.scene.reach + question.plan.beyond + 0.1)
        for k in range(16):
            pose = float(at[0]), float(at[1]), 2.0 * np.pi * k / 16 - np.pi
            if question.scene.clearance(pose)[0] >= c and question.scene.off_floor(pose) >= 0.0:
                out.append(pose)
    return out


def sampled(name: str, question: Question, c: float, seed: int, cap: float) -> Found:
    """A sampling planner of a general library (ompl), with its own defaults."""
    from ompl import base as ob
    from ompl import geometric as og
    from ompl import util as ou

    ou.setLogLevel(ou.LogLevel.LOG_NONE)
    ou.RNG.setSeed(seed)
    space = ob.SE2StateSpace()
    edge = question.scene.reach + question.plan.beyond + 0.3
    floors = question.scene.outside.floors
    bounds = ob.RealVectorBounds(2)
    for axis in range(2):
        bounds.setLow(axis, float(floors[:, axis].min()) - edge)
        bounds.setHigh(axis, float(floors[:, axis].max()) + edge)
    space.setBounds(bounds)
    setup = og.SimpleSetup(space)

    def valid(state: Any) -> bool:
        return question.scene.clearance((state.getX(), state.getY(), state.getYaw()))[0] >= c

    setup.setStateValidityChecker(valid)
    information = setup.getSpaceInformation()
    information.setStateValidityCheckingResolution(0.002)

    def state_at(pose: tuple[float, float, float]) -> Any:
        state = space.allocState()
        x, y, heading = pose
        state.setX(x)
        state.setY(y)
        state.setYaw((heading + np.pi) % (2.0 * np.pi) - np.pi)
        return state

    setup.setStartState(state_at(question.start_at))
    ends = ob.GoalStates(information)
    for pose in goals(question, c):
        ends.addState(state_at(pose))
    setup.setGoal(ends)
    setup.setPlanner(getattr(og, name)(information))
    began = time.perf_counter()
    setup.solve(cap)
    seconds = time.perf_counter() - began
    if not setup.haveExactSolutionPath():
        return "not found", seconds, None
    states = setup.getSolutionPath().getStates()
    poses = np.array([(s.getX(), s.getY(), s.getYaw()) for s in states])
    return WAY, seconds, route_of(question, unwound(poses))


def lattice(question: Question, c: float, cap: float, step: float = 0.1, turns: int = 72) -> Found:
    """A clearance-field lattice: the route of steps whose least clearance is the greatest.

    Nodes 0.1 m and 5 deg apart; the clearance at a node is computed when it is first met.
    """
    began = time.perf_counter()
    x, y, heading = question.start_at
    turn = 2.0 * np.pi / turns
    field: dict[tuple[int, int, int], float] = {}

    def pose(node: tuple[int, int, int]) -> tuple[float, float, float]:
        return x + step * node[0], y + step * node[1], heading + turn * node[2]

    def clear(node: tuple[int, int, int]) -> float:
        if node not in field:
            field[node] = question.scene.clearance(pose(node))[0]
        return field[node]

    home = (0, 0, 0)
    queue = [(-clear(home), home)]
    before: dict[tuple[int, int, int], tuple[int, int, int] | None] = {home: None}
    sides = [(dx, dy, 0) for dx in (-1, 0, 1) for dy in (-1, 0, 1) if dx or dy]
    sides += [(0, 0, 1), (0, 0, -1)]
    while queue:
        if time.perf_counter() - began > cap:
            return "not found", time.perf_counter() - began, None
        width, node = heapq.heappop(queue)
        if question.scene.off_floor(pose(node)) >= 0.0:
            seconds = time.perf_counter() - began
            back = [node]
            while (last := before[back[-1]]) is not None:
                back.append(last)
            return WAY, seconds, route_of(question, [pose(n) for n in reversed(back)])
        for dx, dy, dt in sides:
            other = (node[0] + dx, node[1] + dy, node[2] + dt)
            if other in before or abs(other[2]) > turns:
                continue
            value = clear(other)
            if value >= c:
                before[other] = node
                heapq.heappush(queue, (max(width, -value), other))
    return "not found", time.perf_counter() - began, None
