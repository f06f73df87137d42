"""One question of a fit with its gap, what the tolerances do to it, and the verdict on it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from planform.airframe.stance import Standing
from planform.core.quantity import Metres
from planform.core.spread import NO_SPREAD, Spread
from planform.design.place import Spot
from planform.fit.clearance import Clearance
from planform.fit.open_doors import StandsOut
from planform.fit.push_path import Tightest
from planform.fit.room import Room
from planform.fit.verdict import CARE, FITS, NOT, UNJUDGED, Verdict, worst_verdict

ROOM = "room"
"""The group of the checks on standing in the room."""

WAY_OUT = "way out"
"""The group of the check on the whole way from the spot to outside."""

BESIDE = (
    ": width",
    ": jamb on the way",
    ": leaf",
    ": outside",
    ": wheels",
    ": leaf beside on the way",
    ": outside beside on the way",
    ": wheels on the way",
)
"""How the keys of checks end that are about what is beside a straight push, which a way out that
turns goes round; all but what is over and under it."""


Measured = Callable[[Standing, Room, Spot | None], float]
"""A gap measured of an aircraft in a room on a spot [m]."""


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
    outside : the parts that stand out of an open door, the farthest out first
    again : measures its gap of another aircraft, room and spot, the way being as told
    """

    key: str
    group: str
    what: str
    gap: Metres | None
    wanted: Metres | None
    detail: str = ""
    clearance: Clearance | None = None
    missing: str = ""
    wanted_from: str = ""
    rolling: bool = False
    strands: tuple[Strand, ...] = ()
    built: Metres | None = None
    built_detail: str = ""
    curves: float = 0.0
    outside: tuple[StandsOut, ...] = ()
    again: Measured | None = None

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
    def worst(self) -> Metres:
        """What the tolerances can take from the gap, or give to one below zero [m]."""
        if self.gap is None or not self.strands:
            return 0.0
        end = self.foretold if self.built is None else self.built
        return max(0.0, self.sign * (end - self.gap))

    @property
    def within_99(self) -> Metres:
        """The same in 99 of 100 cases [m], each strand alone; see `planform.core.spread`."""
        if self.gap is None or not self.strands:
            return 0.0
        end = min(s.gap + self.sign * s.spread.within_99 for s in self.strands)
        return min(max(0.0, self.sign * (end - self.gap)), self.worst)

    tight: Tightest | None = None
    decided: Verdict | None = None

    @property
    def verdict(self) -> Verdict:
        """In words; a gap inside its own tolerance, or under what is wanted, needs care."""
        if self.decided is not None:
            return self.decided
        return UNJUDGED if self.gap is None else self.word(self.gap, self.worst)

    def word(self, gap: float, worst: float = 0.0) -> Verdict:
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
        return self.what if self.group == ROOM else f"{self.group}: {self.what}"

    @property
    def why(self) -> str:
        """One clause on what decides the verdict."""
        if self.gap is None or self.decided is not None:
            return self.missing
        if self.gap < 0.0:
            close = -self.gap <= self.worst
            return "inside the tolerance: measure it again" if close else "too large"
        if self.gap < self.worst:
            return "less than the inputs' tolerance"
        if self.gap < (self.wanted or 0.0):
            return "less than the clearance wanted"
        return "" if self.wanted is not None else "no wanted clearance given"


def deciding_of(checks: Iterable[Check]) -> Check | None:
    """The check that makes the verdict of several: of the worst ones the one least spare."""
    known = tuple(checks)
    verdict = worst_verdict(check.verdict for check in known)
    found = [check for check in known if check.verdict == verdict]
    return min(found, key=lambda check: (check.gap is None, check.spare), default=None)


def ranked(checks: Iterable[Check]) -> tuple[int, float]:
    """How good the checks of one way of several are, the least the best: nothing met is best."""
    known = tuple(checks)
    worst = max((check.verdict.rank for check in known), default=0)
    spare = (c.gap - (c.wanted or 0.0) for c in known if c.gap is not None)
    return worst, -min(spare, default=math.inf)
