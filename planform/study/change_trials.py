"""Where changes are tried: each case stood up, parked, and searched for a way out."""

from __future__ import annotations

from dataclasses import replace

from planform.core.motion.contacts import CannotStand
from planform.design.problems import InputError
from planform.fit.ground_plan import Keep
from planform.fit.question import Question, Watch, question_for
from planform.fit.room import without_doors
from planform.fit.same_proof import SameProof
from planform.fit.second_check import proof_of
from planform.fit.straight import stopped_doors
from planform.fit.verdict import NOT
from planform.fit.way_out import ASIDE, BY_BOXES, NONE, OPEN, SHUT_IN, WAY, WayOut, way_out
from planform.study.change_cases import (
    FAILS,
    FREES,
    UNDECIDED,
    UNTRIED,
    Case,
    Tried,
)

BOXES = 120_000
"""Boxes that the search of one change may use, and so the same on every machine; assumption."""

FIRST = 400_000
"""Boxes that the search of the aircraft as it stands may use; assumption."""

ANSWERS = {WAY: FREES, NONE: FAILS, OPEN: UNDECIDED}
"""What an answer of the search comes to."""


class Trials:
    """Where cases are tried: the clearance kept, the limits, and whether the time is over.

    known : the answers for changes that have one size, by their words
    proof : what shuts the aircraft in as it stands, where that is proved by boxes
    """

    def __init__(
        self, keep: Keep, watch: Watch, boxes: int, proof: SameProof | None = None
    ) -> None:
        self.keep = keep
        self.watch = watch
        self.boxes = boxes
        self.stopped = False
        self.known: dict[str, Tried] = {}
        self.proof = proof

    def goes_on(self, step: str, boxes: int = 0, seconds: float = 0.0) -> bool:
        """Whether there is time for more."""
        self.stopped = self.stopped or not self.watch(step, boxes, seconds)
        return not self.stopped

    def asked(self, case: Case, step: str) -> str:
        """The answer for a change that has one size, which is kept."""
        if step not in self.known:
            if not self.goes_on(step):
                return UNTRIED
            tried = self.tried(case, 1.0, step)
            if self.stopped and tried.answer == UNDECIDED:
                return UNTRIED
            self.known[step] = tried
        return self.known[step].answer

    def first(self, case: Case, boxes: int) -> Tried:
        """The aircraft as it stands.

        boxes : that its search may use

        What shuts it in is kept: where a change leaves all of that as it is, it frees nothing.
        Raises InputError where the question cannot be asked.
        """
        step = "as it stands"
        question = question_for(case.standing, case.room, None, self.keep)
        way = way_out(question, 0.0, self.goes_on_with(step, boxes))
        if way.answer == OPEN:
            way = self._aside(way, step)
        self.remember(way)
        return self._told(case, 0.0, self._judged(case, way, self.goes_on_with(step, boxes)))

    def remember(self, way: WayOut) -> None:
        """Keep the proof that the aircraft does not come out as it stands, where it is by boxes."""
        if way.proof == BY_BOXES:
            self.proof = SameProof(way.question, proof_of(way))

    def _aside(self, way: WayOut, step: str) -> WayOut:
        """Beside a clearance of nothing that was not decided: a way with more, or none with less.

        Either decides it.
        """
        for less in ASIDE:
            for wanted, decides in ((less, WAY), (-less, NONE)):
                watch = self.goes_on_with(step, way.question.cells.boxes + self.boxes)
                found = way_out(way.question, wanted, watch)
                if found.answer == decides:
                    return found
        return way

    def goes_on_with(self, step: str, boxes: int) -> Watch:
        """A watch that ends a search at a number of boxes, or with the time."""

        def going(_: str, used: int, seconds: float) -> bool:
            return used < boxes and self.goes_on(step, used, seconds)

        return going

    def tried(self, case: Case, size: float, step: str, *, judged: bool = True) -> Tried:
        """Try one case for real.

        judged : also parked, and over the ground at the doors; else the search alone
        """
        watch = self.goes_on_with(step, self.boxes)
        try:
            question = question_for(case.standing, case.room, None, self.keep)
            way = self._search(question, watch)
            if judged:
                way = self._judged(case, way, watch)
        except CannotStand as error:
            return Tried(size, FAILS, str(error), case)
        except InputError as error:
            return Tried(size, FAILS, "; ".join(str(p) for p in error.problems), case)
        return replace(self._told(case, size, way), judged=judged or way.answer != WAY)

    def judged(self, tried: Tried, step: str) -> Tried:
        """What was searched alone, judged parked too, and over the ground at the doors."""
        if tried.way is None:
            return self.tried(tried.case, tried.size, step)
        way = self._judged(tried.case, tried.way, self.goes_on_with(step, self.boxes))
        return self._told(tried.case, tried.size, way)

    def _told(self, case: Case, size: float, way: WayOut) -> Tried:
        plan, route = way.question.plan, way.route if way.answer == WAY else None
        out = (plan.drawn_out, plan.stepped) if way.answer == NONE else (0.0, 0.0)
        stuck = way.question.parked < 0.0
        return Tried(size, ANSWERS[way.answer], way.reason, case, way, route, out, stuck)

    def _search(self, question: Question, watch: Watch) -> WayOut:
        """The way out, searched only where what shuts in the aircraft as it stands is changed."""
        closed = None if self.proof is None else self.proof.holds_for(question)
        if closed is None:
            return way_out(question, 0.0, watch)
        return WayOut(question, NONE, 0.0, SHUT_IN, proof=BY_BOXES, closed=closed)

    def _judged(self, case: Case, way: WayOut, watch: Watch) -> WayOut:
        """Whether it stands clear on its spot too, and comes out over the ground as it is.

        The way is searched on a level floor. A door whose ground or threshold brings the aircraft
        up against its head, the ceiling or the ground is taken as shut.
        """
        if way.answer != WAY:
            return way
        answer = case.answer
        if answer.verdict_of("room") == NOT:
            check = answer.deciding_in("room")
            return replace(
                way, answer=NONE, reason=f"parked: {check.detail}" if check else "parked"
            )
        stopped = stopped_doors(answer, case.room)
        if not stopped:
            return way
        if len(stopped) == len(case.room.place.doors):
            over = [c for c in answer.checks if c.group in stopped and not c.beside]
            worst = min(over, key=lambda c: c.gap or 0.0)
            return replace(way, answer=NONE, route=None, reason=f"{worst.title}: {worst.detail}")
        fewer = without_doors(case.room, stopped)
        return way_out(question_for(case.standing, fewer, None, self.keep), 0.0, watch)
