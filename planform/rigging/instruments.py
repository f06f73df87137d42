"""What a shop reads with, and how far a reading of each may be off."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from planform.design.units import FOOT, INCH

TAPE = ((6.0, 1 / 32), (30.0, 1 / 16), (55.0, 1 / 8), (80.0, 3 / 16), (100.0, 1 / 4))
"""Up to so many feet, so many inches: NIST Handbook 44, 5.52, as quoted by an accessibility
guide."""
LEVEL, LEVEL_ONCE = math.radians(0.07), math.radians(0.3)
"""Of a digital level, the mean of two readings turned end for end, and of one reading, whose own
zero is not known; assumption."""
WATER = INCH / 16.0
"""Of a water level or a laser line between two points; assumption."""
FLOOR = INCH / 8.0
"""How uneven a shop's floor is under what is measured up from it; assumption, told on the card."""
PLUMB = INCH / 16.0
"""Of a mark under a plumb bob, read off a tape on the floor; assumption."""


def tape_tolerance(length: float) -> float:
    """How far a tape may be off at a length [m]; beyond 100 ft as at 100 ft, in proportion."""
    for feet, inches in TAPE:
        if length <= feet * FOOT:
            return inches * INCH
    return length / (TAPE[-1][0] * FOOT) * TAPE[-1][1] * INCH


def _upright(height: float) -> float:
    return tape_tolerance(height) + FLOOR


def _water(_: float) -> float:
    return WATER


def _plumb(_: float) -> float:
    return PLUMB


def _level(_: float) -> float:
    return LEVEL


@dataclass(frozen=True)
class Gauge:
    """What a sort of reading is taken with.

    short : its name in a sentence ; tolerance : [m] or [rad], of the size that is read [m]
    """

    name: str
    short: str
    tolerance: Callable[[float], float]


GAUGES = {
    "height": Gauge("tape, upright", "a tape to the floor", _upright),
    "height difference": Gauge("water level or laser", "a water level or a laser", _water),
    "station": Gauge("plumb bob and tape", "marks along the base line", _plumb),
    "offset": Gauge("plumb bob and tape", "marks off the base line", _plumb),
    "distance": Gauge("tape, 5 lb pull", "a tape from point to point", tape_tolerance),
    "level along": Gauge("digital level", "a digital level, reversed", _level),
    "level across": Gauge("digital level", "a digital level, reversed", _level),
}
"""By the sort of reading."""
