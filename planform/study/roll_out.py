"""Out of the room, turning as needed: what is wanted, the most there is, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from planform.airframe.stance import Standing
from planform.core.spread import Spread, Values, spreads
from planform.design.problems import InputError
from planform.fit.ground_plan import Keep
from planform.fit.moves import Route, Tight
from planform.fit.room import Room
from planform.fit.verdict import CARE, FITS, NOT, UNJUDGED, judge
from planform.fit.way_out import (
    WAY,
    WIDTH,
    Question,
    Watch,
    WayOut,
    Widest,
    ask,
    level_gap,
    patient,
    proved,
    roll_out,
    way_out,
    widest,
)
from planform.study.inputs import given_inputs, moved


@dataclass(frozen=True, eq=False)
class RollOut:
    """Whether an aircraft comes out of a room, and how.

    wished : with the clearances asked for kept ; bare : just not touching, the most there is
    on_gear : on its own wheels with what is asked for, or bare; None where not asked
    level, over : the clearances asked for in words of the place (None) or given [m]
    spreads : what the inputs' tolerances do to each tight instant of the route, by thing
    """

    wished: WayOut
    bare: Widest
    on_gear: WayOut | None
    level: float | None
    over: float | None
    spreads: dict[str, Spread]

    @property
    def standing(self) -> Standing:
        """The aircraft as it stands."""
        return self.wished.question.plan.standing

    @property
    def best(self) -> WayOut | None:
        """The way to hand over: the one that keeps what is asked, else the widest there is."""
        if self.wished.answer == WAY:
            return self.wished
        return self.bare.way if self.bare.way is not None and self.bare.low >= 0.0 else None

    @property
    def route(self) -> Route | None:
        """Its route."""
        return None if self.best is None else self.best.route

    @property
    def tight(self) -> tuple[Tight, ...]:
        """Where that route is tightest, or where the aircraft jams without one."""
        way = self.best or self.bare.way
        return () if way is None else way.tight

    @property
    def worst(self) -> float:
        """What the tolerances can take from the tightest instant [m]."""
        return max((s.worst for s in self.spreads.values()), default=0.0)

    @property
    def verdict(self) -> str:
        """As the other verdicts: fits, with care, does not fit, not judged."""
        if self.best is not None:
            least = min((t.gap for t in self.tight), default=np.inf)
            return FITS if self.wished.answer == WAY and least >= self.worst else CARE
        return NOT if self.bare.high <= 0.0 else UNJUDGED

    @property
    def why(self) -> str:
        """One clause on what decides it."""
        if self.best is None:
            return self.bare.limited or self.wished.reason
        if self.wished.answer == WAY:
            return "" if self.verdict == FITS else "less than the inputs' tolerance"
        return "less than the clearance wanted"


def rolled_out(
    standing: Standing,
    room: Room,
    spot: str | None = None,
    *,
    level: float | None = None,
    over: float | None = None,
    gear: bool = False,
    width: float = WIDTH,
    watch: Watch = patient,
    toleranced: bool = True,
) -> RollOut:
    """Ask for the way out of a room, and for the greatest clearance there is.

    level, over : clearance to keep across and upright [m]; what the place asks for where None
    gear : also search for a way on its own wheels
    Raises InputError where the question cannot be asked: no spot, no door, off the floor.
    """
    keep = Keep.wished(room)
    if level is not None or over is not None:
        given = Keep.same(level or 0.0, over or 0.0)
        keep = Keep(
            keep.level if level is None else given.level,
            keep.upright if over is None else given.upright,
        )
    question = ask(standing, room, spot, Keep.nothing())
    asked = way_out(ask(standing, room, spot, keep), 0.0, watch)
    bare = widest(question, width, watch)
    rolling = None
    if gear:
        rolling = _told(
            roll_out(asked.question if asked.answer == WAY else question, 0.0, watch), question
        )
    asked = _told(asked, question)
    if bare.way is not None and bare.low >= 0.0:
        bare = replace(bare, way=_told(bare.way, question))
    out = RollOut(asked, bare, rolling, level, over, {})
    return replace(out, spreads=_spreads(out, room, spot)) if toleranced else out


def _told(way: WayOut, bare: Question) -> WayOut:
    """The way with the whole clearance that its route is proved to keep, nothing set aside."""
    if way.route is None:
        return way
    route = replace(way.route, clearance=proved(bare, way.route))
    return replace(way, question=bare, route=route)


def if_asked(
    standing: Standing, room: Room, spot: str | None = None, watch: Watch = patient
) -> RollOut | None:
    """The answer, or None where the question cannot be asked of this spot and place."""
    try:
        return rolled_out(standing, room, spot, watch=watch)
    except InputError:
        return None


def _spreads(out: RollOut, room: Room, spot: str | None) -> dict[str, Spread]:
    """What each input does to the gaps at the tight instants of the route: built again there."""
    if out.best is None:
        return {}
    standing = out.standing
    answer = judge(standing, room, spot)
    base = _gaps(out, standing, room)
    changes: list[tuple[str, Values]] = []
    for one in given_inputs(standing.airframe.design, room.place):
        for side in (1.0, -1.0):
            state = moved(answer, room, {one: side})
            changes.append((one.name, _gaps(out, state.standing, state.room)))
    return spreads(base, changes)


def _gaps(out: RollOut, standing: Standing, room: Room) -> Values:
    found = {t.thing: level_gap(standing, room, t.pose, t.thing) for t in out.tight}
    return {name: gap for name, gap in found.items() if gap is not None}
