"""Whole commands beside what they stand on, in one run; medians of several.

Run: python benchmarks/commands.py [RUNS]. Wanted: help under 2x a bare import of typer and rich;
measure under 2x the import of numpy, pydantic and pint plus 50 ms; a report under 4x what pyvista
alone takes to import and render the same number of stills.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[1]
MARRAM, SHED = str(ROOT / "designs/marram.toml"), str(ROOT / "designs/boatshed.toml")
PLANFORM = "from planform.cli.app import main; main()"
STILLS = """
import pyvista
for _ in range(2):
    p = pyvista.Plotter(off_screen=True, window_size=[1400, 900])
    p.enable_anti_aliasing("msaa", multi_samples=8)
    for k in range(20):
        p.add_mesh(pyvista.Sphere(center=(k, 0, 0)), smooth_shading=True)
    for k in range({half}):
        p.camera_position = "xy" if k % 2 else "xz"
        p.render()
        p.screenshot("{folder}/a.png")
    p.close()
"""
ENVIRONMENT = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
"""Both sides of a pair keep their compiled modules, as an installed package does."""

COUNT = 7
"""Stills in a report of the demo: four of the aircraft, one of the room per stage."""


def timed(words: list[str]) -> float:
    """Seconds of one whole process."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *words], capture_output=True, check=False, env=ENVIRONMENT)
    return time.perf_counter() - start


def main() -> None:
    """Print each pair's medians and ratio."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 7
    with tempfile.TemporaryDirectory() as folder:
        stills = STILLS.format(half=COUNT // 2 + 1, folder=folder)
        pairs = {
            "help / import typer, rich": (
                ["-c", PLANFORM, "--help"],
                ["-c", "import typer, rich"],
                0.0,
            ),
            "measure / import numpy, pydantic, pint (+50 ms)": (
                ["-c", PLANFORM, "measure", MARRAM],
                ["-c", "import numpy, pydantic, pint"],
                0.05,
            ),
            "report / pyvista alone": (
                ["-c", PLANFORM, "report", MARRAM, SHED, "-o", f"{folder}/out"],
                ["-c", stills],
                0.0,
            ),
        }
        for name, (ours, base, extra) in pairs.items():
            a, b = [], []
            timed(ours)
            for _ in range(runs if "report" not in name else 3):
                a.append(timed(ours))
                b.append(timed(base))
            mine, other = statistics.median(a), statistics.median(b)
            print(f"{name}: {mine:.3f} s / {other:.3f} s = {(mine - extra) / other:.2f}")


if __name__ == "__main__":
    main()
