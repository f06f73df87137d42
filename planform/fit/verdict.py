"""The verdict in words, check by check, for one stage in one stance in one place."""

from __future__ import annotations

from dataclasses import dataclass, field

from planform.airframe.stance import Standing
from planform.core.spread import NO_SPREAD, Spread
from planform.design.place import Door, Spot
from planform.fit.clearance import Clearance, clearances, outside_floor
from planform.fit.door import Passage, passages
from planform.fit.ground import ground_of
from planform.fit.rolling import Push, Tightest, leading, push_through
from planform.fit.room import Room, spot_point

FITS = "fits"
CARE = "fits only with care"
NOT = "does not fit"
UNJUDGED = "not judged"
ORDER = (FITS, CARE, UNJUDGED, NOT)
"""From best to worst; a whole is as good as its worst check."""

LOOK = 3.0
"""Clearances beyond this are not looked for [m]; assumption."""


@dataclass(frozen=True, eq=False)
class Check:
    """One question with its gap [m], what was wanted, and the verdict.

    group : 'room' (parked) or the name of a door; each group is judged on its own
    tight : for a push over uneven ground, where on the way the gap is
    """

    key: str
    group: str
    what: str
    gap: float | None
    wanted: float | None
    detail: str = ""
    spread: Spread = NO_SPREAD
    clearance: Clearance | None = None
    missing: str = ""
    tight: Tightest | None = None

    @property
    def verdict(self) -> str:
        """In words; a gap inside its own tolerance, or under what is wanted, needs care."""
        if self.gap is None:
            return UNJUDGED
        if self.gap < 0.0:
            return NOT
        if self.gap < self.spread.worst or self.gap < (self.wanted or 0.0):
            return CARE
        return FITS

    @property
    def why(self) -> str:
        """One clause on what decides the verdict."""
        if self.gap is None:
            return self.missing
        if self.gap < 0.0:
            close = -self.gap <= self.spread.worst
            return "inside the tolerance: measure it again" if close else "too large"
        if self.gap < self.spread.worst:
            return "less than the inputs' tolerance"
        if self.gap < (self.wanted or 0.0):
            return "less than the clearance wanted"
        return "" if self.wanted is not None else "no wanted clearance given"


@dataclass(frozen=True, eq=False)
class FitAnswer:
    """The answer for one stage and stance in one place."""

    stage: str
    stance: str
    place: str
    spot: str | None
    standing: Standing
    checks: tuple[Check, ...]
    near: tuple[Clearance, ...]
    passages: tuple[Passage, ...]
    notes: tuple[str, ...] = field(default=())
    pushes: tuple[Push, ...] = field(default=())

    def in_group(self, group: str) -> tuple[Check, ...]:
        """The checks of the room or of one door."""
        return tuple(check for check in self.checks if check.group == group)

    @property
    def groups(self) -> tuple[str, ...]:
        """'room', then the doors."""
        return tuple(dict.fromkeys(check.group for check in self.checks))

    def verdict_of(self, group: str) -> str:
        """The verdict on the room or on one door: that of its worst check."""
        return max((c.verdict for c in self.in_group(group)), key=ORDER.index, default=UNJUDGED)

    @property
    def door_verdict(self) -> str:
        """The best any door gives, straight through."""
        doors = [group for group in self.groups if group != "room"]
        return min((self.verdict_of(d) for d in doors), key=ORDER.index, default=UNJUDGED)

    @property
    def verdict(self) -> str:
        """As good as the worse of standing in the room and going out through a door."""
        return max(self.verdict_of("room"), self.door_verdict, key=ORDER.index)

    @property
    def least(self) -> Clearance | None:
        """The least clearance in the room (a threshold under the aircraft is not one)."""
        return next((c for c in self.near if c.kind != "threshold" or c.gap < 0.0), None)


KINDS = (
    ("wall", "to the walls"),
    ("obstacle", "to things that hang or stand"),
    ("ceiling", "to the ceiling"),
    ("door head", "to the door head, parked"),
    ("threshold", "to the threshold, parked"),
)


