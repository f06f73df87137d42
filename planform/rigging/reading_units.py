"""Whether readings are in the unit that is told: a factor is asked about, never used."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from planform.design.problems import InputError, Problem
from planform.design.units import FOOT, INCH
from planform.rigging.readings import ShopReading

BY_TAPE = ("distance", "floor distance", "station")
FACTORS = (
    (1000.0 * INCH, "millimetres told as inches"),
    (1.0 / (1000.0 * INCH), "inches told as millimetres"),
    (100.0 * INCH, "centimetres told as inches"),
    (FOOT / INCH, "inches told as feet"),
    (INCH / FOOT, "feet told as inches"),
    (1.0 / FOOT, "feet told as metres"),
    (FOOT, "metres told as feet"),
    (10.0, "millimetres told as centimetres, or a decimal point one place off"),
    (0.1, "centimetres told as millimetres, or a decimal point one place off"),
    (1000.0, "millimetres told as metres"),
    (0.001, "metres told as millimetres"),
)
NEAR = 0.06
"""How near to a factor readings must be, as a share; assumption."""
FEWEST = 3
SHORTEST = 0.15
"""Drawn lengths under this say nothing about the unit [m]; assumption."""


def check_units(rows: Sequence[tuple[ShopReading, float]], source: str) -> None:
    """Raise InputError where most readings of one instrument are a known factor off the drawing.

    rows : readings of lengths, each with what the drawing gives [m]
    """
    problems = []
    by_tape: dict[str, list[float]] = {}
    for reading, drawn in rows:
        if abs(drawn) > SHORTEST and reading.sort in BY_TAPE:
            by_tape.setdefault(reading.instrument, []).append(reading.value[0] / drawn)
    for tape, ratios in by_tape.items():
        middle = float(np.median(ratios))
        for factor, words in FACTORS:
            near = [abs(ratio / factor - 1.0) < NEAR for ratio in ratios]
            if len(ratios) >= FEWEST and np.mean(near) > 0.6:
                allowed = (
                    f"{sum(near)} of {len(ratios)} readings are about {middle:.3g} times what the "
                    f"drawing gives: {words}? say their unit in each cell, or # units: above"
                )
                problems.append(Problem(tape or "the tape", "", allowed))
                break
    problems += _turned_round(rows)
    if problems:
        raise InputError(source, problems)


def _turned_round(rows: Sequence[tuple[ShopReading, float]]) -> list[Problem]:
    """The question whether offsets are told to the left, where most lie on the other side."""
    pairs = [
        (reading.value[0], drawn)
        for reading, drawn in rows
        if reading.sort == "offset" and abs(drawn) > SHORTEST
    ]
    other = [abs(read + drawn) < NEAR * abs(drawn) for read, drawn in pairs]
    if len(pairs) < FEWEST or sum(other) <= 0.6 * len(pairs):
        return []
    allowed = (
        f"{sum(other)} of {len(pairs)} lie on the other side than their points: were left and "
        "right changed in the names, or is left told as positive? allowed: right positive"
    )
    return [Problem("the offsets", "", allowed)]
