"""What the inputs' tolerances do to the gaps of a fit.

A check is the least of several gaps, its strands: pairs of a part and a thing in the room, parts
under a door head. Each input is moved up and down alone and every strand that could come to
govern is measured again; the strand that is least with all inputs at their worst decides, and that
corner is built and judged again whole.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from planform.core.motion.contacts import CannotStand
from planform.core.spread import NO_SPREAD, Spread, ranked
from planform.design.place import Place
from planform.design.problems import InputError
from planform.design.roof import breaks, height_at
from planform.fit.answer import FitAnswer
from planform.fit.check import WAY_OUT, Check, Strand
from planform.fit.clearance import Clearance, clearances, placed
from planform.fit.moves import Tight
from planform.fit.push import Push, PushPath, Tightest
from planform.fit.room import Room
from planform.fit.straight import JAMBS, parked_checks
from planform.fit.way_out import level_gap
from planform.study.inputs import Input, State, given_inputs, moved, state_of

SLACK = 0.05
"""How much farther than the gap foretold for a corner is looked for its gap [m]."""

SAME = 1e-4
"""Two gaps nearer than this govern together [m]."""


@dataclass(frozen=True, eq=False)
class Moved:
    """One input moved to one side."""

    input: Input
    side: float
    base: State
    state: State

    @cached_property
    def parts(self) -> dict[str, float]:
        """How far each part moves at most [m]."""
        return _parts_moved(self.base, self.state)

    @cached_property
    def things(self) -> dict[str, float]:
        """How far each thing moves at most [m]."""
        return _things_moved(self.base, self.state)

    def reach(self, part: str, thing: str) -> float:
        """The most that a gap between these two can change [m]."""
        return self.parts.get(part, np.inf) + self.things.get(thing, np.inf)


@dataclass(frozen=True, eq=False)
class Probe:
    """How one strand of a check is measured, and the most that a move can change it [m]."""

    name: str
    base: State
    measure: Callable[[State], float]
    reach: Callable[[Moved], float]

    def change(self, move: Moved) -> float:
        """What a move does to the strand [m]."""
        if self.reach(move) < NOTHING:
            return 0.0
        return self.measure(move.state) - self.base_gap

    @cached_property
    def base_gap(self) -> float:
        """The strand's gap with nothing moved [m]."""
        return self.measure(self.base)


NOTHING = 1e-12
"""A motion below this moves nothing [m]."""

Ends = dict[Input, tuple[float, float]]
"""Of each input what it does to a strand at its worse end [m], and which end that is."""


def with_spreads(answer: FitAnswer, room: Room) -> FitAnswer:
    """The answer with what the tolerances do to every check, its corner built again."""
    inputs = given_inputs(answer.standing.airframe.design, room.place)
    if not inputs:
        return answer
    base = state_of(answer.standing, room, answer.spot)
    moves = [_move(base, one, side) for one in inputs for side in (1.0, -1.0)]
    found = [_stranded(check, answer, base, moves) for check in answer.checks]
    checks, notes = _cornered(found, answer, base)
    return replace(answer, checks=tuple(checks), notes=(*answer.notes, *notes))


def effects(answer: FitAnswer, room: Room, check: Check, inputs: Iterable[Input]) -> Spread:
    """What moving each input by its step, alone, does to the strand that governs a check.

    Up, or down where there is no aircraft above; an input that can go neither way is at both its
    ends already, and left out.
    """
    base = state_of(answer.standing, room, answer.spot)
    probes = _probes(check, answer, base, [])
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


def _parts_moved(base: State, state: State) -> dict[str, float]:
    if base.spot is None or state.spot is None:
        return {}
    if state.standing is base.standing and state.spot == base.spot:
        return dict.fromkeys((p.name for p in base.standing.parts), 0.0)
    out = {}
    after = {name: (points, bulge) for name, points, _, bulge in placed(state.standing, state.spot)}
    for name, points, _, bulge in placed(base.standing, base.spot):
        there, swell = after[name]
        if there.shape == points.shape:
            run = np.linalg.norm(there - points, axis=1).max()
            out[name] = float(run) + abs(swell - bulge)
    return out


