"""Ways out of the graded rooms: the certified search beside sampling planners and a lattice.

Run: python benchmarks/manoeuvre.py [--seeds 5] [--cap 30] [--rooms NAME...] [-o FILE]
     python benchmarks/manoeuvre.py --growth        obstacles doubled and doubled again
     python benchmarks/manoeuvre.py --door          least door width, bracketed
Needs the `benchmark` extra (ompl). Every route of every method is swept by the same second checker
(`planform.fit.proof.sweep`, exact outlines, 0.1 mm); one that fails counts as no answer. Wanted: in
the tight rooms our median at most 1/6 of RRT-Connect's, unsolved counting as the cap.
"""

from __future__ import annotations

import argparse
import heapq
import itertools
import json
import resource
import statistics
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np

import planform as pf
from planform.fit.ground_plan import Keep
from planform.fit.moves import Move, Route
from planform.fit.proof import fault_in, sweep
from planform.fit.question import Question, question_for, time_limit
from planform.fit.way_out import NONE, WAY, greatest_clearance, way_out

ROOT = Path(__file__).parents[1]
ROOMS = ROOT / "benchmarks/rooms"
TIGHT = ("benches", "column", "screw", "sideways", "tight-bay")
PLANNERS = ("RRTConnect", "BKPIECE1")

Found = tuple[str, float, Route | None]
"""The answer, seconds, and a route where there is one."""


def aircraft() -> Any:
    """The aircraft of the graded rooms."""
    return pf.stand_all(pf.build(pf.load(ROOT / "designs/quillwort.toml")))[-1]


def asked(standing: Any, place: Path) -> Question:
    """The bare question of a room, nothing kept from an earlier one."""
    return question_for(standing, pf.build_room(pf.load_place(place)), None, Keep.nothing())


def ours(question: Question, cap: float) -> Found:
    """The certified search."""
    began = time.perf_counter()
    found = way_out(question, 0.0, time_limit(cap))
    return found.answer, time.perf_counter() - began, found.route


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


def goals(question: Question) -> list[tuple[float, float, float]]:
    """Poses outside, straight off each door, at sixteen headings."""
    from planform.fit.question import door_ways

    out = []
    for middle, way in door_ways(question.plan.room.place):
        at = middle + way * (question.scene.reach + question.plan.beyond + 0.1)
        for k in range(16):
            pose = float(at[0]), float(at[1]), 2.0 * np.pi * k / 16 - np.pi
            if question.scene.clearance(pose)[0] >= 0.0 and question.scene.off_floor(pose) >= 0.0:
                out.append(pose)
    return out


def sampled(name: str, question: Question, seed: int, cap: float) -> Found:
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
        return question.scene.clearance((state.getX(), state.getY(), state.getYaw()))[0] >= 0.0

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
    for pose in goals(question):
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


def lattice(question: Question, cap: float, step: float = 0.1, turns: int = 72) -> Found:
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
            if value >= 0.0:
                before[other] = node
                heapq.heappush(queue, (max(width, -value), other))
    return "not found", time.perf_counter() - began, None


def checked(question: Question, found: Found) -> tuple[bool, float, str]:
    """Whether an answer holds, its seconds, and in a word what the second checker saw."""
    answer, seconds, route = found
    if answer == WAY and route is not None:
        swept = sweep(question.plan, route, 0.0)
        return (
            swept.good,
            seconds,
            "swept" if swept.good else f"fails at {swept.least * 1e3:.1f} mm",
        )
    if answer == NONE:
        try:
            wrong = fault_in(question.searched, question.cells.closed(0.0))
        except ValueError:
            return True, seconds, "by heights alone"  # there are no boxes to look at
        return not wrong, seconds, wrong or "proof checked"
    return False, seconds, answer


def bracket(standing: Any, place: Path) -> dict[str, Any]:
    """The greatest clearance to 12 mm, and decisions 2 cm either side of it, each from scratch."""
    question = asked(standing, place)
    began = time.perf_counter()
    found = greatest_clearance(question, watch=time_limit(60.0))
    whole = time.perf_counter() - began
    out: dict[str, Any] = {
        "low": found.low, "high": found.high, "limited": found.limited, "seconds": whole,
        "boxes": question.cells.boxes,
    }  # fmt: skip
    for side, c in (("2 cm inside", found.low - 0.019), ("2 cm outside", found.high + 0.019)):
        again = asked(standing, place)
        if not np.isfinite(c) or c > again.cells.cap:
            continue
        began = time.perf_counter()
        answer = way_out(again, c, time_limit(60.0)).answer
        out[side] = (answer, time.perf_counter() - began)
    return out


def compare(names: list[str], seeds: int, cap: float) -> list[dict[str, Any]]:
    """Every method in every room."""
    standing = aircraft()
    ours(asked(standing, ROOMS / "wide-door.toml"), cap)  # compiled code is loaded once
    rows = []
    for name in names:
        place = ROOMS / f"{name}.toml"
        row: dict[str, Any] = {"room": name, "bracket": bracket(standing, place)}
        runs = []
        for _ in range(seeds):
            question = asked(standing, place)
            runs.append(checked(question, ours(question, cap)))
        row["ours"] = runs
        question = asked(standing, place)
        row["lattice"] = [checked(question, lattice(question, cap))]
        for planner in PLANNERS:
            row[planner] = []
            for seed in range(1, seeds + 1):
                question = asked(standing, place)
                row[planner].append(checked(question, sampled(planner, question, seed, cap)))
        rows.append(row)
        print(told(row, cap), flush=True)
    return rows


