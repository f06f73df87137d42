"""Every way, and every proof that there is none, gone over again by other means before it is told.

Nothing is shared with the search but the ground plan; see `planform.fit.proof`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planform.fit.levels import EDGE
from planform.fit.proof import STEP, fault_in, gap_at, sweep
from planform.fit.question import Question, lowest
from planform.fit.way_out import (
    BY_BOXES,
    BY_CEILING,
    BY_FLOORS,
    BY_HEIGHTS,
    BY_LINE,
    BY_SILLS,
    BY_SPOT,
    NONE,
    WAY,
    WayOut,
)

if TYPE_CHECKING:
    from planform.core.motion.closed import Closed

LESS = 5e-3
"""A way is swept for the clearance that is told less this [m], so that it takes no long time."""

MOST_BOXES = 100_000
"""Boxes of one proof that are gone over, about fifteen seconds; a larger one is not. Assumption."""

SWEPT = "a sweep of the outlines as built between all poses, with a general geometry library"
FACES = "each box of the proof measured again, and each face of each box that may be reached"
RINGS = "rings of what the extreme point of a part cannot pass under or over, closed round it"
OVER_SPOT = "the ceiling over every corner of the aircraft on its spot"
ON_SPOT = "the gap on the spot between the outlines as built, with a general geometry library"
"""By what something is gone over."""


@dataclass(frozen=True)
class GoneOver:
    """One thing that the second check went over.

    what : what that is, in words ; by : how
    looks, of : how many it looked at, and of what
    missing : why it was not gone over; '' where it was, and stood up to it
    """

    what: str
    by: str
    looks: int
    of: str
    missing: str = ""

    @property
    def done(self) -> bool:
        """Whether it was gone over."""
        return not self.missing


def go_over(way: WayOut | None, what: str) -> GoneOver | None:
    """Go over an answer again; None where it is neither a way nor a proof of none.

    Raises RuntimeError where the two disagree, which is a fault of the program.
    """
    if way is None:
        return None
    if way.answer == WAY and way.route is not None:
        keeps = max(0.0, way.route.clearance - LESS)
        seen = sweep(way.question.plan, way.route, keeps)
        if not seen.good:
            raise RuntimeError("the second check of the way out disagrees with the search")
        return GoneOver(what, SWEPT, seen.looks, "poses")
    if way.answer == NONE and way.proof:
        return _NONE[way.proof](way, what)
    return None


def not_gone_over(what: str, why: str) -> GoneOver:
    """What is told of something that the second check had no time for."""
    return GoneOver(what, "", 0, "", why)


def proof_of(way: WayOut) -> Closed:
    """The boxes by which a search proved that there is none; ValueError where it did not."""
    cells = way.question.cells
    return cells.closed(min(way.wanted, cells.cap))


def _boxes(way: WayOut, what: str) -> GoneOver:
    """The boxes round the start that shut it in."""
    try:
        closed = way.closed or proof_of(way)
    except ValueError as error:
        raise RuntimeError(f"the second check of the proof of none disagrees: {error}") from None
    if closed.start != way.question.searched_from or closed.clearance > way.wanted:
        raise RuntimeError("the second check of the proof of none disagrees: of another question")
    count = len(closed.reached) + len(closed.shell)
    if count > MOST_BOXES:
        return not_gone_over(what, f"its proof has {count} boxes, more than are gone over again")
    wrong = fault_in(way.question.searched, closed)
    if wrong:
        raise RuntimeError(f"the second check of the proof of none disagrees: {wrong}")
    return GoneOver(what, FACES, count, "boxes")


def _rings(way: WayOut, what: str) -> GoneOver:
    """Whether the highest point of a part lies in a hole of what it cannot pass under.

    For sills the lowest point of what hangs, and what it cannot pass over; for floors the lowest
    of all, and the edges of its floor.

    A point comes out of the plan just where no connected piece of what is in its way goes round it.
    """
    import shapely

    question = way.question
    parts = question.plan.standing.parts
    if way.proof == BY_SILLS:
        part = lowest([p for p in parts if p.role != "wheel"])
        top = part.points[int(np.argmin(part.points[:, 2]))]
    elif way.proof == BY_FLOORS:
        part = lowest(parts)
        top = part.points[int(np.argmin(part.points[:, 2]))] + [0.0, 0.0, 0.5 * EDGE]
    else:
        shut = question.shut_in if way.proof == BY_LINE else None
        part = shut or max(parts, key=lambda p: float(p.points[:, 2].max()))
        top = part.points[int(np.argmax(part.points[:, 2]))]
    here = shapely.points(question.start.place(top[None, :2])[0])
    shapes = [
        shapely.polygons(thing.outline).buffer(thing.keep + STEP)
        for number, thing in question.plan.things
        if _reached(question, number, float(top[2]))
    ]
    pieces = shapely.get_parts(shapely.union_all(shapes))
    if any(shapely.polygons(shapely.get_exterior_ring(p)).contains(here) for p in pieces):
        return GoneOver(what, RINGS, len(shapes), "outlines")
    return not_gone_over(what, "what goes round its extreme point was not found closed")


def _reached(question: Question, number: int, height: float) -> bool:
    low, high, _ = question.plan.ranges[number]
    return low < height < high


def _ceiling(way: WayOut, what: str) -> GoneOver:
    plan = way.question.plan
    points = way.question.start.place(plan.standing.all_points())
    room = plan.room.ceiling_over(points) - points[:, 2] - plan.standing.bulge
    if float(room.min()) < plan.keep.upright.get("ceiling", 0.0):
        return GoneOver(what, OVER_SPOT, len(points), "points")
    return not_gone_over(what, "the ceiling over the spot is high enough there")


def _spot(way: WayOut, what: str) -> GoneOver:
    plan = way.question.plan
    gap = gap_at(plan, way.question.start)
    if gap < way.wanted + plan.drawn_out + plan.standing.bulge + STEP:
        return GoneOver(what, ON_SPOT, 1, "poses")
    return not_gone_over(what, "on the spot there is more")


_NONE = {
    BY_BOXES: _boxes, BY_HEIGHTS: _rings, BY_SILLS: _rings, BY_LINE: _rings,
    BY_FLOORS: _rings,
    BY_CEILING: _ceiling, BY_SPOT: _spot,
}  # fmt: skip
