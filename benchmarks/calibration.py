"""How fast this machine is, so that seconds of two machines can be compared."""

from __future__ import annotations

import os
import time


def loop() -> float:
    """Seconds of a plain loop that adds ten million numbers."""
    began = time.perf_counter()
    total = 0
    for k in range(10_000_000):
        total += k
    return time.perf_counter() - began


def calibrated() -> str:
    """That figure in words, with how busy the machine is."""
    busy = os.getloadavg()[0] if hasattr(os, "getloadavg") else float("nan")
    return f"calibration: {loop():.2f} s for a loop of 10 million sums; load {busy:.1f}"