def _things_moved(base: State, state: State) -> dict[str, float]:
    if state.room is base.room:
        return dict.fromkeys((*(t.name for t in base.room.fixed), "ceiling"), 0.0)
    out = {"ceiling": _ceiling_moved(base.room.place, state.room.place)}
    after = {thing.name: thing for thing in state.room.fixed}
    for thing in base.room.fixed:
        there = after.get(thing.name)
        if there is not None and there.outline.shape == thing.outline.shape:
            level = np.linalg.norm(there.outline - thing.outline, axis=1).max()
            upright = max(abs(there.low - thing.low), abs(there.high - thing.high))
            out[thing.name] = float(np.hypot(level, upright))
    return out


def _ceiling_moved(before: Place, after: Place) -> float:
    if before.ceiling is None or after.ceiling is None:
        return 0.0
    ends = (*breaks(before)[1], *breaks(after)[1])
    where = [(s, s) for s in ends]
    return max(abs(height_at(before, *p) - height_at(after, *p)) for p in where)


def _stranded(
    check: Check, answer: FitAnswer, base: State, moves: Sequence[Moved]
) -> tuple[Check, dict[str, Ends]]:
    """A check with its strands, and the ends that are worst (or best) for each strand."""
    if check.gap is None or check.group == WAY_OUT:
        return check, {}
    strands, ends = [], {}
    probes = _probes(check, answer, base, moves)
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
    (again,), _ = _cornered([(again, ends)], answer, base)
    up, down = (
        min(t.gap + probes[t.name].change(moves[found, s]) for t in strands) for s in (1.0, -1.0)
    )
    return Reread(again, (up, down))


def _named(check: Check, answer: FitAnswer, base: State) -> list[Probe]:
    """The probes of a check's strands, by what they were called."""
    if check.clearance is None:
        return _probes(check, answer, base, [])
    kind = check.clearance.kind
    return [_pair(c, base) for c in answer.near if c.kind == kind]


def _scaled(check: Check, one: Input, share: float) -> Reread:
    """The way out with an input read better, to first order as all its bands are."""
    strands = tuple(replace(s, spread=s.spread.but(one.name, share)) for s in check.strands)
    again = replace(check, strands=strands)
    shifts = [(s.gap, dict(s.spread.by_input).get(one.name, 0.0)) for s in check.strands]
    up, down = (min(g + d * (1.0 - share) * c for g, c in shifts) for d in (1.0, -1.0))
    return Reread(again, (up, down))


def _probes(check: Check, answer: FitAnswer, base: State, moves: Sequence[Moved]) -> list[Probe]:
    """The strands of a check that could govern it, the one that does first."""
    if check.clearance is not None:
        return [_pair(c, base) for c in _rivals(check, check.clearance, answer.near, moves)]
    if check.group == WAY_OUT:
        assert answer.way is not None
        found = [_way_instant(t, base) for t in answer.way.tight]
        return sorted(found, key=lambda probe: probe.name != check.detail)
    if check.tight is not None:
        return _instants(check, check.tight, answer, base)
    parts = _door_gaps(check, base)
    return [_door_part(check, name, base) for name in sorted(parts, key=lambda n: parts[n])]


def _door_gaps(check: Check, state: State) -> dict[str, float]:
    """The gaps that a check at a door is the least of, by part."""
    door = state.doors[check.group]
    if check.key.endswith(": width"):
        return {"width": door.rolling_gap if check.rolling else door.best_gap}
    return door.head_gaps if check.key.endswith(": head") else door.sill_gaps


def _door_part(check: Check, part: str, base: State) -> Probe:
    return Probe(part, base, lambda state: _door_gaps(check, state)[part], lambda move: np.inf)


def _way_instant(tight: Tight, base: State) -> Probe:
    """The gap at one tight instant of the way out, the aircraft's pose there unmoved."""

    def measure(state: State) -> float:
        gap = level_gap(state.standing, state.room, tight.pose, tight.thing)
        return tight.gap if gap is None else gap

    return Probe(f"{tight.part} and {tight.thing}", base, measure, lambda move: np.inf)


APART = 0.2
"""How far apart the places of a push are looked at for rivals of its tightest one [m]."""

RIVAL = 0.05
"""A place of a push with more than this over the least gap does not come to govern [m];
assumption."""

NEAREST = 2e-3
"""How closely a place where the gap is least is found again [m]."""


