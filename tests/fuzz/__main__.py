"""The long run: `python -m tests.fuzz --count 5000`; each trial in a child with a memory limit."""

from __future__ import annotations

import argparse
import collections
import multiprocessing
import resource
import signal
import sys
from typing import Any

from tests.fuzz.drive import QUICK, SLOW, Fault, trial

MEMORY = 4 * 1024**3
"""Bytes of address space for a child; VTK, SciPy and the compiled loops take one third of it."""
LONGEST = 90
"""Seconds for one trial."""


def _limited() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))


def _late(*_: Any) -> None:
    raise TimeoutError("the trial took too long")


def _tried(job: tuple[int, tuple[str, ...], float]) -> list[Fault]:
    signal.signal(signal.SIGALRM, _late)
    signal.alarm(LONGEST)
    try:
        return trial(*job)
    except Exception as error:
        return [Fault("outside", "trial", f"{type(error).__name__} {error}", f"seed {job[0]}")]
    finally:
        signal.alarm(0)


def main() -> int:
    """Run the trials, print each kind of fault once with the first files that show it."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--seed", type=int, default=0)
    ask.add_argument("--count", type=int, default=1000)
    ask.add_argument("--commands", default="quick", help="none, quick, slow, all, or names")
    ask.add_argument("--share", type=float, default=1.0, help="of good files that run a command")
    ask.add_argument("--workers", type=int, default=1)
    asked = ask.parse_args()
    sets = {"none": (), "quick": QUICK, "slow": SLOW, "all": QUICK + SLOW}
    commands = sets.get(asked.commands) if asked.commands in sets else asked.commands.split(",")
    jobs = [(asked.seed + k, tuple(commands or ()), asked.share) for k in range(asked.count)]
    kinds: dict[str, list[Fault]] = collections.defaultdict(list)
    context = multiprocessing.get_context("fork")
    with context.Pool(asked.workers, _limited, maxtasksperchild=500) as pool:
        for found in pool.imap_unordered(_tried, jobs, chunksize=4):
            for fault in found:
                if fault.where not in kinds:
                    print(f"{fault.where}\n       {fault.trial}", flush=True)
                kinds[fault.where].append(fault)
    for where, faults in sorted(kinds.items(), key=lambda item: -len(item[1])):
        print(f"{len(faults):5}  {where}")
    print(f"{asked.count} files, {sum(map(len, kinds.values()))} faults of {len(kinds)} kinds")
    return 1 if kinds else 0


if __name__ == "__main__":
    sys.exit(main())
