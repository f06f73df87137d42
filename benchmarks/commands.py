"""Whole commands beside what they stand on, and the memory and sizes of the demo, in one run.

Run: python benchmarks/commands.py [RUNS]. Medians of several. Wanted: help under 2x a bare import
of typer and rich; measure under 1.5x the import of numpy and pydantic; balance in 0.8 s; a report
under 2x what pyvista alone takes to import and render the same number of stills, its pictures and
page together under 3 MB; no command of the demo over 300 MB.
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
SAMPHIRE, BARN = str(ROOT / "designs/samphire.toml"), str(ROOT / "designs/barn.toml")
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

COUNT = 8
"""Stills in a report of the demo: four of the aircraft, one of the room per stage."""

MOST_MEMORY = 300.0
MOST_FILES = 3.0
MOST_BALANCE = 0.8
"""What is wanted [MB, MB, s]."""


def timed(words: list[str]) -> float:
    """Seconds of one whole process."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *words], capture_output=True, check=False, env=ENVIRONMENT)
    return time.perf_counter() - start


def memory(words: list[str]) -> float:
    """The most memory that a process, or one of those that it waits for, held at once [MB]."""
    child = subprocess.Popen(
        [sys.executable, *words],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        env=ENVIRONMENT,
    )
    _, status, used = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode not in (0, 1):
        raise RuntimeError(f"{words} ended with {child.returncode}")
    return used.ru_maxrss / 1024.0


def compared(pairs: dict[str, tuple[list[str], list[str]]], runs: int) -> None:
    """Print each pair's medians and ratio."""
    for name, (ours, base) in pairs.items():
        a, b = [], []
        timed(ours)
        for _ in range(runs if "report" not in name else 3):
            a.append(timed(ours))
            b.append(timed(base))
        mine, other = statistics.median(a), statistics.median(b)
        print(f"{name}: {mine:.3f} s / {other:.3f} s = {mine / other:.2f}")


def main() -> None:
    """Print seconds, sizes and memory beside what is wanted."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 7
    with tempfile.TemporaryDirectory() as folder:
        stills = STILLS.format(half=COUNT // 2, folder=folder)
        report = ["-c", PLANFORM, "report", MARRAM, SHED, "-o", f"{folder}/out"]
        balance = ["-c", PLANFORM, "balance", MARRAM]
        pairs = {
            "help / import typer, rich (wanted 2)": (
                ["-c", PLANFORM, "--help"],
                ["-c", "import typer, rich"],
            ),
            "measure / import numpy, pydantic (wanted 1.5)": (
                ["-c", PLANFORM, "measure", MARRAM],
                ["-c", "import numpy, pydantic"],
            ),
            "report / pyvista alone (wanted 2)": (report, ["-c", stills]),
        }
        compared(pairs, runs)
        timed(balance)
        seconds = statistics.median(timed(balance) for _ in range(runs))
        print(f"balance: {seconds:.3f} s (wanted {MOST_BALANCE})")
        shown = [*Path(folder, "out").glob("*.png"), Path(folder, "out/report.html")]
        size = sum(path.stat().st_size for path in shown) / 1e6
        print(f"pictures and page of the report: {size:.2f} MB (wanted {MOST_FILES})")
        plain = {
            name: ["-c", PLANFORM, name, *files]
            for name, files in {
                "measure": [MARRAM],
                "balance": [MARRAM],
                "fit": [MARRAM, SHED],
                "rollout": [MARRAM, SHED],
                "changes": [MARRAM, SHED],
            }.items()
        }
        wheels = ["-c", PLANFORM, "rollout", SAMPHIRE, BARN, "--moving", "wheels", "--keep", "4 in"]
        for name, words in {**plain, "rollout on wheels": wheels, "report": report}.items():
            print(f"memory of {name}: {memory(words):.0f} MB (wanted {MOST_MEMORY:.0f})")


if __name__ == "__main__":
    main()