def _instants(check: Check, tight: Tightest, answer: FitAnswer, base: State) -> list[Probe]:
    """The places of a push where the gap of a kind is least or nearly so, the least first."""
    push = next(p for p in answer.pushes if p.door == check.group)
    way = _way(push, base)
    places = np.arange(push.start, push.end, APART)
    most = tight.gap + RIVAL
    gaps = np.array([way.gap(tight.kind, float(at), under=most) for at in places])
    around = np.concatenate([[np.inf], gaps, [np.inf]])
    lowest = (gaps <= around[:-2]) & (gaps < around[2:]) & (gaps < most)
    apart = np.abs(places - tight.pose.along) > 1.5 * APART
    found = [tight.pose.along, *map(float, places[lowest & apart])]
    return [_instant(tight, push, at, base, first=k == 0) for k, at in enumerate(found)]


def _instant(tight: Tightest, push: Push, at: float, base: State, *, first: bool) -> Probe:
    """The least gap of a kind about one place of a push, measured alike in every state.

    The place where it is least may move along the way. An input that may stop the push takes the
    whole gap.
    """

    def measure(state: State) -> float:
        try:
            gap = _least_about(_way(push, state), tight.kind, at)
        except CannotStand:
            return min(tight.gap, 0.0)
        return gap if np.isfinite(gap) else tight.gap

    name = f"{tight.part} and {tight.thing}"
    if not first:
        name += f", parking point at {at:.1f} m"
    return Probe(name, base, measure, lambda move: np.inf)


def _way(push: Push, state: State) -> PushPath:
    """The push in another state; what was solved for it there is kept."""
    if push not in state.ways:
        door = next(d for d in state.room.place.doors if d.name == push.door)
        state.ways[push] = PushPath(state.standing, state.room, door, push.ahead, push.across)
    return state.ways[push]


def _least_about(way: PushPath, kind: str, at: float) -> float:
    """The least gap of a kind near a place of a push [m]; infinite where none."""
    step, least = 0.5 * APART, way.gap(kind, at)
    came = None
    while step > NEAREST:
        beside = [at + side * step for side in (1.0, -1.0)]
        found = [(way.gap(kind, x, under=least), x) for x in beside if x != came]
        gap, there = min(found)
        if gap < least:
            least, at, came = gap, there, at
        else:
            step, came = 0.5 * step, None
    return least


def _pushed_again(check: Check, tight: Tightest, answer: FitAnswer, state: State) -> Check:
    """A check along the way, pushed again as a corner has it; the worst of its corners stays."""
    push = next(p for p in answer.pushes if p.door == check.group)
    way = _way(push, state)
    kinds = JAMBS if tight.kind in JAMBS else (tight.kind,)
    try:
        found = [way.least(kind, *way.reach) for kind in kinds]
    except CannotStand:
        return check
    least = min((t for t in found if t is not None), key=lambda t: t.gap, default=None)
    if least is None or (check.built is not None and check.sign * (least.gap - check.built) <= 0.0):
        return check
    detail = f"{least.part} and {least.thing}, {push.way}"
    return replace(check, built=least.gap, built_detail=detail if detail != check.detail else "")


def _rivals(
    check: Check, governing: Clearance, near: Sequence[Clearance], moves: Sequence[Moved]
) -> list[Clearance]:
    """The pairs of a kind that could come to govern: near enough for what the moves can do."""

    def reach(pair: Clearance) -> float:
        most: dict[Input, float] = {}
        for move in moves:
            most[move.input] = max(most.get(move.input, 0.0), move.reach(pair.part, pair.thing))
        return sum(most.values())

    down, up = (0.0, reach(governing)) if check.gap is not None and check.gap < 0.0 else (1.0, 0.0)
    pairs = [c for c in near if c.kind == governing.kind and c is not governing]
    return [governing, *(c for c in pairs if c.gap - down * reach(c) < governing.gap + up)]


def _pair(pair: Clearance, base: State) -> Probe:
    def measure(state: State) -> float:
        assert state.spot is not None
        one = replace(
            state.standing, parts=tuple(p for p in state.standing.parts if p.name == pair.part)
        )
        things = tuple(t for t in state.room.fixed if t.name == pair.thing)
        found = clearances(one, replace(state.room, fixed=things), state.spot, limit=np.inf)
        return next(c.gap for c in found if c.thing == pair.thing)

    name = f"{pair.part} and {pair.thing}"
    return Probe(name, base, measure, lambda move: move.reach(pair.part, pair.thing))


def _cornered(
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
    if check.clearance is None:
        parts = _door_gaps(check, state)
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
