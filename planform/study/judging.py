"""The judgement of an aircraft in a room: standing on its spot, and coming out from there."""

from __future__ import annotations

from planform.airframe.stance import Standing
from planform.fit.answer import FitAnswer
from planform.fit.room import Room
from planform.fit.straight import judge_straight
from planform.fit.way_out import box_limit
from planform.study.roll_out import if_asked
from planform.study.spreads_of_fit import with_spreads

SPARING = 60_000
"""Boxes of pose space that the way out is searched with before it is left undecided: some seconds.
Assumption; the roll-out itself searches on."""


def judge(
    standing: Standing, room: Room, spot: str | None = None, boxes: int = SPARING
) -> FitAnswer:
    """The answer of one stage in one place, with the way out and its tolerances.

    boxes : how many the search for the way out may take
    """
    way = if_asked(standing, room, spot, box_limit(boxes))
    return with_spreads(judge_straight(standing, room, spot, way=way), room)
