"""Can it be moved out of the room, along which route, and with what clearance."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from time import monotonic
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from planform.core.motion.closed import Closed
from planform.fit.moves import Move, Route, Tight

if TYPE_CHECKING:
    from planform.core.motion.cells import Decision
    from planform.core.motion.plan_moves import PlanMove
from planform.fit.question import (
    MOST,
    Question,
    Watch,
    at_once,
    door_ways,
    headroom,
    other_floors,
    over_sills,
    patient,
)
from planform.fit.tightest import tightest

Array = NDArray[np.float64]

WAY, NONE, OPEN, NOT_FOUND = "way out", "no way out", "not decided", "not found"
"""Proved by a route; proved that there is none; neither; the search on its own gear found none."""

BY_HEIGHTS, BY_CEILING, BY_SPOT, BY_LINE, BY_BOXES = "heights", "ceiling", "spot", "line", "boxes"
BY_SILLS, BY_FLOORS = "sills", "floors"
"""By what it is proved that there is none: heights alone, the ceiling, what is left on the spot,
the line of a highest point, or boxes of poses."""

BY_RAMP = "it has no way on its own floor; a way over a ramp was not searched"
"""Why it is not decided whether there is a way out where the room has a ramp."""

SHUT_IN = "however it turns, something is in the way of every route"
"""Why there is no way out where that is proved by boxes."""

WIDTH = 0.012
"""The greatest clearance is bracketed to this [m]."""

MORE = 40_000
"""Boxes that each question about how deep it jams may add; a jam is told as well as they allow."""

LEAST_LOOKS = 800
"""Looks at the watch that the depth of a jam may take at least, some two seconds: else no more than
the decision took. Assumption."""

FEW = 10
"""With fewer looks left it is not asked how deep it jams."""

NEAR = 0.005
"""It is asked this much either side of where a jam seems to be [m]; assumption."""

ASIDE = (0.025, 0.05, 0.1, 0.2)
"""Clearances that are asked for on both sides of one that was not decided [m]."""


@dataclass(frozen=True, eq=False)
class WayOut:
    """The answer to: is there a way out that keeps what is wanted.

    answer : 'way out', 'no way out', 'not decided', or on its own gear 'not found'
    wanted : level clearance asked for beside what the question keeps [m]
    reason : one clause on what decided it
    proof : by what it is proved that there is none; '' where it is not
    route : the way, where there is one
    boxes, seconds : what the search took
    closed : the boxes of a proof of none that is taken over from another question
    """

    question: Question
    answer: str
    wanted: float
    reason: str
    route: Route | None = None
    shunts: int | None = None
    boxes: int = 0
    seconds: float = 0.0
    proof: str = ""
    closed: Closed | None = None

    @cached_property
    def tight(self) -> tuple[Tight, ...]:
        """The tightest instants of the route, least first; empty without a route."""
        if self.route is None:
            return ()
        return tightest(self.question, self.route)


@dataclass(frozen=True, eq=False)
class GreatestClearance:
    """The greatest clearance any way out has, bracketed [m].

    low : proved by `way` ; high : proved by `none` that none has more (or `limited` says what caps
        it)
    high below zero : no way; forced through it would overlap by that much where it jams
    low below zero, high above : not decided whether there is one
    """

    low: float
    high: float
    way: WayOut | None
    limited: str
    asked: tuple[tuple[float, str, float], ...] = field(default=())
    none: WayOut | None = None


def by_heights(question: Question) -> tuple[str, str]:
    """Why it cannot come out, by heights alone, and that proof's kind; '' if they do not tell."""
    kinds = (at_once, BY_HEIGHTS), (over_sills, BY_SILLS), (headroom, BY_CEILING)
    for asked, proof in (*kinds, (other_floors, BY_FLOORS)):
        reason = asked(question)
        if reason:
            return reason, proof
    return "", ""


def by_ramp(question: Question) -> bool:
    """Whether it may leave its floor over a ramp, so that no way on that floor proves nothing."""
    return bool(question.plan.room.place.floor.ramps)


