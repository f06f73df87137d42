"""How one gap of a fit is measured again in every state of the inputs, and how far it can move."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from planform.airframe.on_the_move import on_the_move
from planform.core.halting import look
from planform.core.motion.contacts import CannotStand
from planform.fit.answer import FitAnswer
from planform.fit.check import WAY_OUT, Check, Measured
from planform.fit.clearance import Clearance, clearances, placed
from planform.fit.moves import Pose, Tight
from planform.fit.opened import SWUNG, swing_gap
from planform.fit.push import Push
from planform.fit.push_path import PushPath, Tightest
from planform.fit.room import Fixed, Room
from planform.fit.tightest import level_gap
from planform.study.inputs import Input, State


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


NOTHING = 1e-12
"""A motion below this moves nothing [m]."""


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
        look()
        return self.measure(move.state) - self.base_gap

    @cached_property
    def base_gap(self) -> float:
        """The strand's gap with nothing moved [m]."""
        return self.measure(self.base)


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
    out = {"ceiling": _ceiling_moved(base.room, state.room)}
    before, after = _by_name(base.room), _by_name(state.room)
    for name, pieces in before.items():
        runs = [_run(*pair) for pair in zip(pieces, after.get(name, []), strict=False)]
        if len(runs) == len(pieces) == len(after[name]):
            out[name] = max(runs)
    return out


def _by_name(room: Room) -> dict[str, list[Fixed]]:
    """The pieces of each thing of a room."""
    out: dict[str, list[Fixed]] = {}
    for thing in room.fixed:
        out.setdefault(thing.name, []).append(thing)
    return out


def _run(thing: Fixed, there: Fixed) -> float:
    """How far a piece of a thing moves at most [m]; infinite where it is another shape."""
    if there.outline.shape != thing.outline.shape:
        return np.inf
    level = np.linalg.norm(there.outline - thing.outline, axis=1).max()
    upright = max(abs(there.low - thing.low), abs(there.high - thing.high))
    return float(np.hypot(level, upright))


def _ceiling_moved(before: Room, after: Room) -> float:
    """The most that any line of the ceiling moves [m]; a line that comes or goes may do anything.

    Of the lowest of several lines no height changes by more than the line that changes most.
    """
    if len(before.roof) != len(after.roof):
        return np.inf
    most = 0.0
    for one, there in zip(before.roof, after.roof, strict=True):
        ends = np.array([*one.at, *there.at])
        most = max(most, float(np.abs(one.over(ends) - there.over(ends)).max()))
    return most


def probes_of(check: Check, answer: FitAnswer, base: State, moves: Sequence[Moved]) -> list[Probe]:
    """The strands of a check that could govern it, the one that does first."""
    if check.clearance is not None:
        return [pair_probe(c, base) for c in _rivals(check, check.clearance, answer.near, moves)]
    if check.group == WAY_OUT:
        assert answer.way is not None
        found = [_way_instant(t, base) for t in answer.way.tight]
        return sorted(found, key=lambda probe: probe.name != check.detail)
    if check.key.endswith(SWUNG):
        return [_swing(check, base)]
    if check.again is not None:
        return [_measured(check, check.again, base)]
    if check.tight is not None:
        return _instants(check, check.tight, answer, base)
    parts = door_gaps(check, base)
    return [_door_part(check, name, base) for name in sorted(parts, key=lambda n: parts[n])]


def _measured(check: Check, again: Measured, base: State) -> Probe:
    """A gap that a check itself can measure in any state."""

    def reach(move: Moved) -> float:
        same = move.state.standing is move.base.standing and move.state.spot == move.base.spot
        return 0.0 if same and max(move.things.values(), default=0.0) < NOTHING else np.inf

    def measure(state: State) -> float:
        return again(state.standing, state.room, state.spot)

    return Probe(check.detail, base, measure, reach)


def _swing(check: Check, base: State) -> Probe:
    """The least gap of the whole swing of an open panel."""
    part = check.key.removesuffix(SWUNG)

    def reach(move: Moved) -> float:
        still = max(move.parts.get(part, np.inf), *move.things.values(), 0.0) < NOTHING
        return 0.0 if still else np.inf

    return Probe(check.detail, base, lambda state: swung_gap(check, state), reach)


def swung_gap(check: Check, state: State) -> float:
    """The gap of a swing in a state of the inputs [m]."""
    assert state.spot is not None
    x, y = (float(v) for v in state.spot.at)
    pose = Pose(x, y, float(state.spot.heading))
    near = swing_gap(state.standing, state.room, pose, check.key.removesuffix(SWUNG))
    return np.inf if near is None else near.gap


def door_gaps(check: Check, state: State) -> dict[str, float]:
    """The gaps that a check at a door is the least of, by part."""
    door = state.doors[check.group]
    if check.key.endswith(": width"):
        return {"width": door.rolling_gap if check.rolling else door.best_gap}
    return door.head_gaps if check.key.endswith(": head") else door.sill_gaps


def _door_part(check: Check, part: str, base: State) -> Probe:
    return Probe(part, base, lambda state: door_gaps(check, state)[part], lambda move: np.inf)


def _way_instant(tight: Tight, base: State) -> Probe:
    """The gap at one tight instant of the way out, the aircraft's pose there unmoved."""

    def measure(state: State) -> float:
        gap = level_gap(on_the_move(state.standing), state.room, tight.pose, tight.thing)
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
    way = path_in(push, base)
    places = np.arange(*way.stretch(tight.kind), APART)
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
            gap = _least_about(path_in(push, state), tight.kind, at)
        except CannotStand:
            return min(tight.gap, 0.0)
        return gap if np.isfinite(gap) else tight.gap

    name = f"{tight.part} and {tight.thing}"
    if not first:
        name += f", parking point at {at:.1f} m"
    return Probe(name, base, measure, lambda move: np.inf)


def path_in(push: Push, state: State) -> PushPath:
    """The push in another state; what was solved for it there is kept."""
    if push not in state.ways:
        door = next(d for d in state.room.place.doors if d.name == push.door)
        state.ways[push] = PushPath(
            on_the_move(state.standing), state.room, door, push.ahead, push.across
        )
    return state.ways[push]


def _least_about(way: PushPath, kind: str, at: float) -> float:
    """The least gap of a kind near a place of a push [m]; infinite where none."""
    step, least = 0.5 * APART, way.gap(kind, at)
    came, ends = None, way.stretch(kind)
    while step > NEAREST:
        beside = [min(max(at + side * step, ends[0]), ends[1]) for side in (1.0, -1.0)]
        found = [(way.gap(kind, x, under=least), x) for x in beside if x != came]
        gap, there = min(found)
        if gap < least:
            least, at, came = gap, there, at
        else:
            step, came = 0.5 * step, None
    return least


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


def pair_probe(pair: Clearance, base: State) -> Probe:
    """Measures again the gap of one part to one thing."""

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
