"""What stops an aircraft that has no way out: which part, which thing, and by how much."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from planform.airframe.stance import Standing
from planform.fit.cut_off import hangs, reaches_out, shut_in
from planform.fit.door import passage
from planform.fit.ground_plan import Keep
from planform.fit.moves import Pose
from planform.fit.question import Question, Watch, question_at
from planform.fit.room import Room
from planform.fit.tightest import met_at
from planform.fit.way_out import WAY, way_out

HIGH, WIDE, STANDS = "too high to pass under", "too wide, pushed straight, for", "stopped by"
LOW = "too low to pass over"
"""How a thing stops it; the last where taking the thing away frees it and height says nothing."""

STOPPING = ("obstacle", "aircraft", "kept off")
"""Kinds of things that alone may be what stops it."""

LOOKS = 20_000
"""Boxes that the search without one thing may take; assumption."""


@dataclass(frozen=True)
class Stop:
    """One thing that stops the aircraft.

    amount : how much too high or wide [m]; None where the thing merely stands in the way
    at_door : whether it is about a straight push through a door
    """

    part: str
    thing: str
    how: str
    amount: float | None
    at_door: bool = False


def stops(question: Question, watch: Watch) -> tuple[Stop, ...]:
    """What stops an aircraft for which no way was found to be the only one jammed.

    Each door that no straight push passes, where that is so of all; else each thing without which
    there is a way out: it alone is what stops it; else what is nearest where the way that is least
    closed is. Empty where even that tells nothing.
    """
    standing, room = question.plan.standing, question.plan.room
    found = at_every_door(standing, room)
    found = found or tuple(_without_one(standing, room, question.start, watch))
    return found or least_closed(question)


def least_closed(question: Question) -> tuple[Stop, ...]:
    """The part and the thing that meet where the way that is least closed is; it proves nothing."""
    if not question.boxes:
        return ()
    jam = question.cells.likely_jam()
    if jam is None:
        return ()
    tight = met_at(question, question.hand.back_pose(jam))
    return (Stop(tight.part, tight.thing, STANDS, None),)


def at_every_door(standing: Standing, room: Room) -> tuple[Stop, ...]:
    """What stops a straight push at each door; empty where one passes it."""
    doors = [_at_door(standing, room, k) for k in range(len(room.place.doors))]
    found = tuple(stop for stop in doors if stop is not None)
    return found if len(found) == len(doors) else ()


def _at_door(standing: Standing, room: Room, k: int) -> Stop | None:
    door = room.place.doors[k]
    found = passage(standing, room, door)
    if found.head_gap < 0.0:
        return Stop(found.highest, f"the head of {door.name}", HIGH, -found.head_gap, True)
    if found.sill_gap is not None and found.sill_gap < 0.0:
        part = min(found.sill_gaps, key=lambda name: found.sill_gaps[name])
        return Stop(part, f"the threshold of {door.name}", LOW, -found.sill_gap, True)
    if found.best_gap < 0.0:
        return Stop(found.widest, door.name, WIDE, -found.best_gap, True)
    return None


def _without_one(standing: Standing, room: Room, start: Pose, watch: Watch) -> Iterator[Stop]:
    names = dict.fromkeys(f.name for f in room.fixed if f.kind in STOPPING)
    for name in names:
        fewer = replace(room, fixed=tuple(f for f in room.fixed if f.name != name))

        if _frees(standing, room, fewer, start, watch):
            yield _thing(standing, room, name)


def _frees(standing: Standing, room: Room, fewer: Room, start: Pose, watch: Watch) -> bool:
    """Whether the aircraft comes out of the room with fewer things, or is no more shut in.

    Where a part is cut off from every way out, that it no longer is; else a way that is proved.
    """
    if hangs(standing, room):
        part = shut_in(standing, room, start, Keep.nothing())
        if part is not None:
            return reaches_out(standing, fewer, start, Keep.nothing(), part)

    def going(step: str, boxes: int, seconds: float) -> bool:
        return boxes < LOOKS and watch(step, boxes, seconds)

    question = question_at(standing, fewer, start, Keep.nothing())
    return way_out(question, 0.0, going).answer == WAY


def _thing(standing: Standing, room: Room, name: str) -> Stop:
    """A thing without which it comes out: by how much it hangs too low, or that it stands there."""
    low = min(f.low for f in room.fixed if f.name == name)
    part = max(standing.parts, key=lambda p: float(p.points[:, 2].max()) + p.bulge)
    over = float(part.points[:, 2].max()) + part.bulge - low
    if low > 0.0 and over > 0.0:
        return Stop(part.name, name, HIGH, over)
    return Stop("it", name, STANDS, None)
