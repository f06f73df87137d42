"""The first search after an installation beside a warm one, in one run.

Run: python benchmarks/first_search.py [DESIGN PLACE]. Wanted: with loops as an installation packs
them, at most 3 s more than warm, and nothing more where nothing can be kept. The source of this
checkout runs; its loops are compiled and packed as the build does it.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "building"))

from compiled_loops import PACKED, compile_loops  # noqa: E402

DEMO = ("designs/marram.toml", "designs/boatshed.toml")
PLANFORM = "from planform.cli.app import main; main()"


def timed(words: list[str], site: Path, kept: str) -> tuple[float, float]:
    """Processor seconds and seconds by the clock of a search with packed loops in `site`."""
    env = {name: value for name, value in os.environ.items() if not name.startswith("NUMBA_")}
    env.pop("PYTHONDONTWRITEBYTECODE", None)
    env |= {"PYTHONPATH": os.pathsep.join(map(str, (site, ROOT))), "PLANFORM_CACHE": kept}
    call = [sys.executable, "-c", PLANFORM, "rollout", *words, "--json"]
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN), time.monotonic()
    done = subprocess.run(call, env=env, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=None)
    if done.returncode not in (0, 1):
        raise SystemExit(f"rollout ended with {done.returncode}")
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return used, time.monotonic() - began


def main() -> None:
    """Print a line for each way of keeping the loops."""
    words = sys.argv[1:] or list(DEMO)
    with tempfile.TemporaryDirectory() as folder:
        site, bare = Path(folder, "site"), Path(folder, "bare")
        (bare / PACKED).mkdir(parents=True)
        (bare / PACKED / "__init__.py").write_text("")  # hides what this Python has
        timed(words, bare, "none")  # modules and files are read once
        began = time.monotonic()
        fault = compile_loops(site)
        if fault:
            raise SystemExit(f"the loops could not be compiled: {fault}")
        print(f"compiled while installing: {time.monotonic() - began:.1f} s by the clock")
        print(f"{'':32}{'first':>16}{'warm':>16}{'more':>8}   processor, clock [s]")
        for name, place, kept in (
            ("packed, cache folder empty", site, f"{folder}/kept"),
            ("packed, nothing can be kept", site, "none"),
            ("not packed, cache folder empty", bare, f"{folder}/own"),
            ("not packed, nothing can be kept", bare, "none"),
        ):
            first, warm = timed(words, place, kept), timed(words, place, kept)
            shown = "".join(f"{used:9.1f} {clock:6.1f}" for used, clock in (first, warm))
            print(f"{name:32}{shown}{first[0] - warm[0]:8.1f}")


if __name__ == "__main__":
    main()
