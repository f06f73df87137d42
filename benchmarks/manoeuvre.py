"""Ways out of the graded rooms: the certified search beside sampling planners and a lattice.

Run: python -m benchmarks.manoeuvre [--rooms NAME...] [--seeds 5] [--cap 30] [--alone] [-o FILE]
     python -m benchmarks.manoeuvre --door      least door width, bracketed
`--alone` leaves the peers out; they need the `benchmark` extra (ompl). Each room is asked for the
greatest clearance to 2 mm (wanted: 5 s) and for one decision 2 cm either side of it (wanted: 1 s),
each from scratch, and its answer is held against `answers.toml` where that knows it. Every way of
every method is swept by the second checker (`planform.fit.proof.sweep`, exact outlines, 0.1 mm),
every proof of ours that there is none is gone over; an answer that fails counts as none. Wanted
beside the peers: in the tight rooms our median at most 1/6 of RRT-Connect's, unsolved counting as
the cap. How long growth takes is told by `benchmarks/growth.py`.
"""

from __future__ import annotations

import argparse
import json
import resource
import statistics
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

import planform as pf
from benchmarks.answers import ROOMS, Answer, loaded, room_names, row_of
from benchmarks.calibration import calibrated
from benchmarks.peers import PLANNERS, Found, lattice, sampled
from planform.fit.ground_plan import Keep
from planform.fit.proof import fault_in, sweep
from planform.fit.question import Question, question_for, time_limit
from planform.fit.way_out import NONE, OPEN, WAY, greatest_clearance, way_out

TIGHT = ("benches", "column", "screw", "sideways", "tight-bay")
BESIDE, CLOSE = 0.020, 0.002
"""How far beside the greatest clearance one asks, and how closely that is looked for [m]."""
DECISION, GREATEST, DECIDED = 1.0, 5.0, 5.0
"""Seconds wanted: one decision, the greatest clearance, and a decision in any room at all."""
LIMIT = 60.0
"""Seconds after which a search of ours is ended."""

Checked = tuple[bool, float, str]
"""Whether an answer holds, its seconds, and in a word what the second checker saw."""


@dataclass
class Tally:
    """What is counted over all rooms."""

    wrong: list[str] = field(default_factory=list)
    failed: list[str] = field(default_factory=list)
    slow: list[str] = field(default_factory=list)

    def told(self) -> str:
        """In one line each."""
        kinds = ("wrong", self.wrong), ("fail the sweep or the check of the proof", self.failed)
        lines = [f"{len(which)} {what}{_listed(which)}" for what, which in kinds]
        return "\n".join([*lines, f"{len(self.slow)} not decided in 5 s{_listed(self.slow)}"])


def _listed(names: list[str]) -> str:
    return f": {'; '.join(names)}" if names else ""


def asked(standing: Any, room: Any) -> Question:
    """The bare question of a room, nothing kept from an earlier one."""
    return question_for(standing, room, None, Keep.nothing())


def ours(question: Question, c: float, cap: float) -> Found:
    """The certified search."""
    began = time.perf_counter()
    found = way_out(question, c, time_limit(cap))
    return found.answer, time.perf_counter() - began, found.route


def checked(question: Question, c: float, found: Found) -> Checked:
    """An answer and what the second checker says of it."""
    answer, seconds, route = found
    if answer == WAY and route is not None:
        swept = sweep(question.plan, route, c)
        word = "swept" if swept.good else f"fails at {swept.least * 1e3:.1f} mm"
        return swept.good, seconds, word
    if answer == NONE:
        if not question.boxes:
            return True, seconds, "by heights, the spot or a line alone"
        wrong = fault_in(question.searched, question.cells.closed(min(c, question.cells.cap)))
        return not wrong, seconds, wrong or "proof checked"
    return False, seconds, answer


def greatest(answer: Answer, standing: Any, room: Any, tally: Tally) -> tuple[float, float, str]:
    """The greatest clearance to 2 mm: the bracket, and a line about it."""
    question = asked(standing, room)
    began = time.perf_counter()
    found = greatest_clearance(question, CLOSE, time_limit(LIMIT))
    seconds = time.perf_counter() - began
    line = (
        f"  greatest clearance {found.low:.4f} to {found.high:.4f} m in {seconds:.2f} s "
        f"(wanted {GREATEST:.0f} s), {question.boxes} boxes"
    )
    if found.limited:
        line += f"; {found.limited}"
    if answer.known:
        less = question.plan.drawn_out + standing.bulge  # outlines count larger by that
        good = found.low <= answer.high + 1e-4 and found.high >= answer.low - less
        if not good:
            tally.wrong.append(f"{answer.room}: greatest clearance")
        line += (
            f"\n  known {answer.low:.4f} to {answer.high:.4f} m: {'agrees' if good else 'WRONG'}"
            f" ({answer.by})"
        )
    return found.low, found.high, line


