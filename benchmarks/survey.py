"""A survey's time: readings explained, and a scan laid on, with its memory.

`python -m benchmarks.survey [READINGS [POINTS]]` reads Marram with made tapes, heights, levels and
plumb marks, and scans it; medians of three, with the seconds of ten million additions beside them.
"""

from __future__ import annotations

import resource
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from planform.airframe.build import build
from planform.design.load import load
from planform.rigging.equations import equations
from planform.rigging.points import named_points
from planform.rigging.reading_file import readings_in
from planform.rigging.scan.laying import lay_on
from planform.rigging.scan.surface import skin_of
from planform.rigging.survey import survey

MARRAM = Path(__file__).parent.parent / "designs" / "marram.toml"
INCH = 0.0254


def median(run: Callable[[], object]) -> float:
    """Seconds of the middle one of three runs."""
    taken = []
    for _ in range(3):
        start = time.perf_counter()
        run()
        taken.append(time.perf_counter() - start)
    return sorted(taken)[1]


def table(count: int) -> str:
    """So many readings between random named points, as drawn and a little off."""
    airframe = build(load(MARRAM))
    points = [p.name for p in named_points(airframe) if "cut" not in p.name]
    dice = np.random.default_rng(1)
    rows, seen = [], set()
    while len(rows) < count:
        a, b = dice.choice(len(points), 2, replace=False)
        what = str(dice.choice(["distance", "height", "height difference", "floor distance"]))
        to = "" if what == "height" else points[b]
        if (what, a, to) in seen:
            continue
        seen.add((what, a, to))
        rows.append([what, points[a], to])
    head = "what,point,to,read,tolerance\n"

    def text(values: list[float]) -> str:
        lines = (
            f'{what},"{a}","{b}",{value:.5f} m,1/16 in'
            for (what, a, b), value in zip(rows, values, strict=True)
        )
        return head + "\n".join(lines)

    first = equations(airframe, readings_in(text([1.0] * count), "made", airframe))
    true = first.seen(first.at, first.start) + dice.uniform(-1.0, 1.0, count) * INCH / 16.0
    keep = [k for k, value in enumerate(true) if value > 0.02 or rows[k][0] == "height difference"]
    rows = [rows[k] for k in keep]
    return text([float(true[k]) for k in keep])


def main() -> None:
    """Print the figures."""
    count, points = (int(float(word)) for word in (*sys.argv[1:3], "200", "1e6")[:2])
    airframe = build(load(MARRAM))
    given = readings_in(table(count), "made", airframe)
    clock = median(lambda: sum(range(10_000_000)))
    print(f"ten million additions {clock:.2f} s")
    found = survey(airframe, given)
    taken = median(lambda: survey(airframe, given))
    print(f"{len(given.readings)} readings, {len(found.freedoms)} ways tried: {taken:.2f} s")
    parts = [part for part in airframe.parts if not part.within]
    skin = skin_of(parts)
    dice = np.random.default_rng(2)
    for size in (points // 10, points):
        chosen = dice.integers(0, len(skin.at), size)
        cloud = skin.at[chosen] + dice.normal(0.0, 0.001, (size, 3))
        taken = median(lambda cloud=cloud: lay_on(parts, cloud))
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
        print(f"{size:,} points of a scan laid on: {taken:.1f} s, peak {peak:.0f} MB")


if __name__ == "__main__":
    main()
