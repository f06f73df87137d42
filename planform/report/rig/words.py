"""How values of a card are said: limits are rounded toward the safe side."""

from __future__ import annotations

import math

from planform.design.told import said
from planform.design.units import INCH, LENGTH_STEP

AT_THE_BENCH = (
    "This card approves no drilling. Nothing that is typed here is kept or sent: copy the "
    "readings before the page is closed."
)
SIGNS = (
    "Signs: level: nose up +, also when turned end for end; right side up +; stations aft +; "
    "offsets right +."
)
NO_LIMIT = "no limit is given"
COARSE = 0.2
"""Limits are told finer where the shop's own steps would take more than this share of them."""
FINE_ANGLE = math.radians(0.01)


def value_words(value: float, kind: str, system: str) -> str:
    """A target: a length in the shop's own steps, an angle to a hundredth of a degree."""
    return _angle(value) if kind == "angle" else said(value, "length", system)


def fine_words(value: float, kind: str, system: str) -> str:
    """A small size, finer than a tape reads."""
    return _angle(value) if kind == "angle" else said(value, "fine", system)


def within_words(half: float, kind: str, system: str) -> str:
    """A limit to either side, rounded inward."""
    step = _fine_step(kind, system)
    return f"± {fine_words(math.floor(half / step + 1e-6) * step, kind, system)}"


def beyond_words(half: float, kind: str, system: str) -> str:
    """Where STOP begins to either side, rounded outward."""
    step = _fine_step(kind, system)
    return f"± {fine_words(math.ceil(half / step - 1e-6) * step, kind, system)}"


def go_words(low: float, high: float, kind: str, system: str) -> str:
    """From where to where a reading is GO, both rounded inward."""
    fine = _fine_step(kind, system)
    if kind == "length":
        step = LENGTH_STEP[system]
        ends = _inward(low, high, step)
        if ends[1] - ends[0] >= (1.0 - COARSE) * (high - low):
            return f"from {said(ends[0], 'length', system)} to {said(ends[1], 'length', system)}"
    low, high = _inward(low, high, fine)
    return f"from {fine_words(low, kind, system)} to {fine_words(high, kind, system)}"


def _inward(low: float, high: float, step: float) -> tuple[float, float]:
    return math.ceil(low / step - 1e-6) * step, math.floor(high / step + 1e-6) * step


def _fine_step(kind: str, system: str) -> float:
    if kind == "angle":
        return FINE_ANGLE
    return 0.01 * INCH if system in ("ft-in", "in") else 1e-4


def _angle(value: float) -> str:
    return f"{math.degrees(value):z.2f} deg"
