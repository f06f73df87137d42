"""Changes of what turns about a hinge on the aircraft: the propeller, free control surfaces."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

import numpy as np

from planform.design.units import DEGREE
from planform.design.vary import shifted
from planform.study.change_cases import FREES, Asked, Case, Family, one_size, with_changed

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


LOCKS = "Lock them by what the aircraft has for it, flagged so that nobody flies with it in."
"""Control locks: common practice, no source."""


def locked(case: Case, asked: Asked) -> Iterator[Family]:
    """Each control surface that is free locked where it is; all of them where none suffices."""
    on = {
        part.group
        for part in case.standing.parts
        if part.hinge is not None and part.hinge.free and part.name not in case.standing.turns
    }
    names = [name for name in case.design.controls if name in on]
    freed = False
    for some in [[name] for name in names]:
        one = _locked(case, some)
        freed |= asked(one.make(1.0), one.what) == FREES
        yield one
    if not freed and len(names) > 1:
        yield _locked(case, names)


def _locked(case: Case, names: list[str]) -> Family:
    changed = {
        name: case.design.controls[name].model_copy(update={"free": False}) for name in names
    }
    design = case.design.model_copy(update={"controls": {**case.design.controls, **changed}})
    what = f"lock the {' and the '.join(names)}"
    return Family("locked", what, one_size(case, design=design), cautions=(LOCKS,))