def judge(
    standing: Standing, room: Room, spot_name: str | None = None, limit: float = LOOK
) -> FitAnswer:
    """Judge an aircraft as it stands: parked on a spot, and straight through each door."""
    spot = spot_point(room.place, spot_name)
    near: tuple[Clearance, ...] = ()
    checks: list[Check] = []
    notes: list[str] = []
    if spot is None:
        checks.append(
            Check("room", "room", "standing in the room", None, None, missing="no spot is given")
        )
    elif outside_floor(standing, room, spot):
        checks.append(
            Check(
                "room",
                "room",
                "standing in the room",
                None,
                None,
                missing=f"on spot {spot.name!r} its middle stands off the floor",
            )
        )
    else:
        near = clearances(standing, room, spot, limit)
        checks += parked_checks(near, room)
    pushes: list[Push] = []
    level = passages(standing, room)
    for door, passed in zip(room.place.doors, level, strict=True):
        if ground_of(door, room.place.floor.thickness).level:
            checks += door_checks(passed, room)
            continue
        push, found, told = over_ground(standing, room, door, passed, spot)
        pushes.append(push)
        checks += found
        notes += told
    if not room.place.doors:
        notes.append("no door is given: whether it can come out was not judged")
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
    )


def parked_checks(near: tuple[Clearance, ...], room: Room) -> list[Check]:
    """The least clearance to each kind of thing, parked; a threshold counts only when struck."""
    out = []
    for kind, words in KINDS:
        found = next((c for c in near if c.kind == kind), None)
        if kind == "threshold" and found is not None and found.gap >= 0.0:
            continue
        if kind == "ceiling" and room.place.ceiling is None:
            out.append(Check(kind, "room", words, None, None, missing="the place gives no ceiling"))
        elif found is not None:
            out.append(
                Check(
                    kind,
                    "room",
                    words,
                    found.gap,
                    room.wanted(kind),
                    f"{found.part} and {found.thing}, {found.direction}",
                    clearance=found,
                )
            )
    return out


def door_checks(door: Passage, room: Room) -> list[Check]:
    """Straight through one door: width (rolling, or else at the best heading), head, threshold."""
    sides = room.wanted("door side")
    both = None if sides is None else 2.0 * sides
    rolling = door.rolling_gap >= 0.0 or door.best_gap < 0.0
    if rolling:
        gap, words = door.rolling_gap, f"width, moved straight ahead ({door.widest} is widest)"
    else:
        turned = abs(round(door.best_heading * 57.29577951308232))
        gap = door.best_gap
        words = f"width, carried or on castering dollies with the nose turned {turned} deg"
    out = [
        Check(
            f"{door.door}: width", door.door, "width left, both sides together", gap, both, words
        ),
        Check(
            f"{door.door}: head",
            door.door,
            "under the door head",
            door.head_gap,
            room.wanted("door head"),
            f"{door.highest} is highest",
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


JAMBS = ("left jamb", "right jamb")
ON_THE_WAY = (
    ("head", "door head", "under the door head, on the way"),
    ("ceiling", "ceiling", "to the ceiling, on the way"),
    ("ground", "ground", "over the ground, on the way"),
    ("legs", "ground", "legs over the ground, on the way"),
)
"""Kind of clearance, the wish of the place that it is held against, words."""

TURNED = "with the nose turned it is carried or on dollies; that is not followed over uneven ground"


def over_ground(
    standing: Standing, room: Room, door: Door, level: Passage, spot: Spot | None
) -> tuple[Push, list[Check], list[str]]:
    """The push through a door over uneven ground: itself, its checks, and notes.

    It goes the way the aircraft is parked, nose or tail to the door; parked across, the better
    of both. A mere threshold is judged as on a level floor where the push cannot be followed.
    """
    ways = leading(room.place, door, spot)
    pushes = [push_through(standing, room, door, ahead) for ahead in ways]
    push = min(pushes, key=lambda p: _rank(push_checks(p, room)))
    checks, reason = push_checks(push, room), push.problem
    turned = level.rolling_gap < 0.0 <= level.best_gap
    if turned:
        reason = TURNED
    if not reason:
        return push, checks, list(push.remarks)
    flat = door_checks(level, room)
    if door.ground is None and not door.planks:
        return push, flat, [f"{door.name}: taken level over its threshold, as {reason}"]
    words = "the push over the ground"
    unjudged = Check(f"{door.name}: way", door.name, words, None, None, missing=reason)
    return push, [flat[0], unjudged], []


def _rank(checks: list[Check]) -> tuple[int, float]:
    if not checks:
        return len(ORDER), 0.0
    worst = max(ORDER.index(check.verdict) for check in checks)
    return worst, -min(
        check.gap - (check.wanted or 0.0) for check in checks if check.gap is not None
    )


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
    for key, wish, words, tight in found:
        out.append(
            Check(
                f"{push.door}: {key} on the way",
                push.door,
                words,
                tight.gap,
                room.wanted(wish),
                f"{tight.part} and {tight.thing}, {push.way}",
                tight=tight,
            )
        )
    return out


def _gap_of(tight: Tightest) -> float:
    return tight.gap
