"""Changes that turn something on the aircraft about its hinge: the propeller."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

import numpy as np

from planform.design.units import DEGREE
from planform.design.vary import shifted
from planform.study.change_cases import Case, Family, with_changed

BY_HAND = "Ignition off, throttle shut, and treat it as live: a hot engine may fire."
"""Turning a propeller by hand: common practice, no source."""


def propeller_turned(case: Case) -> Iterator[Family]:
    """The blades of the propeller turned so that none stands up, or none hangs down."""
    propeller = case.design.propeller
    on = any(part.role == "propeller" for part in case.standing.parts)
    if propeller is None or propeller.blades is None or not on:
        return
    count = propeller.blades
    every = 2.0 * math.pi / count
    parked = float(propeller.parked_angle) + case.standing.turns.get("propeller", 0.0)
    wanted = {"toward where no blade stands up": 0.5 * every}
    if count == 2:
        wanted = {"toward level": 0.5 * every}
    elif count % 2:
        wanted["toward where no blade hangs down"] = 0.0
    for words, first in wanted.items():
        turn = math.remainder(first - parked, every)
        if abs(turn) < DEGREE:
            continue
        way = "clockwise" if turn > 0.0 else "anticlockwise"
        yield Family(
            "propeller",
            f"turn the propeller {words}, {way} as seen from behind",
            partial(_propeller_by, case, float(np.sign(turn))),
            (abs(turn),),
            DEGREE,
            unit="angle",
            cautions=(BY_HAND,),
        )


def _propeller_by(case: Case, sign: float, size: float) -> Case:
    design = shifted(case.design, ("propeller", "parked_angle"), sign * size)
    return with_changed(case, design=design)
