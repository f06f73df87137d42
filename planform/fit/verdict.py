"""The verdict in words, check by check, for one stage in one stance in one place."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from planform.airframe.stance import Standing
from planform.core.spread import NO_SPREAD, Spread
from planform.design.place import Door
from planform.fit.clearance import Clearance, clearances, outside_floor
from planform.fit.door import Passage, passages
from planform.fit.ground import ground_of
from planform.fit.rolling import Push, Tightest, leading, push_through
from planform.fit.room import Room, spot_point

if TYPE_CHECKING:
    from planform.fit.rolled import RollOut

FITS = "fits"
CARE = "fits only with care"
NOT = "does not fit"
UNJUDGED = "not judged"
ORDER = (FITS, CARE, UNJUDGED, NOT)
"""From best to worst; a whole is as good as its worst check."""

WAY_OUT = "way out"
"""The group of the check on the whole way from the spot to outside."""

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

BESIDE = (": width", ": jamb on the way")
"""How the keys of checks end that are about what is beside a straight push."""


@dataclass(frozen=True)
class Strand:
    """One of the gaps that a check is the least of, and what the tolerances do to it [m].

    spread : what they take from it; of a check below zero what they give it
    sides : by input, at which end of its tolerance it does so: 1 above, -1 below
    """

    name: str
    gap: float
    spread: Spread
    sides: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, eq=False)
class Check:
    """One question with its gap [m], what was wanted, and the verdict.

    group : 'room' (parked), the name of a door, or 'way out'; each group is judged on its own
    decided : the verdict where a search made it, not the gap alone; then `missing` says why
    wanted_from : where the wanted clearance is taken from, in words
    rolling : of a door's width: moved straight ahead on its wheels
    strands : the gaps that may govern it within the tolerances
    built : the gap with all inputs at the ends of their tolerances together, built and judged
        again: the ends that take most, or for an overlap those that give most
    built_detail : between what it then is, where that is not the same as now
    tight : for a push over uneven ground, where on the way the gap is
    curves : how much of it is taken off for true curves that stand outside their facets [m]
    """

    key: str
    group: str
    what: str
    gap: float | None
    wanted: float | None
    detail: str = ""
    clearance: Clearance | None = None
    missing: str = ""
    wanted_from: str = ""
    rolling: bool = False
    strands: tuple[Strand, ...] = ()
    built: float | None = None
    built_detail: str = ""
    curves: float = 0.0

    @property
    def sign(self) -> float:
        """-1 where the tolerances' taking matters; 1 where their giving does, below zero."""
        return 1.0 if self.gap is not None and self.gap < 0.0 else -1.0

    @property
    def governing(self) -> Strand | None:
        """The strand that is least where the tolerances have done their worst (or best)."""
        return min(self.strands, key=self.worst_of, default=None)

    def worst_of(self, strand: Strand) -> float:
        """A strand's gap at its worst corner (or best) to first order [m]."""
        return strand.gap + self.sign * strand.spread.worst

    @property
    def foretold(self) -> float:
        """The gap at the worst corner (or best) to first order [m]."""
        return min(map(self.worst_of, self.strands), default=self.gap or 0.0)

    @property
    def spread(self) -> Spread:
        """What each input does to the strand that governs at the worst."""
        found = self.governing
        return NO_SPREAD if found is None else found.spread

    @property
    def worst(self) -> float:
        """What the tolerances can take from the gap, or give to one below zero [m]."""
        if self.gap is None or not self.strands:
            return 0.0
        end = self.foretold if self.built is None else self.built
        return max(0.0, self.sign * (end - self.gap))

    @property
    def within_99(self) -> float:
        """The same in 99 of 100 cases [m], each strand alone; see `planform.core.spread`."""
        if self.gap is None or not self.strands:
            return 0.0
        end = min(s.gap + self.sign * s.spread.within_99 for s in self.strands)
        return min(max(0.0, self.sign * (end - self.gap)), self.worst)

    tight: Tightest | None = None
    decided: str = ""

    @property
    def verdict(self) -> str:
        """In words; a gap inside its own tolerance, or under what is wanted, needs care."""
        if self.decided:
            return self.decided
        return UNJUDGED if self.gap is None else self.word(self.gap, self.worst)

    def word(self, gap: float, worst: float = 0.0) -> str:
        """The verdict on such a gap, of which the tolerances could take `worst` [m]."""
        if gap < 0.0:
            return NOT
        return CARE if gap < max(worst, self.wanted or 0.0) else FITS

    def open_within(self, worst: float) -> bool:
        """Whether the verdict is not the same all over the band of this half width [m]."""
        if self.gap is None:
            return False
        return self.word(self.gap - worst) != self.word(self.gap + worst)

    @property
    def open(self) -> bool:
        """Whether the verdict could turn inside the inputs' tolerances."""
        return self.open_within(self.worst)

    @property
    def beside(self) -> bool:
        """Whether it is about what is beside a straight push through a door, not over or under."""
        return self.key.endswith(BESIDE)

    @property
    def spare(self) -> float:
        """What is left over the bar that decides the verdict [m]; the least decides a group."""
        if self.gap is None:
            return 0.0
        return self.gap if self.gap < 0.0 else self.gap - max(self.worst, self.wanted or 0.0)

    @property
    def title(self) -> str:
        """What is asked, and at which door."""
        return self.what if self.group == "room" else f"{self.group}: {self.what}"

    @property
    def why(self) -> str:
        """One clause on what decides the verdict."""
        if self.gap is None or self.decided:
            return self.missing
        if self.gap < 0.0:
            close = -self.gap <= self.worst
            return "inside the tolerance: measure it again" if close else "too large"
        if self.gap < self.worst:
            return "less than the inputs' tolerance"
        if self.gap < (self.wanted or 0.0):
            return "less than the clearance wanted"
        return "" if self.wanted is not None else "no wanted clearance given"


