"""The answer for one stage in one stance in one place: its checks, and what they come to."""

from __future__ import annotations

from dataclasses import dataclass, field

from planform.airframe.stance import Standing
from planform.core.shown import Brief, Shown
from planform.design.told import said
from planform.fit.check import ROOM, WAY_OUT, Check, deciding_of
from planform.fit.clearance import Clearance
from planform.fit.door import Passage
from planform.fit.push import Push
from planform.fit.roll_out import RollOut
from planform.fit.verdict import NOT, UNJUDGED, Verdict, worst_verdict

LEAST_PARKED = "least gap, parked, thresholds apart"
"""What `FitAnswer.least` is called."""


@dataclass(frozen=True, eq=False, repr=False)
class FitAnswer(Shown):
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

    def verdict_of(self, group: str) -> Verdict:
        """The verdict on the room or on one door: that of its worst check."""
        return worst_verdict(c.verdict for c in self.in_group(group))

    @property
    def room_verdict(self) -> Verdict:
        """The verdict on standing in the room."""
        return self.verdict_of(ROOM)

    @property
    def best_door(self) -> str | None:
        """The door that gives the best verdict; None where there is no door."""
        doors = [group for group in self.groups if group not in (ROOM, WAY_OUT)]

        def worth(door: str) -> tuple[int, float]:
            check = self.deciding_in(door)
            return self.verdict_of(door).rank, -check.spare if check else 0.0

        return min(doors, key=worth, default=None)

    @property
    def door_verdict(self) -> Verdict:
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
    def ground_checks(self) -> tuple[Check, ...]:
        """The checks over and under the push over uneven ground, of the door that the way takes."""
        uneven = any(push.door == self.way_door for push in self.pushes)
        mine = self.in_group(self.way_door or "") if uneven else ()
        return tuple(check for check in mine if not check.beside)

    @property
    def out_verdict(self) -> Verdict:
        """Whether it comes out."""
        return worst_verdict(c.verdict for c in self.out_checks)

    def deciding_in(self, group: str) -> Check | None:
        """The check that makes the verdict of a group: of its worst checks the one least spare."""
        return deciding_of(self.in_group(group))

    @property
    def deciding_out(self) -> Check | None:
        """The check that makes the verdict on coming out."""
        return deciding_of(self.out_checks)

    @property
    def deciding(self) -> Check | None:
        """The check that makes the verdict as a whole."""
        found = [c for c in (self.deciding_in(ROOM), self.deciding_out) if c is not None]
        return deciding_of(tuple(c for c in found if c.verdict == self.verdict))

    @property
    def verdict(self) -> Verdict:
        """As good as the worse of standing in the room and coming out of it."""
        return max(self.verdict_of(ROOM), self.out_verdict)

    @property
    def least(self) -> Clearance | None:
        """The least clearance in the room (a threshold under the aircraft is not one)."""
        return next(
            (c for c in self.near if c.kind not in ("threshold", "pit") or c.gap < 0.0), None
        )

    def brief(self) -> Brief:
        """The verdict, what decides it, and every check with its gap."""
        units = self.standing.airframe.design.units

        def gap(check: Check) -> str:
            return "" if check.gap is None else f", {said(check.gap, 'gap', units)}"

        rows = [(c.title, f"{c.verdict}{gap(c)}") for c in self.checks]
        if self.deciding is not None:
            rows.insert(0, ("decided by", f"{self.deciding.title}{gap(self.deciding)}"))
        rows[1:1] = [
            ("in the room", str(self.verdict_of(ROOM))),
            ("coming out", str(self.out_verdict)),
        ]
        name = self.standing.airframe.design.name
        head = f"{name}, {self.stage}, {self.stance}, in {self.place}: {self.verdict}"
        return Brief(head, tuple(rows))
