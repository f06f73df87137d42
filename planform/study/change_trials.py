"""Where changes are tried: each case stood up, parked, and searched for a way out."""

from __future__ import annotations

from dataclasses import replace

from planform.core.motion.contacts import CannotStand
from planform.design.problems import InputError
from planform.fit.ground_plan import Keep
from planform.fit.question import Watch, question_for
from planform.fit.room import without_doors
from planform.fit.straight import stopped_doors
from planform.fit.verdict import NOT
from planform.fit.way_out import NONE, OPEN, WAY, WayOut, way_out
from planform.study.change_cases import (
    FAILS,
    FREES,
    UNDECIDED,
    UNTRIED,
    Case,
    Tried,
)


class Trials:
    """Where cases are tried: the clearance kept, the time, and whether it is over."""

    def __init__(self, keep: Keep, watch: Watch, each: float) -> None:
        self.keep = keep
        self.watch = watch
        self.each = each
        self.stopped = False
        self.known: dict[str, Tried] = {}

    def goes_on(self, step: str) -> bool:
        """Whether there is time for more."""
        self.stopped = self.stopped or not self.watch(step, 0, 0.0)
        return not self.stopped

    def asked(self, case: Case, step: str) -> str:
        """The answer for a change that has one size, which is kept."""
        if not self.goes_on(step):
            return UNTRIED
        self.known[step] = self.tried(case, 1.0, step)
        return self.known[step].answer

    def tried(
        self,
        case: Case,
        size: float,
        step: str,
        *,
        strict: bool = False,
        limit: float | None = None,
    ) -> Tried:
        """Try one case for real.

        strict : raise InputError where the question cannot be asked; else that does not free it
        limit : seconds that it may take, those of every case where None
        """
        most = self.each if limit is None else limit

        def going(_: str, boxes: int, seconds: float) -> bool:
            self.stopped = self.stopped or not self.watch(step, boxes, seconds)
            return not self.stopped and seconds < most

        try:
            way = _way(case, self.keep, going)
        except CannotStand as error:
            return Tried(size, FAILS, str(error), case)
        except InputError as error:
            if strict:
                raise
            return Tried(size, FAILS, "; ".join(str(p) for p in error.problems), case)
        answer = {WAY: FREES, NONE: FAILS, OPEN: UNDECIDED}[way.answer]
        return Tried(size, answer, way.reason, case, way)


def _way(case: Case, keep: Keep, watch: Watch) -> WayOut:
    """Whether it stands clear on its spot and comes out, over the ground as it is.

    The way is searched on a level floor. A door whose ground or threshold brings the aircraft up
    against its head, the ceiling or the ground is taken as shut.
    """
    question = question_for(case.standing, case.room, None, keep)
    way = way_out(question, 0.0, watch)
    if way.answer != WAY:
        return way
    answer = case.answer
    if answer.verdict_of("room") == NOT:
        check = answer.deciding_in("room")
        return replace(way, answer=NONE, reason=f"parked: {check.detail}" if check else "parked")
    stopped = stopped_doors(answer, case.room)
    if not stopped:
        return way
    if len(stopped) == len(case.room.place.doors):
        over = [c for c in answer.checks if c.group in stopped and not c.beside]
        worst = min(over, key=lambda c: c.gap or 0.0)
        return replace(way, answer=NONE, route=None, reason=f"{worst.title}: {worst.detail}")
    fewer = without_doors(case.room, stopped)
    return way_out(question_for(case.standing, fewer, None, keep), 0.0, watch)