@dataclass(frozen=True, eq=False)
class FitAnswer:
    """The answer for one stage and stance in one place.

    way : the way out from the spot, where it was searched
    """

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
    way: RollOut | None = None
    way_door: str | None = None

    def in_group(self, group: str) -> tuple[Check, ...]:
        """The checks of the room, of one door, or of the way out."""
        return tuple(check for check in self.checks if check.group == group)

    @property
    def groups(self) -> tuple[str, ...]:
        """'room', then the doors, then 'way out' where it was searched."""
        return tuple(dict.fromkeys(check.group for check in self.checks))

    def verdict_of(self, group: str) -> str:
        """The verdict on the room or on one door: that of its worst check."""
        return max((c.verdict for c in self.in_group(group)), key=ORDER.index, default=UNJUDGED)

    @property
    def best_door(self) -> str | None:
        """The door that gives the best verdict; None where there is no door."""
        doors = [group for group in self.groups if group not in ("room", WAY_OUT)]

        def worth(door: str) -> tuple[int, float]:
            check = self.deciding_in(door)
            return ORDER.index(self.verdict_of(door)), -check.spare if check else 0.0

        return min(doors, key=worth, default=None)

    @property
    def door_verdict(self) -> str:
        """The best any door gives, straight through."""
        return UNJUDGED if self.best_door is None else self.verdict_of(self.best_door)

    @property
    def out_checks(self) -> tuple[Check, ...]:
        """The checks that make the verdict on coming out.

        Where the way out was searched: that, and what is over and under a straight push through
        the door it takes. Where none is high enough, or nothing was searched: the best door.
        """
        found = self.in_group(WAY_OUT)
        best = () if self.best_door is None else self.in_group(self.best_door)
        if not found or (found[0].verdict == NOT and found[0].gap is None and best):
            return found + best if found else best
        return (*found, *(c for c in self.in_group(self.way_door or "") if not c.beside))

    @property
    def out_verdict(self) -> str:
        """Whether it comes out."""
        return max((c.verdict for c in self.out_checks), key=ORDER.index, default=UNJUDGED)

    def deciding_in(self, group: str) -> Check | None:
        """The check that makes the verdict of a group: of its worst checks the one least spare."""
        return _deciding(self.in_group(group))

    @property
    def deciding_out(self) -> Check | None:
        """The check that makes the verdict on coming out."""
        return _deciding(self.out_checks)

    @property
    def deciding(self) -> Check | None:
        """The check that makes the verdict as a whole."""
        found = [c for c in (self.deciding_in("room"), self.deciding_out) if c is not None]
        return _deciding(tuple(c for c in found if c.verdict == self.verdict))

    @property
    def verdict(self) -> str:
        """As good as the worse of standing in the room and coming out of it."""
        return max(self.verdict_of("room"), self.out_verdict, key=ORDER.index)

    @property
    def least(self) -> Clearance | None:
        """The least clearance in the room (a threshold under the aircraft is not one)."""
        return next((c for c in self.near if c.kind != "threshold" or c.gap < 0.0), None)


def _deciding(checks: tuple[Check, ...]) -> Check | None:
    worst = max((c.verdict for c in checks), key=ORDER.index, default=UNJUDGED)
    found = [check for check in checks if check.verdict == worst]
    return min(found, key=lambda check: (check.gap is None, check.spare), default=None)


KINDS = (
    ("wall", "to the walls"),
    ("obstacle", "to things that hang or stand"),
    ("ceiling", "to the ceiling"),
    ("door head", "to the door head, parked"),
    ("threshold", "to the threshold, parked"),
)


def judge(
    standing: Standing,
    room: Room,
    spot_name: str | None = None,
    limit: float = LOOK,
    way: RollOut | None = None,
) -> FitAnswer:
    """Judge an aircraft as it stands: parked on a spot, straight through each door, and out.

    way : the way out from that spot, where it was searched
    """
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
    leaving = None if way is None else way.through(room)
    level = passages(standing, room)
    for door, passed in zip(room.place.doors, level, strict=True):
        if ground_of(door, room.place.floor.thickness).level:
            checks += door_checks(passed, room)
            continue
        ways = leading(room.place, door, spot)
        if leaving is not None and leaving[0] == door.name:
            ways = (1 if leaving[1] < 0.5 * math.pi else -1,)
            notes += _askew(door.name, leaving[1])
        push, found, told = over_ground(standing, room, door, passed, ways)
        pushes.append(push)
        checks += found
        notes += told
    if way is not None:
        checks.append(way.check(room))
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
        way=way,
        way_door=None if leaving is None else leaving[0],
    )


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
        if kind == "threshold" and found is not None and found.gap >= 0.0:
            continue
        if kind == "ceiling" and room.place.ceiling is None:
            out.append(Check(kind, "room", words, None, None, missing="the place gives no ceiling"))
        elif found is not None:
            wanted, whence = room.wanted(kind)
            out.append(
                Check(
                    kind,
                    "room",
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
