"""Out of the room, turning as needed: what is wanted, the most there is, and how sure that is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from planform.airframe.stance import Standing
from planform.core.shown import Brief, Shown, bracket, known
from planform.core.spread import Spread, ranked
from planform.design.told import said
from planform.fit.check import WAY_OUT, Check, Strand
from planform.fit.moves import Route, Tight
from planform.fit.question import door_ways
from planform.fit.room import Room
from planform.fit.second_check import GoneOver
from planform.fit.stops import Stop
from planform.fit.verdict import CARE, FITS, NOT, UNJUDGED, Verdict
from planform.fit.way_out import BY_RAMP, OPEN, WAY, GreatestClearance, WayOut


@dataclass(frozen=True, eq=False, repr=False)
class RollOut(Shown):
    """Whether an aircraft comes out of a room, and how.

    wished : with the clearances asked for kept ; bare : just not touching, the most there is
    on_gear : on its own wheels with what is asked for, or bare; None where not asked
    level, over : the clearances asked for in words of the place (None) or given [m]
    spreads : what the inputs' tolerances do to each tight instant of the route, by thing; where it
        jams, what they can give there
    meets : what it already touches where it is parked; None where it stands free
    gear_spreads : as `spreads`, for the route on its own wheels
    stops : what stops it, where it has no way out and no jam tells
    gone_over : what the second, separate check went over
    """

    wished: WayOut
    bare: GreatestClearance
    on_gear: WayOut | None
    level: float | None
    over: float | None
    spreads: dict[str, Spread]
    meets: Tight | None = None
    gear_spreads: dict[str, Spread] = field(default_factory=dict)
    stops: tuple[Stop, ...] = ()
    gone_over: tuple[GoneOver, ...] = ()

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
        if self.meets is not None:
            return (self.meets,)
        way = self.best or self.bare.way
        return () if way is None else way.tight

    @property
    def jams(self) -> tuple[Tight, ...]:
        """Where it overlaps what is in the way, most first; empty where there is a way."""
        return () if self.best is not None else tuple(t for t in self.tight if t.gap < 0.0)

    @property
    def worst(self) -> float:
        """What the tolerances can take from the tightest instant [m]."""
        return max((s.worst for s in self.spreads.values()), default=0.0)

    @property
    def verdict(self) -> Verdict:
        """As the other verdicts: fits, with care, does not fit, not judged."""
        if self.best is not None:
            least = min((t.gap for t in self.tight), default=np.inf)
            return FITS if self.wished.answer == WAY and least >= self.worst else CARE
        return NOT if self.bare.high <= 0.0 else UNJUDGED

    @property
    def undecided(self) -> bool:
        """Whether more time may tell more."""
        if self.wished.reason == BY_RAMP:
            return False
        return self.verdict == UNJUDGED or (self.wished.answer == OPEN and self.best is None)

    @property
    def why(self) -> str:
        """One clause on what decides it."""
        if self.verdict == UNJUDGED:
            if self.wished.reason == BY_RAMP:
                return BY_RAMP
            return "the search ended before a proof either way"
        if self.meets is not None:
            return "it already touches where it is parked"
        if self.best is None:
            return self.bare.limited or self.wished.reason
        if self.wished.answer == WAY:
            return "" if self.verdict == FITS else "less than the inputs' tolerance"
        return f"no way keeps every clearance wanted: {self.wished.reason}"

    @property
    def _shared(self) -> Spread:
        """What the inputs do to a jam: about evenly shared by the things it jams between."""
        jams = [t for t in self.tight if t.gap < 0.0 and t.thing in self.spreads]
        found: dict[str, float] = {}
        for t in jams:
            for name, change in self.spreads[t.thing].by_input:
                found[name] = found.get(name, 0.0) + change / len(jams)
        return ranked(found)

    def _least(
        self, wanted: Callable[[Tight], tuple[float | None, str]]
    ) -> tuple[float | None, float | None, str, str]:
        """The gap at the instant with least to spare, what is wanted there, whence, and where."""
        if self.best is not None:
            if not self.tight:
                clearance = self.best.route.clearance if self.best.route else None
                return clearance, None, "", "nothing near"
            worst = min(self.tight, key=lambda t: t.gap - (wanted(t)[0] or 0.0))
            return worst.gap, *wanted(worst), f"{worst.part} and {worst.thing}"
        if self.meets is not None:
            detail = f"parked: {self.meets.part} and {self.meets.thing}"
            return self.meets.gap, None, "", detail
        if self.stops and self.bare.way is None:
            first = self.stops[0]
            # the doors have checks of their own
            told = not first.at_door and first.amount is not None
            gap = -first.amount if told and first.amount is not None else None
            return gap, None, "", f"{first.part} and {first.thing}"
        if self.verdict == NOT and np.isfinite(self.bare.low):
            jam = self.tight[0] if self.tight else None
            detail = f"jams: {jam.part} and {jam.thing}" if jam else ""
            return self.bare.high, None, "", detail
        return None, None, "", ""

    def _strands(self, gap: float | None, detail: str) -> list[Strand]:
        """What the tolerances do to the gap: to each instant, or to the jam as a whole."""
        if gap is None:
            return []
        if gap < 0.0:
            return [Strand(detail, gap, self._shared)]
        return [
            Strand(f"{t.part} and {t.thing}", t.gap, self.spreads[t.thing])
            for t in self.tight
            if t.thing in self.spreads
        ]

    def check(self, room: Room) -> Check:
        """The way out as one check among the others, at the instant with least to spare."""
        things = {thing.name: thing for thing in room.fixed}

        def wanted(tight: Tight) -> tuple[float | None, str]:
            if self.level is not None:
                return self.level, "as asked"
            thing = things.get(tight.thing)
            return (None, "") if thing is None else room.wanted_on_the_way(thing)

        gap, wish, whence, detail = self._least(wanted)
        strands = self._strands(gap, detail)
        return Check(
            WAY_OUT,
            WAY_OUT,
            "from the spot to outside, turning as needed",
            gap,
            wish,
            detail,
            missing=self.why,
            wanted_from=whence,
            strands=tuple(strands),
            decided=self.verdict,
        )

    def through(self, room: Room) -> tuple[str, float] | None:
        """The door that the way goes through, and the nose against straight out there [rad].

        The angle is 0 nose first and pi tail first; None without a way.
        """
        if self.route is None:
            return None
        best: tuple[float, str, float] | None = None
        for door, (middle, out) in zip(room.place.doors, door_ways(room.place), strict=True):
            for move in self.route.moves:
                for share in np.linspace(0.0, 1.0, 33):
                    pose = move.at(float(share))
                    off = float(np.hypot(pose.x - middle[0], pose.y - middle[1]))
                    nose = pose.place(np.array([[-1.0, 0.0]]))[0] - (pose.x, pose.y)
                    angle = float(np.arccos(np.clip(nose @ out, -1.0, 1.0)))
                    if best is None or off < best[0]:
                        best = off, door.name, angle
        return None if best is None else best[1:]

    def brief(self) -> Brief:
        """The verdict, why, the greatest clearance and the moves of the way."""
        standing, place = self.standing, self.wished.question.plan.room.place
        units = standing.airframe.design.units
        rows = [("why", self.why)] if self.why else []
        if known(self.bare.low) and known(self.bare.high):
            ends = (said(end, "gap", units) for end in (self.bare.low, self.bare.high))
            rows.append(("greatest clearance", bracket(*ends)))
        if self.route is not None:
            rows.append(("moves", str(len(self.route.moves))))
        rows += [(f"tight: {t.part}, {t.thing}", said(t.gap, "gap", units)) for t in self.tight]
        name = standing.airframe.design.name
        head = f"{name}, {standing.title}, out of {place.name}: {self.verdict}"
        return Brief(head, tuple(rows))
