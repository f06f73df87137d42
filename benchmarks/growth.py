"""How time grows with obstacles, parts, stages x places and options; drawn for the docs.

Run: python -m benchmarks.growth [--limit 20] [-o docs/pictures/growth.svg]
Each line ends at the first point that takes longer than the limit (a study's: twice as much), or
that would; a search that the limit ends is drawn as a cross. Short points are medians of three. A
study runs in this process, on two, and on a dask scheduler with two workers (the `cluster` extra);
the start of processes is counted in, that of the cluster's workers is not.
"""

from __future__ import annotations

import argparse
import statistics
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import numpy as np

import planform as pf
from benchmarks.answers import ROOMS, ROOT
from benchmarks.calibration import calibrated
from planform.design.load import design_from
from planform.fit.ground_plan import Keep
from planform.fit.question import question_for, time_limit
from planform.fit.room import Fixed
from planform.fit.straight import judge_straight
from planform.fit.way_out import OPEN, way_out
from planform.study.compare import default_terms, evaluate, study_of
from planform.study.options import grid, variation
from planform.study.run import run_study
from planform.study.stages import stage_table

KEPT = 0.15
"""Clearance that a way out is asked to keep [m]."""

OBSTACLES = (1, 3, 10, 30, 100, 300, 1000)
PARTS = (10, 40, 70, 100)
CELLS = (1, 2, 4, 8, 16)
OPTIONS = (4, 8, 16, 32)


@dataclass
class Line:
    """Seconds against a number; ended : whether the search was ended by its limit at the last."""

    name: str
    at: list[int] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)
    ended: bool = False


def grown(
    name: str, sizes: Iterable[int], job: Callable[[int], Callable[[], Any]], limit: float
) -> Line:
    """A line of a job made for each size, until one takes longer than the limit [s].

    job : makes what is timed; what it returns counts as undecided where it is that word
    """
    line = Line(name)
    for size in sizes:
        if len(line.at) > 1:
            steep = line.seconds[-1] * size / line.at[-1]
            if line.seconds[-1] > 1.0 and steep > 2.0 * limit:
                break
        work, times = job(size), []
        for _ in range(3):
            began = time.perf_counter()
            answer = work()
            times.append(time.perf_counter() - began)
            if times[-1] > 1.0:
                break
        line.at.append(size)
        line.seconds.append(statistics.median(times))
        line.ended = answer == OPEN
        print(f"{name}, {size}: {line.seconds[-1]:.3f} s{', ' + answer if line.ended else ''}")
        if line.ended or line.seconds[-1] > limit:
            break
    return line


def decision(standing: Any, room: Any, limit: float) -> Callable[[], str]:
    """One decision from scratch."""
    return lambda: (
        way_out(question_for(standing, room, None, Keep.nothing()), KEPT, time_limit(limit)).answer
    )


