"""An aircraft judged as it stands: parked on its spot, and straight through each door."""

from __future__ import annotations

import math
from collections.abc import Iterator
from copy import copy
from dataclasses import replace
from functools import cached_property

from planform.airframe.on_the_move import on_the_move
from planform.airframe.stance import Standing
from planform.core.halting import look
from planform.design.doors import Door
from planform.design.place import Spot
from planform.fit.answer import FitAnswer
from planform.fit.check import ROOM, WAY_OUT, Check
from planform.fit.clearance import Clearance, Gaps, outside_floor
from planform.fit.door import Passage, passages
from planform.fit.door_checks import door_checks, over_ground, over_ramp
from planform.fit.drains import drain_notes
from planform.fit.moves import Pose, at_spot
from planform.fit.open_doors import standing_out
from planform.fit.opened import opened_checks
from planform.fit.own_floor import there
from planform.fit.push import Push, leading
from planform.fit.pushed_past import level_checks
from planform.fit.ramped import ground_in
from planform.fit.roll_out import RollOut
from planform.fit.room import Room, spot_point
from planform.fit.swings import leaf_notes, swing_checks
from planform.fit.turning_notes import turning_notes
from planform.fit.verdict import CARE, NOT

LOOK = 3.0
"""Clearances beyond this are not looked for [m]; assumption."""


KINDS = (
    ("wall", "to the walls"),
    ("obstacle", "to things that hang or stand"),
    ("ceiling", "to the ceiling"),
    ("door head", "to the top of the door frame, standing on its spot"),
    ("pit", "to a pit, which a wheel stands in"),
    ("threshold", "to the door sill, standing on its spot"),
    ("kept off", "to the space kept round a power line"),
    ("kept free", "to what is kept free for people and cupboard doors"),
)
"""Kind of thing and the words of its check, parked."""


ONLY_WHERE_GIVEN = ("pit", "kept off", "kept free")
"""Kinds that few places have: no clearance to them means nothing."""


def judge_straight(
    standing: Standing,
    room: Room,
    spot_name: str | None = None,
    limit: float = LOOK,
    way: RollOut | None = None,
) -> FitAnswer:
    """Judge an aircraft as it stands: parked on a spot, straight through each door, and out.

    limit : how far clearances are looked for [m]; farther where more is wanted or none is found
    way : the way out from that spot, where it was searched
    """
    return Straight(standing, room, spot_name, limit).answer(way)


PENDING = "being worked out"
"""What is said of a check that is not worked out yet."""

AtDoor = tuple[tuple[Check, ...], Push | None, tuple[str, ...]]
"""What a push straight through a door comes to: its checks, the push over uneven ground, notes."""


class Straight:
    """An aircraft as it stands in a room: each question is worked out once, when it is asked.

    limit : how far clearances are looked for [m] ; gaps : with what they kept of earlier ones
    """

    def __init__(
        self,
        standing: Standing,
        room: Room,
        spot_name: str | None,
        limit: float = LOOK,
        gaps: Gaps | None = None,
    ) -> None:
        self.given, self._spot_name = standing, spot_name
        self.standing, self.room = there(standing, room, spot_name)
        self.spot = spot_point(self.room.place, spot_name)
        self.limit = limit
        self.gaps = gaps or Gaps()
        self._at_doors: dict[tuple[str, tuple[int, ...]], AtDoor] = {}

    def of(self, standing: Standing) -> Straight:
        """The same of an aircraft that stands the same, with what is worked out already."""
        other = copy(self)
        other.given = standing
        other.standing, _ = there(standing, self.room, self._spot_name)
        return other

    @cached_property
    def parked(self) -> tuple[tuple[Clearance, ...], tuple[Check, ...]]:
        """What comes near on the spot, and the checks on it."""
        near, checks = _parked(self.standing, self.room, self.spot, self.limit, self.gaps)
        return near, tuple(checks)

    @cached_property
    def rolled(self) -> Standing:
        """The aircraft as it is moved."""
        return on_the_move(self.standing)

    @cached_property
    def level(self) -> tuple[Passage, ...]:
        """The passage straight through each door on a level floor."""
        return passages(self.rolled, self.room)

    def at_door(self, number: int, ways: tuple[int, ...]) -> AtDoor:
        """What a push straight through a door comes to.

        ways : which ends may lead, 1 the nose, -1 the tail
        """
        door, passed = self.room.place.doors[number], self.level[number]
        key = door.name, ways
        if key not in self._at_doors:
            look()
            self._at_doors[key] = _at_door(self.rolled, self.room, door, passed, ways)
        return self._at_doors[key]

    def without_way(self, *, doors: bool) -> FitAnswer:
        """The answer while the way out is being worked out, and the doors where they are too."""
        pending = Check(WAY_OUT, WAY_OUT, "the way out", None, None, missing=PENDING)
        found = self._answer(None, doors=doors)
        known = self.spot is not None and bool(self.room.place.doors)
        return replace(found, checks=(*found.checks, pending)) if known else found

    def answer(self, way: RollOut | None = None) -> FitAnswer:
        """The whole answer; with the way out, where one was searched."""
        return self._answer(way, doors=True)

    def _answer(self, way: RollOut | None, *, doors: bool) -> FitAnswer:
        standing, room, spot = self.standing, self.room, self.spot
        near, parked = self.parked
        leaving = None if way is None else way.through(room)
        checks, notes = list(parked), list[str]()
        pushes: list[Push] = []
        if doors:
            for found, push, told in self._through_doors(leaving):
                checks += found
                pushes += [] if push is None else [push]
                notes += told
        else:
            checks += [
                Check(f"{d.name}: {PENDING}", d.name, "straight through", None, None,
                      missing=PENDING)
                for d in room.place.doors
            ]  # fmt: skip
        if way is not None:
            checks.append(way.check(room))
        notes += standing.remarks
        if not room.place.doors:
            notes.append("no door is given: whether it can come out was not judged")
        notes += leaf_notes(room)
        notes += drain_notes(standing, room)
        notes += turning_notes(standing, room, spot if near else None, self.gaps)
        if room.place.ceiling is None:
            notes.append("no ceiling is given: height under the roof was not judged")
        return FitAnswer(
            stage=standing.stage.name,
            stance=standing.stance_name,
            place=room.place.name,
            spot=spot.name if spot else None,
            standing=standing,
            checks=tuple(checks),
            near=near,
            passages=self.level if doors else (),
            notes=tuple(notes),
            pushes=tuple(pushes),
            way=way,
            way_door=None if leaving is None else leaving[0],
        )

    def _through_doors(self, leaving: tuple[str, float] | None) -> Iterator[AtDoor]:
        """What a push through each door comes to.

        leaving : the door that a way out goes through, and the nose against straight out there
            [rad]
        """
        for number, door in enumerate(self.room.place.doors):
            ways = tuple(leading(self.room.place, door, self.spot))
            askew: tuple[str, ...] = ()
            if leaving is not None and leaving[0] == door.name:
                ways = (1 if leaving[1] < 0.5 * math.pi else -1,)
                ground = ground_in(self.room, door)
                askew = () if ground.ramped or ground.level else _askew(door.name, leaving[1])
            checks, push, told = self.at_door(number, ways)
            yield checks, push, (*askew, *told)


