"""An aircraft judged as it stands: parked on its spot, and straight through each door."""

from __future__ import annotations

import math

from planform.airframe.on_the_move import on_the_move
from planform.airframe.stance import Standing
from planform.design.doors import Door
from planform.design.place import Spot
from planform.fit.answer import FitAnswer
from planform.fit.check import ROOM, Check
from planform.fit.clearance import Clearance, clearances, outside_floor
from planform.fit.door import Passage, passages
from planform.fit.drains import drain_notes
from planform.fit.met import OVER_GROUND, WHEELS
from planform.fit.moves import Pose
from planform.fit.open_doors import standing_out
from planform.fit.opened import opened_checks
from planform.fit.own_floor import there
from planform.fit.push import Push, leading, push_through
from planform.fit.push_path import Tightest
from planform.fit.pushed_past import level_checks
from planform.fit.ramped import ground_in
from planform.fit.roll_out import RollOut
from planform.fit.room import Room, spot_point
from planform.fit.swings import leaf_notes, swing_checks
from planform.fit.turning_notes import turning_notes
from planform.fit.verdict import CARE, NOT, Verdict, worst_verdict

LOOK = 3.0
"""Clearances beyond this are not looked for [m]; assumption."""


JAMBS = ("left jamb", "right jamb")
ON_THE_WAY = (
    ("head", "door head", "under the door head, on the way"),
    ("ceiling", "ceiling", "to the ceiling, on the way"),
    ("ground", "ground", "over the ground, on the way"),
    ("legs", "ground", "legs over the ground, on the way"),
)
"""Kind of clearance, the wish of the place that it is held against, words."""

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
    standing, room = there(standing, room, spot_name)
    spot = spot_point(room.place, spot_name)
    near, checks = _parked(standing, room, spot, limit)
    leaving = None if way is None else way.through(room)
    rolled = on_the_move(standing)
    level = passages(rolled, room)
    at_doors, pushes, notes = _through_doors(rolled, room, level, spot, leaving)
    checks += at_doors
    if way is not None:
        checks.append(way.check(room))
    notes += standing.remarks
    if not room.place.doors:
        notes.append("no door is given: whether it can come out was not judged")
    notes += leaf_notes(room)
    notes += drain_notes(standing, room)
    notes += turning_notes(standing, room, spot if near else None)
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
        passages=level,
        notes=tuple(notes),
        pushes=tuple(pushes),
        way=way,
        way_door=None if leaving is None else leaving[0],
    )


def _parked(
    standing: Standing, room: Room, spot: Spot | None, limit: float
) -> tuple[tuple[Clearance, ...], list[Check]]:
    """What comes near an aircraft parked on a spot, and the checks on it."""
    missing = ""
    if spot is None:
        missing = "no spot is given"
    elif outside_floor(standing, room, spot):
        missing = f"on spot {spot.name!r} its middle stands off the floor"
    if spot is None or missing:
        return (), [Check(ROOM, ROOM, "standing in the room", None, None, missing=missing)]
    wanted = (room.wanted(kind)[0] for kind, _ in KINDS)
    near = clearances(standing, room, spot, max(limit, *(w or 0.0 for w in wanted)))
    if all(c.kind in ("threshold", *ONLY_WHERE_GIVEN) for c in near):
        far = clearances(standing, room, spot, math.inf)
        least = (next((c for c in far if c.kind == kind), None) for kind, _ in KINDS)
        near = tuple(sorted((c for c in least if c is not None), key=lambda c: c.gap))
    pose = Pose(float(spot.at[0]), float(spot.at[1]), float(spot.heading))
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


def _through_doors(
    standing: Standing,
    room: Room,
    level: tuple[Passage, ...],
    spot: Spot | None,
    leaving: tuple[str, float] | None,
) -> tuple[list[Check], list[Push], list[str]]:
    """The checks straight through each door, the pushes over uneven ground, and notes.

    leaving : the door that a way out goes through, and the nose against straight out there [rad]
    """
    checks: list[Check] = []
    pushes: list[Push] = []
    notes: list[str] = []
    for door, passed in zip(room.place.doors, level, strict=True):
        ways = leading(room.place, door, spot)
        through = leaving[1] if leaving is not None and leaving[0] == door.name else None
        if through is not None:
            ways = (1 if through < 0.5 * math.pi else -1,)
        ground = ground_in(room, door)
        if ground.ramped:
            push, found = over_ramp(standing, room, door, ways)
            pushes.append(push)
            checks += found
            continue
        if ground.level:
            checks += door_checks(passed, room)
            checks += level_checks(standing, room, door, passed, ways)
            continue
        notes += [] if through is None else _askew(door.name, through)
        push, found, told = over_ground(standing, room, door, passed, ways)
        pushes.append(push)
        checks += found
        notes += told
    return checks, pushes, notes


def stopped_doors(answer: FitAnswer, room: Room) -> set[str]:
    """The doors whose ground or threshold stops a push that a level floor would let through."""
    uneven = {door.name for door in room.place.doors if not ground_in(room, door).level}
    struck = (c.group for c in answer.checks if c.verdict == NOT and not c.beside)
    return uneven.intersection(struck)


ASKEW = math.radians(5.0)
"""A way that goes through a door this far from straight is told [rad]; assumption."""


def _askew(door: str, angle: float) -> list[str]:
    off = min(angle, math.pi - angle)
    if off < ASKEW:
        return []
    told = f"{door}: the way out goes through turned {math.degrees(off):.0f} deg"
    return [f"{told}; the ground there is judged for a straight push"]


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
