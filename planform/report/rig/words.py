"""How values of a card are said: limits are rounded toward the safe side."""

from __future__ import annotations

import math

from planform.design.told import said
from planform.design.units import INCH, LENGTH_STEP
from planform.report.rig.bench import BenchRow

AT_THE_BENCH = (
    "This card approves no drilling. Nothing that is typed here is kept or sent: copy the "
    "readings before the page is closed."
)
NO_LIMIT = "no limit is given"
COARSE = 0.2
"""Limits are told finer where the shop's own steps would take more than this share of them."""
FINE_ANGLE = math.radians(0.01)


def value_words(value: float, kind: str, system: str) -> str:
    """A target: a length in the shop's own steps, an angle to a hundredth of a degree."""
    if kind == "angle":
        return f"{math.degrees(value):z.2f} deg"
    return said(value, "length", system)


def go_words(row: BenchRow, system: str) -> str:
    """From where to where a reading is GO, both rounded inward."""
    if row.low is None or row.high is None:
        return NO_LIMIT
    if row.kind == "angle":
        low = math.ceil(row.low / FINE_ANGLE - 1e-6) * 0.01
        high = math.floor(row.high / FINE_ANGLE + 1e-6) * 0.01
        return f"from {low:z.2f} deg to {high:z.2f} deg"
    step = LENGTH_STEP[system]
    low, high = (math.ceil(row.low / step - 1e-6), math.floor(row.high / step + 1e-6))
    if (high - low) * step >= (1.0 - COARSE) * (row.high - row.low):
        return f"from {said(low * step, 'length', system)} to {said(high * step, 'length', system)}"
    fine = 0.01 * INCH if system in ("ft-in", "in") else 1e-4
    low, high = (math.ceil(row.low / fine - 1e-6), math.floor(row.high / fine + 1e-6))
    return f"from {said(low * fine, 'fine', system)} to {said(high * fine, 'fine', system)}"