def way_out(question: Question, wanted: float = 0.0, watch: Watch = patient) -> WayOut:
    """Whether the aircraft, free to go any way on dollies, comes out with a clearance [m].

    wanted : level clearance beside what the question keeps; below zero, by how much it may overlap
    """
    began = monotonic()

    def told(answer: str, reason: str, route: Route | None = None, proof: str = "") -> WayOut:
        if answer == NONE and proof != BY_SPOT and by_ramp(question):
            answer, reason, proof = OPEN, BY_RAMP, ""
        return WayOut(
            question, answer, wanted, reason, route,
            boxes=question.boxes, seconds=monotonic() - began, proof=proof,
        )  # fmt: skip

    reason, proof = by_heights(question)
    if reason:
        return told(NONE, reason, proof=proof)
    if question.parked < wanted:
        return told(NONE, "the parked spot itself leaves less", proof=BY_SPOT)
    direct = _direct(question, wanted)
    if direct is not None:
        return told(WAY, "straight out, as it stands", direct)
    if wanted >= 0.0 and question.shut_in is not None:
        reason = f"its {question.shut_in.name} is higher than what hangs in the way"
        return told(NONE, reason, proof=BY_LINE)
    decision = question.cells.decide(min(wanted, question.cells.cap), _told(watch, "way out"))
    if decision.answer == "none":
        return told(NONE, SHUT_IN, proof=BY_BOXES)
    if decision.answer == "open":
        return told(OPEN, "the search ended before a proof either way")
    return told(WAY, "turning as needed, proved all along", _route(question, decision))


def _told(watch: Watch, step: str) -> Callable[[int, float], bool]:
    return lambda boxes, seconds: watch(step, boxes, seconds)


def _ways(question: Question) -> Array:
    """Unit vectors out of the doors as they are searched, each once, shape (n, 2)."""
    ways = np.array([out for _, out in door_ways(question.plan.room.place)])
    return np.unique(np.round(question.hand.ways(ways), 12) + 0.0, axis=0)


def _direct(question: Question, c: float) -> Route | None:
    """The push straight out as it stands, where it is proved."""
    from planform.core.motion.routes import straight_out

    cells = question.cells
    move = straight_out(cells.scene, np.array(cells.start), c, _ways(question))
    return None if move is None else Route((move_of(question, move),), c, "dollies")


def _route(question: Question, decision: Decision) -> Route:
    """Few moves from the route of boxes."""
    from planform.core.motion.routes import fewer_moves

    assert decision.path is not None
    c = decision.clearance
    moves = fewer_moves(question.cells.scene, decision.path, c, _ways(question))
    return Route(tuple(move_of(question, m) for m in moves), c, "dollies")


def move_of(question: Question, move: PlanMove) -> Move:
    """A move that was found, as one of the aircraft in the place."""
    from planform.core.motion.plan_moves import along

    plan, move = question.plan, question.hand.move(move)
    start = plan.pose_at(move.x, move.y, move.heading)
    end = plan.pose_at(*(float(v) for v in along(move, 1.0)))
    centre = (move.cx, move.cy) if move.arc else None
    return Move(start, end, centre, (float(plan.pivot[0]), float(plan.pivot[1])))


def proved(question: Question, route: Route, fine: float = 1e-3) -> float:
    """The clearance that a route is proved to keep all along in a question [m], to `fine`.

    -inf where it is not even proved to keep none; at most `MOST`.
    """
    moves = [_flat(question, move) for move in route.moves]

    def keeps(c: float) -> bool:
        return all(question.scene.keeps(move, c) for move in moves)

    if not keeps(0.0):
        return -np.inf
    low, high = 0.0, MOST
    if keeps(high):
        return high
    while high - low > fine:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if keeps(middle) else (low, middle)
    return low


def _flat(question: Question, move: Move) -> PlanMove:
    """A move of the aircraft as one of its pivot."""
    from planform.core.motion.plan_moves import about, straight

    start = np.array(question.plan.pivot_at(move.start))
    if move.centre is None:
        return straight(start, np.array(question.plan.pivot_at(move.end)))
    return about(start, move.turn, np.array(move.centre))


