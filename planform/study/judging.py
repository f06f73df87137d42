"""The judgement of an aircraft in a room: standing on its spot, and coming out from there.

It comes in parts, those first that take least: what stands on the spot, straight through the
doors, the way out, what the tolerances do, what to measure next.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from planform.airframe.stance import Standing
from planform.core.halting import Halt, under
from planform.core.shown import Brief, Shown
from planform.design.place import Place
from planform.fit.answer import FitAnswer
from planform.fit.check import ROOM, WAY_OUT, Check
from planform.fit.question import box_limit
from planform.fit.roll_out import RollOut
from planform.fit.room import Room, build_room, without_doors
from planform.fit.straight import Straight, stopped_doors
from planform.fit.verdict import FITS
from planform.study.next_reading import Advice, advice
from planform.study.roll_out import USUAL, Wish, if_asked, with_tolerances
from planform.study.spreads_of_fit import with_spreads

SPARING = 60_000
"""Boxes of pose space that the way out is searched with before it is left undecided: some seconds.
Assumption; the roll-out itself searches on."""

NO_ADVICE = Advice(None, (), ())

THE_WORD = Wish(greatest=False)
"""What the verdict alone needs of the way out."""


class Step(StrEnum):
    """The parts of an answer, in the order in which they come."""

    PARKED = "standing in the room"
    STRAIGHT = "straight through the doors"
    WAY = "the way out"
    TOLERANCES = "what the tolerances do"
    NEXT = "what to measure next"


@dataclass(frozen=True, eq=False, repr=False)
class SoFar(Shown):
    """An answer as far as it is worked out; what is not yet, its checks say.

    done : the parts that are
    advice : what to measure next; empty until it is worked out
    """

    answer: FitAnswer
    done: tuple[Step, ...]
    advice: Advice = NO_ADVICE

    @property
    def left(self) -> tuple[Step, ...]:
        """The parts that are not worked out yet."""
        return tuple(step for step in Step if step not in self.done)

    def brief(self) -> Brief:
        """The answer so far, and what is left."""
        rows = self.answer.brief().rows
        return Brief(f"so far: {self.answer.brief().head}", (*rows, ("left", ", ".join(self.left))))


Find = Callable[[Room], RollOut | None]
"""Searches for the way out of a room, its tolerances left aside."""


def answer_in_parts(
    standing: Standing,
    room: Room | Place,
    spot: str | None = None,
    boxes: int | None = None,
    *,
    whole: bool = True,
    halt: Halt | None = None,
) -> Iterator[SoFar]:
    """The answer of one stage in one place, each time with one part more.

    room : built, or a place that is built here
    boxes : how many the search for the way out may take; `SPARING` where None
    whole : False where the verdict and its gap are enough, see `judge`
    halt : ends the work where it is, which raises Halted, once it is asked for
    """
    with under(halt):
        straight = Straight(standing, _built(room), spot)
    wish, most = USUAL if whole else THE_WORD, boxes or SPARING
    yield from in_parts(straight, searching(straight, spot, wish, most), whole=whole, halt=halt)


def searching(straight: Straight, spot: str | None, wish: Wish, most: int) -> Find:
    """Searches for the way out of rooms from one spot, with so many boxes at the most."""
    bare = replace(wish, toleranced=False)
    return lambda room: if_asked(straight.standing, room, spot, bare, box_limit(most))


def in_parts(
    straight: Straight, find: Find, *, whole: bool = True, halt: Halt | None = None
) -> Iterator[SoFar]:
    """The same of an aircraft in a room whose questions may be worked out in part already."""
    done = tuple(Step)
    with under(halt):
        answer = straight.without_way(doors=False)
    yield SoFar(answer, done[:1])
    with under(halt):
        answer = straight.without_way(doors=True)
    yield SoFar(answer, done[:2])
    with under(halt):
        answer = judged_way(straight, find)
    yield SoFar(answer, done[:3])
    with under(halt):
        answer = _toleranced(answer, straight.room, whole=whole)
    yield SoFar(answer, done[:4])
    if whole:
        with under(halt):
            told = advice(answer, straight.room)
        yield SoFar(answer, done, told)


def judge(
    standing: Standing,
    room: Room | Place,
    spot: str | None = None,
    boxes: int | None = None,
    *,
    whole: bool = True,
) -> FitAnswer:
    """The answer of one stage in one place, with the way out and its tolerances.

    room : built, or a place that is built here
    boxes : how many the search for the way out may take; `SPARING` where None
    whole : False where the verdict and its gap are enough: the same words, but no greatest
        clearance or depth of a jam, and tolerances only where they could turn a word
    """
    parts = answer_in_parts(standing, room, spot, boxes, whole=whole)
    return as_far_as(Step.TOLERANCES, parts).answer


def as_far_as(step: Step, parts: Iterator[SoFar]) -> SoFar:
    """What is worked out once a part is; what comes after it is not asked for."""
    return next(one for one in parts if one.done[-1] is step)


def _built(room: Room | Place) -> Room:
    return build_room(room) if isinstance(room, Place) else room


def _toleranced(answer: FitAnswer, room: Room, *, whole: bool) -> FitAnswer:
    """The answer with what the tolerances do to it, along the way out and everywhere else."""
    if answer.way is not None:
        way = with_tolerances(answer.way, answer.spot)
        checks = (way.check(room) if check.group == WAY_OUT else check for check in answer.checks)
        answer = replace(answer, way=way, checks=tuple(checks))
    return with_spreads(answer, room) if whole else with_spreads(answer, room, _fitting(answer))


def judged_way(straight: Straight, find: Find) -> FitAnswer:
    """The answer with the way out, through a door whose ground lets it through where there is one.

    The way is searched on a level floor, and taken over the ground of its door as one push.
    """
    room = straight.room
    answer = straight.answer(find(room))
    stopped = stopped_doors(answer, room)
    if answer.way_door not in stopped or len(stopped) == len(room.place.doors):
        return answer
    other = find(without_doors(room, stopped))
    if other is None or other.route is None:
        return answer
    told = f"over the ground of {answer.way_door} it does not go; the way is by another door"
    answer = straight.answer(other)
    return replace(answer, notes=(*answer.notes, told))


def _fitting(answer: FitAnswer) -> list[Check]:
    """The checks of the verdicts that are good, which the tolerances may turn to care.

    Where no way out was searched the best of all doors decides, and which that is may turn too.
    """
    if answer.way is None:
        groups = [answer.in_group(group) for group in answer.groups]
    else:
        groups = [answer.in_group(ROOM), answer.out_checks]
    good = [checks for checks in groups if all(c.verdict == FITS for c in checks)]
    return [check for checks in good for check in checks if check.group != WAY_OUT]
