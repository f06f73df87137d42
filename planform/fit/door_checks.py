"""The checks of an aircraft pushed straight through a door, on a level floor and over uneven."""

from __future__ import annotations

import math

from planform.airframe.stance import Standing
from planform.design.doors import Door
from planform.fit.check import Check
from planform.fit.door import Passage
from planform.fit.met import OVER_GROUND, WHEELS
from planform.fit.push import Push, push_through
from planform.fit.push_path import Tightest
from planform.fit.pushed_past import level_checks
from planform.fit.room import Room
from planform.fit.verdict import Verdict, worst_verdict

JAMBS = ("left jamb", "right jamb")
ON_THE_WAY = (
    ("head", "door head", "under the door head, on the way"),
    ("ceiling", "ceiling", "to the ceiling, on the way"),
    ("ground", "ground", "over the ground, on the way"),
    ("legs", "ground", "legs over the ground, on the way"),
)
"""Kind of clearance, the wish of the place that it is held against, words."""


def door_checks(door: Passage, room: Room) -> list[Check]:
    """Straight through one door: width (rolling, or else at the best heading), head, threshold."""
    sides, whence = room.wanted("door side")
    over, over_whence = room.wanted("door head")
    both = None if sides is None else 2.0 * sides
    if door.rolling:
        gap, words = door.rolling_gap, f"width, moved straight ahead ({door.widest} is widest)"
    else:
        turned = abs(round(math.degrees(door.best_heading)))
        gap = door.best_gap
        words = f"width, carried or on castering dollies with the nose turned {turned} deg"
    out = [
        Check(
            f"{door.door}: width",
            door.door,
            "width to spare, both sides together",
            gap,
            both,
            words,
            wanted_from=whence,
            rolling=door.rolling,
            curves=2.0 * door.bulge,
        ),
        Check(
            f"{door.door}: head",
            door.door,
            "under the door head",
            door.head_gap,
            over,
            f"{door.highest} is highest",
            wanted_from=over_whence,
            curves=door.bulge,
        ),
    ]
    if door.sill_gap is not None:
        out.append(
            Check(
                f"{door.door}: threshold",
                door.door,
                "over the threshold",
                door.sill_gap,
                0.0,
                "the wheels roll over it; everything else must clear it",
            )
        )
    return out


TURNED = "with the nose turned it is carried or on dollies; that is not followed over uneven ground"


def over_ground(
    standing: Standing, room: Room, door: Door, level: Passage, ways: tuple[int, ...]
) -> tuple[Push, list[Check], list[str]]:
    """The push through a door over uneven ground: itself, its checks, and notes.

    ways : which ends may lead, 1 the nose, -1 the tail; the better one is told

    A mere threshold is judged as on a level floor where the push cannot be followed.
    """
    pushes = [push_through(standing, room, door, ahead) for ahead in ways]
    push = min(pushes, key=lambda p: _rank(push_checks(p, room)))
    checks, reason = push_checks(push, room), push.problem
    turned = level.rolling_gap < 0.0 <= level.best_gap
    if turned:
        reason = TURNED
    if not reason:
        return push, checks, list(push.remarks)
    flat = door_checks(level, room)
    past = level_checks(standing, room, door, level, ways)
    if door.ground is None and not door.planks:
        return push, flat + past, [f"{door.name}: taken level over its threshold, as {reason}"]
    words = "the push over the ground"
    unjudged = Check(f"{door.name}: way", door.name, words, None, None, missing=reason)
    return push, [flat[0], unjudged, *past], []


RAMP_ALONE = "how it comes to the ramp, and past what stands beside it, was not searched"


def over_ramp(
    standing: Standing, room: Room, door: Door, ways: tuple[int, ...]
) -> tuple[Push, list[Check]]:
    """The push from another floor of the room over its ramps and through a door, and its checks."""
    pushes = [push_through(standing, room, door, ahead) for ahead in ways]
    push = min(pushes, key=lambda p: _rank(push_checks(p, room)))
    words = "the push over the ramp" if push.problem else "the way to the ramp and beside it"
    missing = push.problem or RAMP_ALONE
    unjudged = Check(f"{door.name}: way", door.name, words, None, None, missing=missing)
    return push, [*push_checks(push, room), unjudged]


def _rank(checks: list[Check]) -> tuple[int, float]:
    """The less the better; what differs by rounding alone is equal: the nose then goes first."""
    if not checks:
        return len(Verdict), 0.0
    left = min(check.gap - (check.wanted or 0.0) for check in checks if check.gap is not None)
    return worst_verdict(check.verdict for check in checks).rank, -round(left, 9)


def push_checks(push: Push, room: Room) -> list[Check]:
    """The least clearances of one push; legs count only where they are struck."""
    out = []
    jambs = [t for t in map(push.least, JAMBS) if t is not None]
    found = [
        ("jamb", "door side", "beside the nearer jamb, on the way", min(jambs, key=_gap_of))
        for _ in jambs[:1]
    ]
    for kind, wish, words in ON_THE_WAY:
        tight = push.least(kind)
        if tight is not None and (kind != "legs" or tight.gap < 0.0):
            found.append((kind, wish, words, tight))
    for kind, words in OVER_GROUND.items():
        tight = push.least(kind)
        if tight is not None and (kind != WHEELS or tight.gap < 0.0):
            near = next(thing for thing in room.fixed if thing.name == tight.thing)
            found.append((kind, near.kind, words, tight))
    for key, wish, words, tight in found:
        wanted, whence = room.wanted(wish)
        out.append(
            Check(
                f"{push.door}: {key} on the way",
                push.door,
                words,
                tight.gap,
                wanted,
                f"{tight.part} and {tight.thing}, {push.way}",
                wanted_from=whence,
                tight=tight,
            )
        )
    return out


def _gap_of(tight: Tightest) -> float:
    return tight.gap
