"""One aircraft on one spot of one room, ready to be asked about ways out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from planform.airframe.on_the_move import on_the_move
from planform.airframe.part import Part
from planform.airframe.stance import Standing
from planform.design.levels import SAME, door_floor
from planform.design.place import Place, Spot
from planform.design.problems import InputError, Problem
from planform.design.slope import least_clear_height
from planform.fit.clearance import outside_floor
from planform.fit.cut_off import hangs, shut_in
from planform.fit.ground_plan import GroundPlan, Keep, ground_plan
from planform.fit.handed import Hand, hand_of, handed_room, handed_standing
from planform.fit.moves import Pose, at_spot
from planform.fit.own_floor import there
from planform.fit.room import Room, doorway, spot_point

if TYPE_CHECKING:
    from planform.core.motion.cells import Cells, PlanProblem

Array = NDArray[np.float64]

MOST = 1.0
"""No greater clearance is looked for [m]; assumption."""

Watch = Callable[[str, int, float], bool]
"""Told what is asked, the boxes in use and the seconds gone; False ends the search early."""

MOST_LOOKS = 5_000
"""Looks at the watch in the searches of one verdict: about half a minute. The demo rooms take a
tenth of it at the most. Assumption."""


def patient(step: str, boxes: int, seconds: float) -> bool:
    """A watch that never ends the search."""
    return True


def time_limit(limit: float) -> Watch:
    """A watch that ends each search after a number of seconds."""
    return lambda step, boxes, seconds: seconds < limit


def box_limit(boxes: int) -> Watch:
    """A watch that ends each search at a number of boxes: the same on every machine.

    All searches together end after `MOST_LOOKS` looks: a look comes after the same work each time.
    """
    looks = 0

    def going(step: str, used: int, seconds: float) -> bool:
        nonlocal looks
        looks += 1
        return used < boxes and looks < MOST_LOOKS

    return going


@dataclass(frozen=True, eq=False)
class Question:
    """One aircraft on one spot of one room, ready to be asked about ways out.

    plan, scene : as asked, in place axes
    searched, cells : the same in the hand that it is searched in, see `handed`
    """

    plan: GroundPlan
    start: Pose
    scene: PlanProblem
    parked: float
    hand: Hand
    searched: GroundPlan

    @cached_property
    def cells(self) -> Cells:
        """The boxes of the search, made when they are first asked for."""
        from planform.core.motion.cells import Cells

        scene, cap = _scene_of(self.searched), min(MOST, max(self.parked, 0.0))
        return Cells(scene, self.searched_from, cap=cap)

    @property
    def boxes(self) -> int:
        """How many boxes there are; none where none was asked for."""
        return self.cells.boxes if "cells" in self.__dict__ else 0

    @cached_property
    def shut_in(self) -> Part | None:
        """A part whose highest point is cut off from every way out; None proves nothing."""
        standing, room = self.plan.standing, self.plan.room
        if not hangs(standing, room):
            return None
        return shut_in(standing, room, self.start, self.plan.keep)

    @property
    def searched_from(self) -> tuple[float, float, float]:
        """The pivot's pose on the spot, as it is searched."""
        return self.searched.pivot_at(self.hand.pose(self.start))

    @property
    def start_at(self) -> tuple[float, float, float]:
        """The pivot's pose on the spot."""
        return self.plan.pivot_at(self.start)


def question_for(
    standing: Standing, room: Room, spot_name: str | None = None, keep: Keep | None = None
) -> Question:
    """The question for an aircraft on a spot; refuses a spot where it cannot stand.

    Raises InputError where no spot is given, its middle is off the floor, or it is in contact.
    """
    spot = spot_point(room.place, spot_name)
    if spot is None:
        allowed = "give the place a spot: [[spots]] with name, at and heading"
        raise InputError(room.place.name, [Problem("spots", "none", allowed)])
    if outside_floor(standing, room, spot):
        allowed = "its middle must stand on the floor; move the spot, or the floor's outline"
        raise InputError(room.place.name, [Problem(f"spots: {spot.name}", spelled(spot), allowed)])
    if not room.place.doors:
        allowed = "a door to come out of: [[doors]] with wall, from_corner, width and height"
        raise InputError(room.place.name, [Problem("doors", "none", allowed)])
    pose = at_spot(spot)
    standing, room = there(standing, room, spot.name)
    return question_at(standing, room, pose, keep or Keep.nothing())