def beside(
    answer: Answer, standing: Any, room: Any, bracket: tuple[float, float], tally: Tally
) -> dict[str, tuple[str, float]]:
    """Decisions 2 cm either side of what is known, else of what was found, each from scratch."""
    low, high = (answer.low, answer.high) if answer.known else bracket
    out = {}
    for side, c, right in (
        ("2 cm inside", low - BESIDE, WAY),
        ("2 cm outside", high + BESIDE, NONE),
    ):
        question = asked(standing, room)
        if not np.isfinite(c) or c < 0.0:
            continue
        found = ours(question, c, LIMIT)
        told, seconds, _ = found
        name = f"{answer.room} {side}"
        if told == OPEN or seconds > DECIDED:
            tally.slow.append(f"{name} ({told}, {seconds:.1f} s)")
        if told != OPEN:
            if told != right:
                tally.wrong.append(name)
            if not checked(question, c, found)[0]:
                tally.failed.append(name)
        out[side] = told, seconds
    return out


def one_room(name: str, seeds: int, cap: float, peers: bool, tally: Tally) -> dict[str, Any]:
    """Every method in one room."""
    answer = row_of(name)
    standing, room = loaded(answer)
    low, high, line = greatest(answer, standing, room, tally)
    print(f"{name}\n{line}", flush=True)
    sides = beside(answer, standing, room, (low, high), tally)
    for side, (told, seconds) in sides.items():
        print(f"  {side}: {told} in {seconds:.2f} s (wanted {DECISION:.0f} s)", flush=True)
    c = max(0.0, answer.low - BESIDE) if answer.known else 0.0
    row: dict[str, Any] = {"room": name, "bracket": (low, high), "sides": sides, "asked": c}
    runs: dict[str, list[Checked]] = {"ours": []}
    for _ in range(seeds):
        question = asked(standing, room)
        runs["ours"].append(checked(question, c, ours(question, c, cap)))
    if peers:
        question = asked(standing, room)
        runs["lattice"] = [checked(question, c, lattice(question, c, cap))]
        for planner in PLANNERS:
            runs[planner] = []
            for seed in range(1, seeds + 1):
                question = asked(standing, room)
                found = sampled(planner, question, c, seed, cap)
                runs[planner].append(checked(question, c, found))
    tally.failed += [
        f"{name} by {method}: {word}"
        for method, some in runs.items()
        for good, _, word in some
        if not good and word not in (OPEN, "not found") and method == "ours"
    ]
    print(told_runs(runs, c, cap), flush=True)
    return {**row, **runs}


def median(runs: list[Checked], cap: float) -> float:
    """Median seconds; a run without an answer that holds counts as the cap."""
    return statistics.median(seconds if good else cap for good, seconds, _ in runs)


def told_runs(runs: dict[str, list[Checked]], c: float, cap: float) -> str:
    """The methods beside one another, in lines."""
    out = [f"  a way that keeps {c:.3f} m:"]
    mine = median(runs["ours"], cap)
    for method, some in runs.items():
        good = sum(ok for ok, _, _ in some)
        middle = median(some, cap)
        words = sorted({word for _, _, word in some})
        ratio = "" if method == "ours" else f", {middle / max(mine, 1e-4):.1f} times ours"
        out.append(
            f"    {method:11s} {good} of {len(some)} hold, median {middle:7.3f} s{ratio}; {words}"
        )
    return "\n".join(out)


def least_door(cap: float) -> None:
    """The least width of the screw room's door, bracketed to 20 mm by proved answers."""
    import tomllib

    from planform.design.load import place_from

    standing, _ = loaded(row_of("screw"))
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
    parser.add_argument("--alone", action="store_true", help="without the peers")
    parser.add_argument("--door", action="store_true")
    parser.add_argument("-o", "--output", type=Path)
    given = parser.parse_args()
    print(calibrated())
    if given.door:
        least_door(given.cap)
        return
    warm = loaded(row_of("wide-door"))
    way_out(asked(*warm), 1.0, time_limit(600.0))  # compiled code is loaded once
    tally, rows = Tally(), []
    for name in given.rooms or room_names():
        rows.append(one_room(name, given.seeds, given.cap, not given.alone, tally))
    tight = [r for r in rows if r["room"] in TIGHT]
    if tight and not given.alone:
        mine = statistics.median(median(r["ours"], given.cap) for r in tight)
        theirs = statistics.median(median(r["RRTConnect"], given.cap) for r in tight)
        print(f"tight rooms: ours {mine:.3f} s, RRT-Connect {theirs:.3f} s", end="")
        print(f", {theirs / mine:.0f} times ours")
    print(tally.told())
    print(calibrated())
    if given.output is not None:
        given.output.write_text(json.dumps(rows, indent=1, default=str), encoding="utf-8")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    print(f"peak memory {peak:.0f} MB", file=sys.stderr)


if __name__ == "__main__":
    main()