def with_posts(room: Any, count: int) -> Any:
    """A room with posts of 4 cm all along its two side walls."""
    wide, deep = room.floor.max(axis=0)
    posts = []
    for k in range(count):
        at = deep * (k // 2 + 0.5) / max(1, (count + 1) // 2)
        size = min(0.04, 0.5 * deep / max(1, count // 2))
        x = 0.02 if k % 2 else wide - 0.06
        ring = np.array([[x, at], [x + 0.04, at], [x + 0.04, at + size], [x, at + size]])
        posts.append(Fixed(f"post {k}", "obstacle", ring, 0.0, room.top))
    return replace(room, fixed=(*room.fixed, *posts))


def obstacles(limit: float) -> list[Line]:
    """Against the number of obstacles."""
    standing = pf.stand_all(pf.build(pf.load(ROOT / "designs/quillwort.toml")))[-1]
    bare = pf.build_room(pf.load_place(ROOMS / "benches.toml"))
    decision(standing, bare, 600.0)()  # compiled code is loaded once

    def parked(count: int) -> Callable[[], None]:
        room = with_posts(bare, count)
        return lambda: judge_straight(standing, room) and None

    def decided(count: int) -> Callable[[], str]:
        return decision(standing, with_posts(bare, count), limit)

    return [
        grown("parked and straight out", OBSTACLES, parked, limit),
        grown("one decision on a way out", OBSTACLES, decided, limit),
    ]


def with_rods(count: int) -> Any:
    """A design of so many parts: the second demo, with short rods upright on its wing."""
    import tomllib

    table = tomllib.loads((ROOT / "designs/quillwort.toml").read_text(encoding="utf-8"))
    more = count - len(pf.stand_all(pf.build(design_from(table)))[-1].parts)
    if more > 0:
        table["fittings"] = {
            f"rod {k}": {
                "on": "wing",
                "side": "left" if k % 2 else "right",
                "at": {"fs": "2700 mm", "bl": f"{600 + 1000 * k / more:.0f} mm", "wl": "480 mm"},
                "toward": "up",
                "rod": {"length": "150 mm", "diameter": "10 mm"},
            }
            for k in range(more)
        }
    return design_from(table)


def parts(limit: float) -> list[Line]:
    """Against the number of parts."""
    room = pf.build_room(pf.load_place(ROOMS / "benches.toml"))
    designs = {}
    for wanted in PARTS:
        design = with_rods(wanted)
        designs[len(pf.stand_all(pf.build(design))[-1].parts)] = design

    def standing(count: int) -> Any:
        return pf.stand_all(pf.build(designs[count]))[-1]

    def built(count: int) -> Callable[[], None]:
        return lambda: standing(count) and None

    def parked(count: int) -> Callable[[], None]:
        there = standing(count)  # each run gets a copy, as what is kept goes with the aircraft
        return lambda: judge_straight(replace(there), room) and None

    def decided(count: int) -> Callable[[], str]:
        return decision(standing(count), room, limit)

    return [
        grown("built and stood", designs, built, limit),
        grown("parked and straight out", designs, parked, limit),
        grown("one decision on a way out", designs, decided, limit),
    ]


def table(limit: float) -> list[Line]:
    """Stages x places, judged whole, in this process."""
    standings = pf.stand_all(pf.build(pf.load(ROOT / "designs/quillwort.toml")))
    place = pf.load_place(ROOMS / "wide-door.toml")

    def job(cells: int) -> Callable[[], None]:
        stages = standings[-2:] if cells > 1 else standings[-1:]
        places = [
            place.model_copy(update={"name": f"bay {k}"}) for k in range(cells // len(stages))
        ]
        return lambda: stage_table(stages, places, workers=1) and None

    return [grown("stages x places, one process", CELLS, job, limit)]


@contextmanager
def cluster() -> Iterator[str | None]:
    """The address of a dask scheduler with two workers here; None without the extra."""
    try:
        from distributed import Client, LocalCluster
    except ImportError:
        print("no cluster: its extra is not installed")
        yield None
        return
    with (
        LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as workers,
        Client(workers) as client,
    ):
        client.wait_for_workers(2)
        yield workers.scheduler_address


def options(limit: float) -> list[Line]:
    """Options of a study in a room: in this process, on two, on a cluster of two workers."""
    design = pf.load(ROOT / "designs/quillwort.toml")
    terms, _ = default_terms(design)
    study = study_of(design, pf.load_place(ROOMS / "wide-door.toml"), terms)

    def job(**how: Any) -> Callable[[int], Callable[[], None]]:
        def made(count: int) -> Callable[[], None]:
            said = ", ".join(f"{0.25 * k} deg" for k in range(1, count + 1))
            wanted = grid(design, [variation("cant", said)])[:count]
            return lambda: run_study(study, wanted, **how) and None

        return made

    evaluate(study, grid(design, [variation("cant", "3 deg")])[0])
    out = [
        grown("options, one process", OPTIONS, job(workers=1), limit),
        grown("options, two processes", OPTIONS, job(workers=2), limit),
    ]
    with cluster() as address:
        if address is not None:
            run = job(scheduler=address)
            run(4)()  # its workers load their modules once
            out.append(grown("options, cluster of two workers", OPTIONS, run, limit))
    return out


def drawn(panels: dict[str, list[Line]], told: str) -> str:
    """The lines as one picture."""
    from planform.drawing.charts import SHADES, chart, chart_svg

    with chart("growth", 12.4, 4.6) as (figure, axes):
        axes.remove()
        every = [s for lines in panels.values() for line in lines for s in line.seconds]
        low, high = 0.7 * min(every), 8.0 * max(every)
        powers = [10.0**k for k in range(-3, 4) if low <= 10.0**k <= high]
        places = figure.subplots(1, len(panels))
        for place, (name, lines) in zip(places, panels.items(), strict=True):
            for line, shade in zip(lines, SHADES, strict=False):
                place.plot(line.at, line.seconds, marker="o", color=shade, label=line.name)
                if line.ended:
                    place.plot(line.at[-1:], line.seconds[-1:], "X", color=shade, markersize=11)
            place.set(xscale="log", yscale="log", xlabel=name)
            ticks = sorted({at for line in lines for at in line.at})
            place.set_xticks(ticks, [str(at) for at in ticks], minor=False)
            place.set_xticks([], minor=True)
            place.set_ylim(low, high)
            place.set_yticks(powers, [f"{power:g}" for power in powers], minor=False)
            place.set_yticks([], minor=True)
            place.grid(which="major", alpha=0.4)
            place.legend(loc="upper left", fontsize=7.5)
        figure.axes[0].set_ylabel("seconds by the clock")
        figure.suptitle(told, fontsize=8.5, x=0.01, ha="left")
        return chart_svg(figure, "Seconds against obstacles, parts, cells of a table and options")


def main() -> None:
    """Measure, print and draw."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--limit", type=float, default=20.0)
    parser.add_argument("-o", "--output", type=Path, default=ROOT / "docs/pictures/growth.svg")
    given = parser.parse_args()
    told = calibrated()
    print(told)
    panels = {
        "obstacles": obstacles(given.limit),
        "parts of the aircraft": parts(given.limit),
        "cells (stages x places), options": [
            *table(given.limit),
            *options(2.0 * given.limit),  # long enough to see past the start of processes
        ],
    }
    given.output.write_text(drawn(panels, told), encoding="utf-8")
    print(f"drawn: {given.output}")


if __name__ == "__main__":
    main()
