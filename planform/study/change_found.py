"""What comes of looking for changes: each with its least size, and all of them in order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from planform.core.quantity import Metres
from planform.core.shown import Brief, Shown
from planform.design.told import said
from planform.fit.moves import Tight
from planform.fit.second_check import GoneOver
from planform.study.change_cases import EFFORT, FREES, Effect, Family, Tried


@dataclass(frozen=True, eq=False, repr=False)
class Change(Shown):
    """The least size of one change that frees the aircraft, or that none does.

    size : the least that frees it [SI]; None where the change has no size, or none frees it
    fails : the greatest size below it that is proved not to [SI]; None where none was tried
    upto : the greatest size that was looked at [SI]
    drawn_out : how far outlines were drawn out, where a size was proved not to free it, and how
        much lower a sloped ceiling was taken, at most [m]
    parked : the verdict on it parked at that size, with the tolerances; '' where it does not free
    tight : where the way out is tightest at that size
    found, below : the try that is told, and that of the size `fails`
    gone_over : what the second, separate check went over: the way, or the proofs
    """

    family: Family
    answer: str
    size: float | None = None
    fails: float | None = None
    drawn_out: tuple[float, float] = (0.0, 0.0)
    reason: str = ""
    tries: int = 0
    seconds: float = 0.0
    effects: tuple[Effect, ...] = ()
    cautions: tuple[str, ...] = ()
    parked: str = ""
    tight: tuple[Tight, ...] = ()
    found: Tried | None = None
    below: Tried | None = None
    gone_over: tuple[GoneOver, ...] = ()

    @property
    def kind(self) -> str:
        """A key of `EFFORT`."""
        return self.family.kind

    @property
    def what(self) -> str:
        """The change in words, without its size."""
        return self.family.what

    @property
    def upto(self) -> float:
        """The greatest size looked for [SI]."""
        return self.family.sizes[-1]

    @property
    def off(self) -> float:
        """Weight that comes off with it, by the mass items [kg]."""
        lost = [e.before - e.after for e in self.effects if e.kind == "mass" and e.before]
        return max(0.0, sum(lost))

    @property
    def order(self) -> tuple[int, str, float, str]:
        """Its place among the changes that free it: effort, then size, or weight off."""
        size = self.off if self.size is None else self.size
        return EFFORT[self.kind][0], self.family.unit, size, self.what

    @property
    def closed(self) -> bool:
        """Whether the size is closed in on as finely as it was meant to be."""
        if self.size is None or self.fails is None:
            return self.family.fine == 0.0
        return self.size - self.fails < 1.5 * self.family.fine

    def brief(self) -> Brief:
        """What is changed, how much, and what comes of it."""
        if self.size is None or self.found is None or not self.family.unit:
            return Brief(f"{self.what}: {self.answer}")
        told = said(self.size, self.family.unit, self.found.case.design.units)
        return Brief(f"{self.what}: {self.answer}", (("size", told),))


@dataclass(frozen=True, eq=False, repr=False)
class Changes(Shown):
    """What would make it fit.

    base : the aircraft as it stands ; free : it comes out already, and nothing was looked for
    keep : level clearance kept to everything, parked and on the way [m]; None: just not touching
    all : every change that was looked at ; stopped : the time ran out before the last
    gone_over : what the second, separate check went over
    """

    base: Tried
    keep: Metres | None
    all: tuple[Change, ...] = field(default=())
    gone_over: tuple[GoneOver, ...] = ()
    stopped: bool = False
    seconds: float = 0.0

    @property
    def free(self) -> bool:
        """Whether it comes out as it stands."""
        return self.base.answer == FREES

    @property
    def found(self) -> tuple[Change, ...]:
        """The changes that free it, least effort first."""
        return tuple(sorted((c for c in self.all if c.answer == FREES), key=lambda c: c.order))

    def with_answer(self, answer: str) -> tuple[Change, ...]:
        """The changes with one answer, in order."""
        return tuple(sorted((c for c in self.all if c.answer == answer), key=lambda c: c.order))

    def brief(self) -> Brief:
        """Every change that frees it, least effort first."""
        name = f"{self.base.case.design.name}, {self.base.case.stage.name}"
        if self.free:
            return Brief(f"{name}: it comes out as it stands")
        sizes = [change.brief().rows for change in self.found]
        rows = tuple(
            (change.what, rows[0][1] if rows else change.answer)
            for change, rows in zip(self.found, sizes, strict=True)
        )
        return Brief(f"{name}: {len(self.found)} of {len(self.all)} changes free it", rows)


def drawn_out(tried: Iterable[Tried]) -> tuple[float, float]:
    """How far outlines were drawn out, and a ceiling lowered, where no way was proved [m]."""
    most = [one.drawn_out for one in tried]
    return max((a for a, _ in most), default=0.0), max((b for _, b in most), default=0.0)
