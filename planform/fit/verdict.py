"""The verdict in words, check by check, for one stage in one stance in one place."""

from __future__ import annotations

from dataclasses import dataclass, field

from planform.airframe.stance import Standing
from planform.core.spread import NO_SPREAD, Spread
from planform.fit.clearance import Clearance, clearances, outside_floor
from planform.fit.door import Passage, passages
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
    for door in passages(standing, room):
        checks += door_checks(door, room)
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
        passages=passages(standing, room),
        notes=tuple(notes),
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
