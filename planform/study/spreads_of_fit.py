"""What the inputs' tolerances do to the gaps of a fit.

A check is the least of several gaps, its strands: pairs of a part and a thing in the room, parts
under a door head. Each input is moved up and down alone and every strand that could come to
govern is measured again; the strand that is least with all inputs at their worst decides, and that
corner is built and judged again whole.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace

from planform.core.spread import NO_SPREAD, Spread, ranked
from planform.design.problems import InputError
from planform.fit.answer import FitAnswer
from planform.fit.check import WAY_OUT, Check, Strand
from planform.fit.room import Room
from planform.study.corners import Ends, cornered
from planform.study.inputs import Input, State, given_inputs, moved, state_of
from planform.study.probes import Moved, Probe, pair_probe, probes_of
from planform.study.turning import may_turn


def with_spreads(
    answer: FitAnswer, room: Room, turning: Collection[Check] | None = None
) -> FitAnswer:
    """The answer with what the tolerances do to every check, its corner built again.

    turning : only these checks, and of them those that might turn from fitting to care
    """
    inputs = given_inputs(answer.standing.airframe.design, room.place)
    if not inputs or (turning is not None and not turning):
        return answer
    base = state_of(answer.standing, room, answer.spot)
    moves = [_move(base, one, side) for one in inputs for side in (1.0, -1.0)]
    chosen = [
        turning is None or (check in turning and may_turn(check, answer, moves))
        for check in answer.checks
    ]
    found = [
        _stranded(check, answer, base, moves) if wanted else (check, {})
        for check, wanted in zip(answer.checks, chosen, strict=True)
    ]
    checks, notes = cornered(found, answer, base)
    return replace(answer, checks=tuple(checks), notes=(*answer.notes, *notes))


def effects(answer: FitAnswer, room: Room, check: Check, inputs: Iterable[Input]) -> Spread:
    """What moving each input by its step, alone, does to the strand that governs a check.

    Up, or down where there is no aircraft above; an input that can go neither way is at both its
    ends already, and left out.
    """
    base = state_of(answer.standing, room, answer.spot)
    probes = probes_of(check, answer, base, [])
    if not probes:
        return NO_SPREAD
    probe = probes[0]
    found = {}
    for one in inputs:
        for side in (1.0, -1.0):
            try:
                found[one.name] = abs(probe.change(_move(base, one, side)))
            except InputError:
                continue
            break
    return ranked(found)


def _move(base: State, one: Input, side: float) -> Moved:
    return Moved(one, side, base, moved(base, {one: side}))


def _stranded(
    check: Check, answer: FitAnswer, base: State, moves: Sequence[Moved]
) -> tuple[Check, dict[str, Ends]]:
    """A check with its strands, and the ends that are worst (or best) for each strand."""
    if check.gap is None or check.group == WAY_OUT:
        return check, {}
    strands, ends = [], {}
    probes = probes_of(check, answer, base, moves)
    # a push's gap is a proved bound, a hair under what a place of it measures
    shift = 0.0 if check.tight is None else check.gap - min(p.base_gap for p in probes)
    for probe in probes:
        found: Ends = {}
        for move in moves:
            change = check.sign * probe.change(move)
            if change > found.get(move.input, (0.0, 0.0))[0]:
                found[move.input] = (change, move.side)
        strands.append(_strand(probe.name, probe.base_gap + shift, found))
        ends[probe.name] = found
    return replace(check, strands=tuple(strands)), ends


def _strand(name: str, gap: float, ends: Ends) -> Strand:
    spread = ranked({one.name: change for one, (change, _) in ends.items()})
    return Strand(name, gap, spread, {one.name: side for one, (_, side) in ends.items()})


@dataclass(frozen=True, eq=False)
class Reread:
    """A check once one of its inputs is read better.

    check : judged again with that input's tolerance as narrow, its gap as it is
    gaps : its gap where the better reading comes out at the ends of the tolerance of today [m]
    """

    check: Check
    gaps: tuple[float, float]


def read_better(answer: FitAnswer, room: Room, check: Check, one: Input, step: float) -> Reread:
    """A check judged again with one input's tolerance narrower, every strand counted.

    step : the narrower tolerance [SI]
    """
    finer, found = replace(one, step=step), replace(one, step=one.step - step)
    if check.group == WAY_OUT:
        return _scaled(check, one, step / one.step)
    base = state_of(answer.standing, room, answer.spot)
    known = {i.name: i for i in given_inputs(answer.standing.airframe.design, room.place)}
    moves = {(i, s): _move(base, i, s) for i in (finer, found) for s in (1.0, -1.0)}
    probes = {p.name: p for p in _named(check, answer, base)}
    strands, ends = [], {}
    for strand in check.strands:
        probe = probes[strand.name]
        changes = {s: check.sign * probe.change(moves[finer, s]) for s in (1.0, -1.0)}
        worse = max(changes, key=lambda side: changes[side])
        own: Ends = {
            known[name]: (change, strand.sides[name])
            for name, change in strand.spread.by_input
            if name != one.name
        }
        if changes[worse] > 0.0:
            own[finer] = changes[worse], worse
        strands.append(_strand(strand.name, strand.gap, own))
        ends[strand.name] = own
    again = replace(check, strands=tuple(strands), built=None, built_detail="")
    (again,), _ = cornered([(again, ends)], answer, base)
    up, down = (
        min(t.gap + probes[t.name].change(moves[found, s]) for t in strands) for s in (1.0, -1.0)
    )
    return Reread(again, (up, down))


def _named(check: Check, answer: FitAnswer, base: State) -> list[Probe]:
    """The probes of a check's strands, by what they were called."""
    if check.clearance is None:
        return probes_of(check, answer, base, [])
    kind = check.clearance.kind
    return [pair_probe(c, base) for c in answer.near if c.kind == kind]


def _scaled(check: Check, one: Input, share: float) -> Reread:
    """The way out with an input read better, to first order as all its bands are."""
    strands = tuple(replace(s, spread=s.spread.but(one.name, share)) for s in check.strands)
    again = replace(check, strands=strands)
    shifts = [(s.gap, dict(s.spread.by_input).get(one.name, 0.0)) for s in check.strands]
    up, down = (min(g + d * (1.0 - share) * c for g, c in shifts) for d in (1.0, -1.0))
    return Reread(again, (up, down))