def _at_door(
    standing: Standing, room: Room, door: Door, passed: Passage, ways: tuple[int, ...]
) -> AtDoor:
    """What a push through one door comes to, on the ground that it has."""
    ground = ground_in(room, door)
    if ground.ramped:
        push, found = over_ramp(standing, room, door, ways)
        return tuple(found), push, ()
    if ground.level:
        past = level_checks(standing, room, door, passed, ways)
        return (*door_checks(passed, room), *past), None, ()
    push, found, told = over_ground(standing, room, door, passed, ways)
    return tuple(found), push, tuple(told)


def _parked(
    standing: Standing, room: Room, spot: Spot | None, limit: float, gaps: Gaps
) -> tuple[tuple[Clearance, ...], list[Check]]:
    """What comes near an aircraft parked on a spot, and the checks on it.

    limit : how far clearances are looked for [m] ; gaps : those that are kept
    """
    missing = ""
    if spot is None:
        missing = "no spot is given"
    elif outside_floor(standing, room, spot):
        missing = f"on spot {spot.name!r} its middle stands off the floor"
    if spot is None or missing:
        return (), [Check(ROOM, ROOM, "standing in the room", None, None, missing=missing)]
    wanted = (room.wanted(kind)[0] for kind, _ in KINDS)
    near = gaps.near(standing, room, spot, max(limit, *(w or 0.0 for w in wanted)))
    if all(c.kind in ("threshold", *ONLY_WHERE_GIVEN) for c in near):
        far = gaps.near(standing, room, spot, math.inf)
        least = (next((c for c in far if c.kind == kind), None) for kind, _ in KINDS)
        near = tuple(sorted((c for c in least if c is not None), key=lambda c: c.gap))
    pose = at_spot(spot)
    swung = (*opened_checks(standing, room, pose), *swing_checks(standing, room, spot))
    return near, [*parked_checks(near, room), *_open_doors(standing, room, pose), *swung]


def _open_doors(standing: Standing, room: Room, pose: Pose) -> list[Check]:
    """A check for each door that cannot be shut, as something stands out of it."""
    found = standing_out(standing, room, pose)
    out = []
    for door in dict.fromkeys(one.door for one in found):
        outside = tuple(one for one in found if one.door == door)
        out.append(
            Check(
                f"{door}: shut",
                ROOM,
                f"to shut {door}",
                None,
                None,
                missing=f"{outside[0].part} stands out of {door}, which cannot be shut",
                decided=CARE,
                outside=outside,
            )
        )
    return out


def stopped_doors(answer: FitAnswer, room: Room) -> set[str]:
    """The doors whose ground or threshold stops a push that a level floor would let through."""
    uneven = {door.name for door in room.place.doors if not ground_in(room, door).level}
    struck = (c.group for c in answer.checks if c.verdict == NOT and not c.beside)
    return uneven.intersection(struck)


ASKEW = math.radians(5.0)
"""A way that goes through a door this far from straight is told [rad]; assumption."""


def _askew(door: str, angle: float) -> tuple[str, ...]:
    off = min(angle, math.pi - angle)
    if off < ASKEW:
        return ()
    told = f"{door}: the way out goes through turned {math.degrees(off):.0f} deg"
    return (f"{told}; the ground there is judged for a straight push",)


def parked_checks(near: tuple[Clearance, ...], room: Room) -> list[Check]:
    """The least clearance to each kind of thing, parked; a threshold counts only when struck."""
    out = []
    for kind, words in KINDS:
        found = next((c for c in near if c.kind == kind), None)
        if kind in ("threshold", "pit") and found is not None and found.gap >= 0.0:
            continue
        if kind == "ceiling" and room.place.ceiling is None:
            out.append(Check(kind, ROOM, words, None, None, missing="the place gives no ceiling"))
        elif found is not None:
            wanted, whence = room.wanted(kind)
            out.append(
                Check(
                    kind,
                    ROOM,
                    words,
                    found.gap,
                    wanted,
                    f"{found.part} and {found.thing}, {found.direction}",
                    clearance=found,
                    wanted_from=whence,
                )
            )
    return out
