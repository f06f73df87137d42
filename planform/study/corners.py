"""The corner of all tolerances that a check wants, built and judged again whole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from planform.core.motion.contacts import CannotStand
from planform.design.problems import InputError
from planform.fit.answer import FitAnswer
from planform.fit.check import WAY_OUT, Check
from planform.fit.clearance import clearances
from planform.fit.door_checks import JAMBS
from planform.fit.opened import SWUNG
from planform.fit.push_path import Tightest
from planform.fit.straight import parked_checks
from planform.study.inputs import Input, State, moved
from planform.study.probes import door_gaps, path_in, swung_gap

SLACK = 0.05
"""How much farther than the gap foretold for a corner is looked for its gap [m]."""

SAME = 1e-4
"""Two gaps nearer than this govern together [m]."""

Ends = dict[Input, tuple[float, float]]
"""Of each input what it does to a strand at its worse end [m], and which end that is."""


def cornered(
    found: Sequence[tuple[Check, dict[str, Ends]]], answer: FitAnswer, base: State
) -> tuple[list[Check], list[str]]:
    """Every check at its own corner of all tolerances, built and judged again; and remarks.

    Checks that want no input at two different ends share a corner.
    """
    corners: list[tuple[dict[Input, float], list[int]]] = []
    for k, (check, ends) in enumerate(found):
        if check.worst <= 0.0 or check.group == WAY_OUT:
            continue
        for wanted in _corners(check, ends):
            for sides, members in corners:
                if all(sides.get(one, side) == side for one, side in wanted.items()):
                    sides.update(wanted)
                    members.append(k)
                    break
            else:
                corners.append((wanted, [k]))
    checks = [check for check, _ in found]
    notes = []
    for sides, members in corners:
        try:
            state = moved(base, sides)
        except InputError as error:
            names = ", ".join(checks[k].title for k in members)
            notes.append(
                f"the worst corner of {names} cannot be built, and the worst case is the sum of "
                f"the single changes ({error.problems[0].allowed})"
            )
            continue
        for k in members:
            check = checks[k]
            if check.tight is not None:
                checks[k] = _pushed_again(check, check.tight, answer, state)
            else:
                checks[k] = _again(check, state)
    return checks, notes


CORNERS = 3
"""Of a push, the corners of this many places are built; assumption."""


def _corners(check: Check, ends: dict[str, Ends]) -> list[dict[Input, float]]:
    """The corners to build for a check; of a push those of its worst places, as they move along."""
    first = _corner(check, ends)
    if check.tight is None or check.sign > 0.0:
        return [first]
    strands = sorted(check.strands, key=check.worst_of)[:CORNERS]
    return [{one: side for one, (_, side) in ends[strand.name].items()} for strand in strands]


def _corner(check: Check, ends: dict[str, Ends]) -> dict[Input, float]:
    """To which side each input goes: as the governing strand wants it.

    An overlap is cured only where every strand is: what is left free goes as the others want it.
    """
    strands = sorted(check.strands, key=check.worst_of)
    out: dict[Input, float] = {}
    for strand in strands if check.sign > 0.0 else strands[:1]:
        for one, (_, side) in ends[strand.name].items():
            out.setdefault(one, side)
    return out


def _again(check: Check, state: State) -> Check:
    """A check judged again at its corner; another pair is named where it governs there."""
    if check.key.endswith(SWUNG):
        return replace(check, built=swung_gap(check, state))
    if check.again is not None:
        return replace(check, built=check.again(state.standing, state.room, state.spot))
    if check.clearance is None:
        parts = door_gaps(check, state)
        part = min(parts, key=lambda name: parts[name])
        other = parts[check.strands[0].name] > parts[part] + SAME
        return replace(check, built=parts[part], built_detail=part if other else "")
    assert state.spot is not None
    pair = check.clearance
    things = tuple(t for t in state.room.fixed if t.kind == pair.kind)
    room = replace(state.room, fixed=things)
    limit = max(check.foretold, check.gap or 0.0, 0.0) + SLACK
    near = clearances(state.standing, room, state.spot, limit=limit)
    found = next((c for c in parked_checks(near, room) if c.key == check.key), None)
    if found is None or found.gap is None:
        return check
    same = [c.gap for c in near if (c.part, c.thing) == (pair.part, pair.thing)]
    other = min(same, default=np.inf) > found.gap + SAME
    return replace(check, built=found.gap, built_detail=found.detail if other else "")


def _pushed_again(check: Check, tight: Tightest, answer: FitAnswer, state: State) -> Check:
    """A check along the way, pushed again as a corner has it; the worst of its corners stays."""
    push = next(p for p in answer.pushes if p.door == check.group)
    way = path_in(push, state)
    kinds = JAMBS if tight.kind in JAMBS else (tight.kind,)
    try:
        found = [way.least(kind, *way.stretch(kind)) for kind in kinds]
    except CannotStand:
        return check
    least = min((t for t in found if t is not None), key=lambda t: t.gap, default=None)
    if least is None or (check.built is not None and check.sign * (least.gap - check.built) <= 0.0):
        return check
    detail = f"{least.part} and {least.thing}, {push.way}"
    return replace(check, built=least.gap, built_detail=detail if detail != check.detail else "")
