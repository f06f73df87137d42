"""True line views: one of the complete demo, and how they grow to 100,000 facets.

Run: python benchmarks/drawings.py [MOST FACETS]. Wanted: a view of the complete Marram under
0.25 s, solids united beforehand; and close to linear growth, a crowd of balls and the demo with
its facets divided alike.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

from planform.airframe.build import build
from planform.airframe.part import Part
from planform.airframe.stance import stand_on
from planform.design.load import load
from planform.drawing.lines.frames import FRAMES
from planform.drawing.lines.line_view import line_view
from planform.drawing.lines.united import united

ROOT = Path(__file__).parents[1]


def timed(work: Callable[[], object], runs: int = 3) -> float:
    """The least seconds of some runs."""
    out = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        out.append(time.perf_counter() - start)
    return min(out)


def crowd(facets: int) -> list[Part]:
    """Balls of 1,280 facets each in a cube, many behind and in each other."""
    import trimesh

    ball = trimesh.creation.icosphere(subdivisions=3)
    count = max(2, facets // len(ball.faces))
    dice = np.random.default_rng(1)
    size = 0.45 * count ** (1 / 3)
    middles = dice.uniform(-size, size, (count, 3)) * 3.0
    return [
        Part(f"ball {k}", f"ball {k}", "fuselage", ball.vertices + at, np.asarray(ball.faces))
        for k, at in enumerate(middles)
    ]


def divided(parts: tuple[Part, ...], times: int) -> list[Part]:
    """Parts with each facet in four, so many times over."""
    import trimesh

    out = []
    for part in parts:
        points, faces = part.points, part.faces
        for _ in range(times):
            points, faces = trimesh.remesh.subdivide(points, faces)
        out.append(replace(part, points=np.asarray(points), faces=np.asarray(faces), caps=0))
    return out


def told(name: str, parts: list[Part] | tuple[Part, ...], frame: str) -> None:
    """One line: facets, seconds to unite, seconds a view, and those for 1,000 facets."""
    start = time.perf_counter()
    solid = united(parts)
    unite = time.perf_counter() - start
    view = timed(lambda: line_view(solid, FRAMES[frame]))
    facets = len(solid.faces)
    print(
        f"{name:28s} {frame:14s} {facets:7d} facets  united {unite:6.3f} s  "
        f"view {view:6.3f} s  {1e6 * view / facets:6.1f} us a facet"
    )


def main() -> None:
    """Print the figures."""
    most = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    design = load(ROOT / "designs/marram.toml")
    standing = stand_on(build(design), design.stages[-1])
    for frame in FRAMES:
        told("Marram, complete", standing.parts, frame)
    facets = 3_200
    while facets <= 1.3 * most:
        told("balls", crowd(facets), "three-quarter")
        facets *= 2
    for times in (1, 2, 3):
        parts = divided(standing.parts, times)
        if sum(len(part.faces) for part in parts) < 3 * most:
            told(f"Marram, each facet in {4**times}", parts, "three-quarter")


if __name__ == "__main__":
    main()
