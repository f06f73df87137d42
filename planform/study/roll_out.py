"""Out of the room, turning as needed: what is wanted, the most there is, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from planform.airframe.stance import Standing
from planform.core.spread import Values, spreads
from planform.design.problems import InputError
from planform.fit.ground_plan import Keep
from planform.fit.moves import Tight
from planform.fit.on_wheels import roll_out
from planform.fit.question import Question, Watch, patient, question_for
from planform.fit.roll_out import RollOut
from planform.fit.room import Room
from planform.fit.second_check import GoneOver, go_over
from planform.fit.stops import Stop, at_every_door, stops
from planform.fit.tightest import level_gap, touching_where_parked
from planform.fit.way_out import (
    BY_SPOT,
    NONE,
    OPEN,
    WAY,
    WIDTH,
    GreatestClearance,
    WayOut,
    greatest_clearance,
    proved,
    way_out,
)
from planform.study.inputs import given_inputs, moved, state_of

ROOMY = 0.15
"""Where nothing is asked, half of the greatest clearance is kept, up to this [m]; assumption."""


@dataclass(frozen=True)
class Wish:
    """What is asked about a way out.

    level, over : clearance to keep across and upright [m]; what the place asks for where None
    gear : also search for a way on its own wheels
    width : the greatest clearance is bracketed to this [m]
    toleranced : tell what the inputs' tolerances do along the way
    greatest : ask for the greatest clearance also where the verdict stands without it
    """

    level: float | None = None
    over: float | None = None
    gear: bool = False
    width: float = WIDTH
    toleranced: bool = True
    greatest: bool = True

    @property
    def given(self) -> bool:
        """Whether a clearance is asked for, if only of nothing."""
        return self.level is not None or self.over is not None

    def keep(self, room: Room) -> Keep:
        """What is to be kept: as wished, and what the place asks for where nothing is."""
        asked, given = Keep.wished(room), Keep.same(self.level or 0.0, self.over or 0.0)
        return Keep(
            asked.level if self.level is None else given.level,
            asked.upright if self.over is None else given.upright,
        )


USUAL = Wish()
"""What the place asks for, and the greatest clearance."""


def find_way_out(
    standing: Standing,
    room: Room,
    spot: str | None = None,
    wish: Wish = USUAL,
    watch: Watch = patient,
) -> RollOut:
    """Ask for the way out of a room, and for the greatest clearance there is.

    Raises InputError where the question cannot be asked: no spot, no door, off the floor.
    """
    question = question_for(standing, room, spot, Keep.nothing())
    meets = touching_where_parked(question)
    if meets is None:
        out = _searched(question, spot, wish, watch)
    else:
        jammed = "it already touches where it is parked"
        bare = GreatestClearance(-np.inf, question.parked, None, jammed)
        parked = replace(way_out(question), proof=BY_SPOT)
        out = RollOut(parked, bare, None, wish.level, wish.over, {}, meets)
        again = go_over(parked, TOUCHING) if wish.greatest else None
        out = replace(out, gone_over=() if again is None else (again,))
    return with_tolerances(out, spot) if wish.toleranced else out


def _searched(question: Question, spot: str | None, wish: Wish, watch: Watch) -> RollOut:
    """The searches for the way out from a spot where the aircraft stands free."""
    standing, room, keep = question.plan.standing, question.plan.room, wish.keep(question.plan.room)
    first = asked = way_out(question, 0.0, watch)  # what matters most, before the time is gone
    if keep.any and first.answer != NONE:  # a no at less answers every stricter wish
        asked = way_out(question_for(standing, room, spot, keep), 0.0, watch)
    settled = None if wish.greatest else _settled(first, asked, keep)
    bare = settled or greatest_clearance(question, wish.width, watch, known=first)
    asked, bare = _agreed(asked, bare, question)
    if settled is None and asked.answer == WAY and not (wish.given or keep.any):
        roomier = way_out(question, min(ROOMY, 0.5 * bare.low), watch)
        asked = roomier if roomier.answer == WAY else asked
    rolling = None
    if wish.gear:
        from_where = asked.question if asked.answer == WAY else question
        rolling = _told(roll_out(from_where, asked.wanted, watch), question)
    asked = _told(asked, question)
    if bare.way is not None and bare.low >= 0.0:
        bare = replace(bare, way=_told(bare.way, question))
    if asked.route is not None and bare.low < asked.route.clearance:  # no less than the way told
        low = asked.route.clearance
        bare = replace(bare, low=low, high=max(low, bare.high), way=asked)
    stopped: tuple[Stop, ...] = ()
    if bare.high <= 0.0 and bare.way is None and wish.greatest:
        stopped = stops(question, watch)
    elif bare.low < 0.0:
        stopped = at_every_door(standing, room)
    out = RollOut(asked, bare, rolling, wish.level, wish.over, {}, stops=stopped)
    return replace(out, gone_over=_gone_over(out)) if wish.greatest else out


def _settled(first: WayOut, asked: WayOut, keep: Keep) -> GreatestClearance | None:
    """The greatest clearance as far as the verdict needs it; None where it must be asked for.

    first : whether there is any way ; asked : one that keeps what is wanted
    """
    if keep.any and asked.answer == WAY:
        return GreatestClearance(0.0, np.inf, asked, "more was not asked for")
    if first.answer == NONE:
        return GreatestClearance(-np.inf, 0.0, None, first.reason)
    if first.answer == OPEN:
        return GreatestClearance(-np.inf, np.inf, None, first.reason)
    return None


THE_WAY, ON_WHEELS = "the way out", "the way on its own wheels"
TOUCHING = "that it already touches where it is parked"
NO_WAY, NONE_ASKED, NO_WIDER = (
    "the proof that there is no way out",
    "the proof that no way keeps what is asked",
    "the proof that no way has more than the greatest clearance told",
)
"""What the second check goes over, in words."""


def _gone_over(out: RollOut) -> tuple[GoneOver, ...]:
    """The second check of every way told, and of every proof that there is none."""
    found = [go_over(out.best, THE_WAY), go_over(out.on_gear, ON_WHEELS)]
    same = out.bare.none is not None and out.bare.none.question is out.wished.question
    if out.wished.answer == NONE and not same:
        found.append(go_over(out.wished, NONE_ASKED))
    found.append(go_over(out.bare.none, NO_WAY if out.bare.high <= 0.0 else NO_WIDER))
    return tuple(one for one in found if one is not None)


def _agreed(
    asked: WayOut, bare: GreatestClearance, question: Question
) -> tuple[WayOut, GreatestClearance]:
    """The two searches as one answer: what either proved holds for the other."""
    if bare.high <= 0.0 and asked.answer != WAY:
        asked = replace(asked, answer=NONE, reason=bare.limited or asked.reason)
    if bare.low < 0.0 and asked.route is not None:
        low = max(0.0, proved(question, asked.route))
        bare = replace(bare, low=low, high=max(low, bare.high), way=asked)
    return asked, bare


def _told(way: WayOut, bare: Question) -> WayOut:
    """The way with the whole clearance that its route is proved to keep, nothing set aside."""
    if way.route is None:
        return way
    route = replace(way.route, clearance=proved(bare, way.route))
    return replace(way, question=bare, route=route)


def if_asked(
    standing: Standing,
    room: Room,
    spot: str | None = None,
    wish: Wish = USUAL,
    watch: Watch = patient,
) -> RollOut | None:
    """The answer, or None where the question cannot be asked of this spot and place."""
    try:
        return find_way_out(standing, room, spot, wish, watch)
    except InputError:
        return None


def with_tolerances(out: RollOut, spot: str | None) -> RollOut:
    """With what each input does to the gaps at the tight instants of each route: built again."""
    room = out.wished.question.plan.room
    rolling = () if out.on_gear is None else out.on_gear.tight
    if not (out.tight or rolling):
        return out
    standing = out.standing
    state = state_of(standing, room, spot)
    tights = out.tight, rolling
    base = [_gaps(tight, standing, room) for tight in tights]
    changes: list[list[tuple[str, Values]]] = [[], []]
    for one in given_inputs(standing.airframe.design, room.place):
        for side in (1.0, -1.0):
            there = moved(state, {one: side})
            for tight, found in zip(tights, changes, strict=True):
                found.append((one.name, _gaps(tight, there.standing, there.room)))
    free, gear = (spreads(b, c) for b, c in zip(base, changes, strict=True))
    return replace(out, spreads=free, gear_spreads=gear)


def _gaps(tights: tuple[Tight, ...], standing: Standing, room: Room) -> Values:
    found = {t.thing: level_gap(standing, room, t.pose, t.thing) for t in tights}
    return {name: gap for name, gap in found.items() if gap is not None}