class _Asking:
    """Decisions at one clearance after another, and what they come to."""

    def __init__(self, question: Question, watch: Watch, known: WayOut | None) -> None:
        self.question, self.watch, self.known = question, watch, known
        self.asked: list[tuple[float, str, float]] = []
        self.best: WayOut | None = None
        self.none: dict[float, WayOut] = {}
        self.decided_in = 0

    def way(self, c: float) -> str:
        """Whether there is a way with this clearance [m]; below zero sparingly."""
        if self.known is not None and self.known.wanted == c:
            answer = self.known
        else:
            answer = way_out(self.question, c, self.watch if c >= 0.0 else self._sparing())
        if c >= 0.0 and "cells" in self.question.__dict__:
            self.decided_in = self.question.cells.looks
        self.asked.append((c, answer.answer, answer.seconds))
        if answer.answer == WAY:
            self.best = answer
        elif answer.answer == NONE:
            self.none[c] = answer
        return answer.answer

    def guess(self) -> float:
        """How little clearance there seems to be where it jams [m]; nothing is proved by it."""
        jam = self.question.cells.likely_jam()
        return np.inf if jam is None else self.question.cells.scene.clearance(jam)[0]

    @property
    def left(self) -> int:
        """Looks at the watch that are left for how deep it jams."""
        spent = self.question.cells.looks - self.decided_in
        return max(LEAST_LOOKS, self.decided_in) - spent

    def _sparing(self) -> Watch:
        """A watch for how deep it jams: all in all as much work as the decision took.

        Each question may take half of what is left, so that a hard one leaves some for the next.
        """
        cells = self.question.cells
        most = cells.boxes + MORE
        last = cells.looks + self.left // 2

        def sparing(step: str, boxes: int, seconds: float) -> bool:
            going = boxes < most and cells.looks <= last
            return going and self.watch(step, boxes, seconds)

        return sparing

    def told(self, low: float, high: float, limited: str) -> GreatestClearance:
        """What is known with this bracket."""
        none = self.none.get(high)
        return GreatestClearance(low, high, self.best, limited, tuple(self.asked), none)


def greatest_clearance(
    question: Question,
    width: float = WIDTH,
    watch: Watch = patient,
    known: WayOut | None = None,
) -> GreatestClearance:
    """The greatest clearance of any way out, bracketed to `width` [m] where the watch allows.

    known : an answer of this question that is not asked for again
    """
    asking = _Asking(question, watch, known)
    reason, _ = by_heights(question)
    if reason and not by_ramp(question):
        asking.way(0.0)
        return asking.told(-np.inf, 0.0, reason)
    first = asking.way(0.0) if question.parked >= 0.0 else NONE
    if first != WAY and question.parked >= 0.0 and by_ramp(question):
        return asking.told(-np.inf, np.inf, BY_RAMP)
    if first == NONE and question.shut_in is not None:
        return asking.told(-np.inf, 0.0, "something hangs too low, from wall to wall")
    if first == OPEN:
        high = next((c for c in ASIDE if asking.way(c) == NONE), np.inf)
        low = next((-c for c in ASIDE if asking.way(-c) == WAY), -np.inf)
        return asking.told(low, high, "not decided closer")
    found = _above(asking) if first == WAY else _depth(asking)
    if isinstance(found, GreatestClearance):
        return found
    low, high, closer = _halved(asking.way, *found, width)
    jam = "how deep it jams was " if high <= 0.0 else ""
    return asking.told(low, high, "" if closer else f"{jam}not decided closer")


def _above(asking: _Asking) -> GreatestClearance | tuple[float, float]:
    """A clearance with a way and one with none, or that there is a way with the most asked for."""
    top, parked = asking.question.cells.cap, asking.question.parked
    if asking.way(top) != WAY:
        return 0.0, top
    if top == parked:
        return asking.told(top, top, "the parked spot itself")
    return asking.told(top, np.inf, "more is not looked for")


def _depth(asking: _Asking) -> GreatestClearance | tuple[float, float]:
    """How deep it jams: an overlap with a way and a lesser one with none, or why not told."""
    from planform.core.motion.cells import DEEP

    high, step = min(0.0, asking.question.parked), 0.05
    closed, answer = high, NONE
    while high > -DEEP:
        if asking.left < FEW:
            return asking.told(-np.inf, closed, "how deep it jams was not decided")
        guess = min(asking.guess(), high)
        low = high - step if answer == OPEN else max(high - step, guess - NEAR)
        answer = asking.way(low)
        if answer == WAY:
            if guess + NEAR < closed and asking.way(guess + NEAR) == NONE:
                closed = guess + NEAR
            return low, closed
        closed = low if answer == NONE else closed
        high, step = low, 2.0 * step
    return asking.told(-np.inf, closed, "the jam is deeper than was looked for")


def _halved(
    way: Callable[[float], str], low: float, high: float, width: float
) -> tuple[float, float, bool]:
    """A clearance with a way and one with none brought closer, and whether to a width [m]."""
    while high - low > width:
        for share in (0.5, 0.35, 0.65):
            middle = low + share * (high - low)
            answer = way(middle)
            if answer != OPEN:
                break
        else:
            return low, high, False
        low, high = (middle, high) if answer == WAY else (low, middle)
    return low, high, True
