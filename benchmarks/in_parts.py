"""An answer in parts: seconds to each part, from a changed design to the parked verdict, to a halt.

Run: python benchmarks/in_parts.py [RUNS]. Wanted: the parked verdict of the demo within 40 ms
(median, warm, the changed aircraft built included); a question that is not wanted any more ends
within 50 ms. A loop of ten million additions is timed beside them, to compare machines.
"""

from __future__ import annotations

import random
import statistics
import sys
import threading
import time
from pathlib import Path

import planform as pf
from planform.core.halting import Halted
from planform.design.vary import shifted
from planform.study.desk import Desk

ROOT = Path(__file__).parents[1]
MOVED = (
    ("winglets", "winglet", "cant"),
    ("winglets", "winglet", "length"),
    ("lifting", "wing", "cuts", 0, "chord"),
    ("bodies", "hull", "bl"),
)
"""Readings that are moved, from one that little hangs on to one that nearly all does."""


def calibration() -> float:
    """Seconds for ten million additions."""
    began, total = time.perf_counter(), 0
    for k in range(10_000_000):
        total += k
    return time.perf_counter() - began


def main() -> None:
    """Print the figures."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 9
    design, place = (
        pf.load(ROOT / "designs/marram.toml"),
        pf.load_place(ROOT / "designs/boatshed.toml"),
    )
    print(f"ten million additions: {calibration():.2f} s")
    desk = Desk()
    for words in ("first", "the same again"):
        began = time.perf_counter()
        for part in desk.ask(design, place):
            print(f"{words}, {part.done[-1]}: {time.perf_counter() - began:.3f} s")
    for path in MOVED:
        seconds = []
        for k in range(runs):
            changed = shifted(design, path, 0.002 * (k + 1))
            began = time.perf_counter()
            next(desk.ask(changed, place))
            seconds.append(time.perf_counter() - began)
        name = ".".join(map(str, path))
        print(f"parked verdict, {name} moved: median {1e3 * statistics.median(seconds):.0f} ms")
    ended = [late for k in range(runs) if (late := halted(desk, design, place, k)) is not None]
    print(
        f"ended by a newer question: median {1e3 * statistics.median(ended):.1f} ms, "
        f"most {1e3 * max(ended):.1f} ms of {len(ended)}"
    )


def halted(desk: Desk, design: pf.Design, place: pf.Place, k: int) -> float | None:
    """Seconds from a newer question to the end of one at work; None where it was over before."""
    seconds: list[float] = []

    def work() -> None:
        try:
            for _ in desk.ask(shifted(design, MOVED[0], 0.05 + 0.001 * k), place):
                pass
        except Halted:
            seconds.append(time.perf_counter())

    thread = threading.Thread(target=work)
    thread.start()
    time.sleep(random.Random(k).uniform(0.05, 5.0))
    began = time.perf_counter()
    desk.ask(design, place)
    thread.join()
    return seconds[0] - began if seconds else None


if __name__ == "__main__":
    main()