def question_at(standing: Standing, room: Room, pose: Pose, keep: Keep) -> Question:
    """The question for an aircraft at a pose on the floor of a room with a door."""
    standing = on_the_move(standing)
    hand = hand_of(standing, room, pose)
    there = handed_standing(standing, hand.side), handed_room(room, hand)
    searched = ground_plan(*there, keep)
    plan = hand.back(searched, standing, room)
    built = _scene_of(plan)
    parked, _ = built.clearance(plan.pivot_at(pose)) if plan.things else (MOST, -1)
    return Question(plan, pose, built, parked, hand, searched)


def _scene_of(plan: GroundPlan) -> PlanProblem:
    from planform.core.motion.cells import scene

    pieces = [(k, ring) for k, band in enumerate(plan.ranges) for ring in band[2]]
    things = [(k, thing.outline, thing.keep) for k, thing in plan.things]
    return scene(pieces, things, plan.hull, list(plan.floors), plan.beyond)


def spelled(spot: Spot) -> str:
    """Where a spot is, as a file would say it."""
    return f"at {spot.at[0].text}, {spot.at[1].text}"


def at_once(question: Question) -> str:
    """Why it certainly cannot come out, by heights alone; '' where heights do not decide.

    Whatever stands higher than every door head must pass under one of them, and cannot.
    """
    plan = question.plan
    rise = plan.keep.upright.get("door head", 0.0)
    part = max(plan.standing.parts, key=lambda p: float(p.points[:, 2].max()) + p.bulge)
    top = float(part.points[:, 2].max()) + part.bulge
    place = plan.room.place
    heads = [least_clear_height(place, door) for door in place.doors]
    if top > max(heads):
        return f"{part.name} stands higher than every door head"
    if top + rise > max(heads):
        return f"{part.name} leaves less than is kept under every door head"
    return ""


def over_sills(question: Question) -> str:
    """Why it certainly cannot come out, as a part hangs lower than every door sill; '' where not.

    Whatever does must pass over one of them, and cannot; wheels roll over it.
    """
    plan = question.plan
    sills = {f.name: f.high for f in plan.room.fixed if f.kind == "threshold"}
    hung = [part for part in plan.standing.parts if part.role != "wheel"]
    if not hung or not sills or len(sills) < len(plan.room.place.doors):
        return ""
    part = lowest(hung)
    low = float(part.points[:, 2].min()) - part.bulge
    return f"{part.name} hangs lower than every door sill" if low < min(sills.values()) else ""


def other_floors(question: Question) -> str:
    """Why it certainly cannot come out, as no door is on its floor; '' where one is.

    Whatever it stands on cannot pass the edge of that floor.
    """
    room = question.plan.room
    doors = room.place.doors
    if any(abs(door_floor(room.place, door) - room.height) <= SAME for door in doors):
        return ""
    return "every door opens on another floor"


def lowest(parts: Sequence[Part]) -> Part:
    """The part that reaches lowest."""
    return min(parts, key=lambda p: float(p.points[:, 2].min()) - p.bulge)


def headroom(question: Question) -> str:
    """Why it cannot stand under a level ceiling; '' where it can."""
    plan = question.plan
    lowest = min((line.height[0] for line in plan.room.roof if line.level), default=np.inf)
    top = float(plan.standing.all_points()[:, 2].max()) + plan.standing.bulge
    if top + plan.keep.upright.get("ceiling", 0.0) > lowest:
        return "it does not stand under the ceiling"
    return ""


def door_ways(place: Place) -> list[tuple[Array, Array]]:
    """Middle of each door on the inner wall line and the unit vector out of it, each (2,)."""
    return [doorway(place, door) for door in place.doors]
