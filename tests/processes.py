"""Real processes, for tests of kills."""

from __future__ import annotations

import time


def waited(what, seconds=60.0):
    """What is waited for, once it is there."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        found = what()
        if found:
            return found
        time.sleep(0.02)
    raise TimeoutError(what)


def below(pid):
    """Processes that a process started, and those that they started."""
    tasks = f"/proc/{pid}/task/{pid}/children"
    with open(tasks) as file:
        own = [int(word) for word in file.read().split()]
    return own + [far for child in own for far in below(child)]


def running(pid):
    try:
        with open(f"/proc/{pid}/stat") as file:
            return file.read().rsplit(")", 1)[1].split()[0] not in "ZX"
    except FileNotFoundError:
        return False
