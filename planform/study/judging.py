"""The judgement of an aircraft in a room: standing on its spot, and coming out from there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from planform.airframe.stance import Standing
from planform.design.place import Place
from planform.fit.answer import FitAnswer
from planform.fit.check import ROOM, WAY_OUT, Check
from planform.fit.own_floor import there
from planform.fit.question import box_limit
from planform.fit.roll_out import RollOut
from planform.fit.room import Room, build_room, without_doors
from planform.fit.straight import judge_straight, stopped_doors
from planform.fit.verdict import FITS
from planform.study.roll_out import USUAL, Wish, if_asked
from planform.study.spreads_of_fit import with_spreads

SPARING = 60_000
"""Boxes of pose space that the way out is searched with before it is left undecided: some seconds.
Assumption; the roll-out itself searches on."""

THE_WORD = Wish(greatest=False)
"""What the verdict alone needs of the way out."""


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
    if isinstance(room, Place):
        room = build_room(room)
    standing, room = there(standing, room, spot)
    wish, most = USUAL if whole else THE_WORD, boxes or SPARING
    answer = judged_way(
        standing, room, spot, lambda there: if_asked(standing, there, spot, wish, box_limit(most))
    )
    if whole:
        return with_spreads(answer, room)
    return with_spreads(answer, room, _fitting(answer))


def judged_way(
    standing: Standing, room: Room, spot: str | None, find: Callable[[Room], RollOut | None]
) -> FitAnswer:
    """The answer with the way out, through a door whose ground lets it through where there is one.

    find : searches for the way in a room
    The way is searched on a level floor, and taken over the ground of its door as one push.
    """
    answer = judge_straight(standing, room, spot, way=find(room))
    stopped = stopped_doors(answer, room)
    if answer.way_door not in stopped or len(stopped) == len(room.place.doors):
        return answer
    other = find(without_doors(room, stopped))
    if other is None or other.route is None:
        return answer
    told = f"over the ground of {answer.way_door} it does not go; the way is by another door"
    answer = judge_straight(standing, room, spot, way=other)
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