def median(runs: list[tuple[bool, float, str]], cap: float) -> float:
    """Median seconds; a run without an answer that holds counts as the cap."""
    return statistics.median(seconds if good else cap for good, seconds, _ in runs)


def told(row: dict[str, Any], cap: float) -> str:
    """One room in lines."""
    b = row["bracket"]
    out = [
        f"{row['room']}: greatest clearance {b['low']:.4f} to {b['high']:.4f} m in "
        f"{b['seconds']:.2f} s ({b['boxes']} boxes)"
        + "".join(f"; {s}: {b[s][0]} in {b[s][1]:.2f} s" for s in b if s.startswith("2 cm"))
    ]
    mine = median(row["ours"], cap)
    for method in ("ours", "lattice", *PLANNERS):
        runs = row[method]
        good = sum(ok for ok, _, _ in runs)
        middle = median(runs, cap)
        words = sorted({word for _, _, word in runs})
        ratio = "" if method == "ours" else f", {middle / max(mine, 1e-4):.1f} times ours"
        out.append(
            f"  {method:11s} {good} of {len(runs)} hold, median {middle:7.3f} s{ratio}; {words}"
        )
    return "\n".join(out)


def growth(cap: float) -> None:
    """Seconds and boxes of one decision as posts are added along the walls."""
    from dataclasses import replace

    from planform.fit.room import Fixed

    standing = aircraft()
    place = ROOMS / "benches.toml"
    ours(asked(standing, place), cap)
    for count in (0, 8, 16, 32, 64, 128, 256):
        room = pf.build_room(pf.load_place(place))
        wide = float(room.floor[:, 0].max())
        deep = float(room.floor[:, 1].max())
        posts = []
        for k in range(count):
            at = deep * (k // 2 + 0.5) / max(1, (count + 1) // 2)
            x = 0.02 if k % 2 else wide - 0.06
            ring = np.array([[x, at], [x + 0.04, at], [x + 0.04, at + 0.04], [x, at + 0.04]])
            posts.append(Fixed(f"post {k}", "obstacle", ring, 0.0, room.top))
        room = replace(room, fixed=(*room.fixed, *posts))
        times = []
        for _ in range(5):
            question = question_for(standing, room, None, Keep.nothing())
            began = time.perf_counter()
            found = way_out(question, 0.15, time_limit(cap))
            times.append(time.perf_counter() - began)
        pairs = len(question.scene.planar.piece)
        print(
            f"{count:4d} posts, {pairs:5d} pairs: {found.answer}, "
            f"median {statistics.median(times):.3f} s, {question.cells.boxes} boxes",
            flush=True,
        )


def least_door(cap: float) -> None:
    """The least width of the screw room's door, bracketed to 20 mm by proved answers."""
    import tomllib

    from planform.design.load import place_from

    standing = aircraft()
    table = tomllib.loads((ROOMS / "screw.toml").read_text(encoding="utf-8"))
    door = table["doors"][0]
    middle = float(door["from_corner"].split()[0]) + 0.5 * float(door["clear_width"].split()[0])

    def way(width: float) -> str:
        door["clear_width"] = f"{width:.1f} mm"
        door["from_corner"] = f"{middle - 0.5 * width:.1f} mm"
        question = question_for(standing, pf.build_room(place_from(table)), None, Keep.nothing())
        return way_out(question, 0.0, time_limit(cap)).answer

    began = time.perf_counter()
    low, high = 2000.0, float(door["clear_width"].split()[0])
    while high - low > 20.0:
        answer = way(0.5 * (low + high))
        print(f"  {0.5 * (low + high):.0f} mm: {answer}, {time.perf_counter() - began:.1f} s")
        if answer not in (WAY, NONE):
            break
        low, high = (low, 0.5 * (low + high)) if answer == WAY else (0.5 * (low + high), high)
    print(f"least door {low:.0f} to {high:.0f} mm in {time.perf_counter() - began:.1f} s")


def main() -> None:
    """Run what is asked for and print it."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--seeds", type=int, default=5)
    parser.add_argument("--cap", type=float, default=30.0)
    parser.add_argument("--rooms", nargs="*")
    parser.add_argument("--growth", action="store_true")
    parser.add_argument("--door", action="store_true")
    parser.add_argument("-o", "--output", type=Path)
    asked_for = parser.parse_args()
    if asked_for.growth:
        growth(asked_for.cap)
    elif asked_for.door:
        least_door(asked_for.cap)
    else:
        names = asked_for.rooms or sorted(p.stem for p in ROOMS.glob("*.toml"))
        rows = compare(names, asked_for.seeds, asked_for.cap)
        tight = [r for r in rows if r["room"] in TIGHT]
        if tight:
            mine = statistics.median(median(r["ours"], asked_for.cap) for r in tight)
            theirs = statistics.median(median(r["RRTConnect"], asked_for.cap) for r in tight)
            print(f"tight rooms: ours {mine:.3f} s, RRT-Connect {theirs:.3f} s", end="")
            print(f", {theirs / mine:.0f} times ours")
        if asked_for.output is not None:
            asked_for.output.write_text(json.dumps(rows, indent=1, default=str), encoding="utf-8")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    print(f"peak memory {peak:.0f} MB", file=sys.stderr)


if __name__ == "__main__":
    main()
