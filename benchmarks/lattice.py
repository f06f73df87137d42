"""The lattice beside LAPACK, a comparison beside one solve, and a study on processes, in one run.

Run: python benchmarks/lattice.py. Wanted: assembly at most 8x LAPACK's solve of the same matrix at
950 panels and 4x at 1,900; seven cants with trim under 15x one solve with assembly at that size;
near-linear speed-up with processes; overhead of a study below 5 % of its work. One numeric thread.
"""

from __future__ import annotations

import os

os.environ.update(dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"), "1"))

import statistics
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from scipy.linalg import lu_factor, lu_solve

import planform as pf
from planform.aero.flow import solve
from planform.aero.lifting import lifting_surfaces
from planform.core.flow.lattice import influence
from planform.core.flow.strips import strip_up
from planform.study.compare import default_terms, evaluate, study_of
from planform.study.options import changed_design, grid, variation
from planform.study.run import run_study

ROOT = Path(__file__).parents[1]


def median(job: Callable[[], object], runs: int = 5) -> float:
    """Median time of a job [s]; once before, unmeasured."""
    job()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        job()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def lattice() -> None:
    """Assembly and LAPACK's solve of the same matrix."""
    airframe = pf.build(pf.load(ROOT / "designs/marram.toml"))
    lines = [s.line for s in lifting_surfaces(airframe)]
    for strips, rows, wanted in ((95, 6, 8.0), (190, 6, 4.0)):
        chains = strip_up(lines, strips, rows)
        matrix = influence(chains)
        right = np.ones(len(matrix))
        assembly = median(lambda chains=chains: influence(chains))
        lapack = median(lambda m=matrix, r=right: lu_solve(lu_factor(m), r))
        print(
            f"{len(matrix)} panels: assembly {assembly * 1e3:.0f} ms / LAPACK {lapack * 1e3:.0f} ms"
            f" = {assembly / lapack:.2f} (wanted at most {wanted:.0f})"
        )


def seven_cants() -> None:
    """Seven cants, each assembled, solved, trimmed, its drag and bending read; built beforehand."""
    design = pf.load(ROOT / "designs/marram.toml")
    built = [
        lifting_surfaces(pf.build(changed_design(design, (("winglets.*.cant", f"{k * 15} deg"),))))
        for k in range(7)
    ]

    def one() -> None:
        chains = strip_up([s.line for s in built[0]], 95, 6)
        matrix = influence(chains)
        lu_solve(lu_factor(matrix), np.ones(len(matrix)))

    def all_of_them() -> None:
        for surfaces in built:
            flow = solve(surfaces, 11.86, 1.557, 95, 6)
            trimmed = flow.trim(0.5, 4.36)
            assert trimmed.drag > 0.0
            assert trimmed.bending > 0.0

    single, seven = median(one), median(all_of_them)
    print(
        f"seven cants with trim {seven * 1e3:.0f} ms / one assembly and solve {single * 1e3:.0f} ms"
        f" = {seven / single:.1f} (wanted under 15)"
    )


def study() -> None:
    """A grid in this process and on two, and what the study adds to the bare work."""
    design = pf.load(ROOT / "designs/marram.toml")
    place = pf.load_place(ROOT / "designs/boatshed.toml")
    terms, _ = default_terms(design)
    values = ", ".join(f"{k * 0.5} deg" for k in range(120))
    options = grid(design, [variation("cant", values)])
    whole = study_of(design, place, terms)
    evaluate(whole, options[0])
    start = time.perf_counter()
    for option in options:
        evaluate(whole, option)
    bare = time.perf_counter() - start
    start = time.perf_counter()
    run_study(whole, options, workers=1)
    alone = time.perf_counter() - start
    start = time.perf_counter()
    run_study(whole, options, workers=2)
    two = time.perf_counter() - start
    print(
        f"{len(options)} options: bare work {bare:.2f} s, study {alone:.2f} s"
        f" = {100.0 * (alone / bare - 1.0):.1f} % over (wanted below 5 %)"
    )
    print(f"two processes {two:.2f} s: {alone / two:.2f} times as fast, their start counted in")


if __name__ == "__main__":
    lattice()
    seven_cants()
    study()
