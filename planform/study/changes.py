"""What would make it fit: the least change of each kind that lets the aircraft stand and come out.

Every size is found on the real check: the aircraft and the room built again with the change made,
parked, and searched for a way out. Nothing is scaled from a gap.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from time import monotonic
from typing import TypedDict, Unpack

import numpy as np

from planform.core.quantity import Metres
from planform.core.shown import Brief, Shown
from planform.design.models import Design
from planform.design.place import Place
from planform.design.told import said
from planform.fit.ground_plan import Keep
from planform.fit.moves import Tight
from planform.fit.question import Watch, patient
from planform.fit.second_check import GoneOver, go_over, not_gone_over
from planform.study.change_aircraft import (
    blocks,
    earlier_stages,
    other_spots,
    other_stances,
    parts_off,
    shut,
    turned,
    winglets,
)
from planform.study.change_cases import (
    EFFORT,
    FAILS,
    FREES,
    UNDECIDED,
    UNTRIED,
    Asked,
    Effect,
    Family,
    Tried,
    first_case,
)
from planform.study.change_doors import opened
from planform.study.change_effects import dangers, effects
from planform.study.change_room import doors
from planform.study.change_things import obstacles
from planform.study.change_trials import Trials
from planform.study.change_turning import locked, propeller_turned
from planform.study.spreads_of_fit import with_spreads

TRY = 8.0
"""Seconds that one search may take unless told; assumption."""

UNDECIDED_MOST = 2
"""After so many sizes not decided in time, a size is not closed in on any further; assumption."""


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


class Search(TypedDict, total=False):
    """How a search for changes may be bounded and followed, by name.

    keep : level clearance kept to everything, parked and on the way [m]; None: just not touching
    kinds : the kinds of change to look at, keys of `EFFORT`
    each : seconds that one search may take ; first : those of the first, as it stands (`each`)
    watch : told what is tried; False ends the whole, and what was found is kept
    told : called with each change as it is done
    """

    keep: float | None
    kinds: Collection[str]
    each: float
    first: float | None
    watch: Watch
    told: Callable[[Change], None]


def least_changes(
    design: Design,
    place: Place,
    stage: str | None = None,
    stance: str | None = None,
    spot: str | None = None,
    **search: Unpack[Search],
) -> Changes:
    """The least change of every kind that lets the aircraft stand on its spot and come out.

    stage : the complete aircraft where None ; stance : the stage's own ; spot : the place's first
    Raises InputError where the question cannot be asked: no spot, no door, off the floor.
    """
    began = monotonic()
    keep, told = search.get("keep"), search.get("told")
    kept = Keep.nothing() if not keep else Keep.same(keep)
    base_case = first_case(design, place, stage, stance, spot)
    bench = Trials(kept, search.get("watch", patient), search.get("each", TRY))
    base = bench.tried(base_case, 0.0, "as it stands", strict=True, limit=search.get("first"))
    out = Changes(base, keep)
    if base.answer == FREES:
        return replace(out, gone_over=_gone_over(base, []), seconds=monotonic() - began)
    done: list[Change] = []
    for one in families(base, bench.asked, search.get("kinds", tuple(EFFORT))):
        change = _least(one, base, bench)
        done.append(change)
        if told is not None:
            told(change)
    again = _gone_over(base, done)
    return replace(
        out, all=tuple(done), gone_over=again, stopped=bench.stopped, seconds=monotonic() - began
    )


AGAIN = 10.0
"""Seconds that the second check of proofs may take; ways are gone over always. Assumption."""


def _gone_over(base: Tried, done: Sequence[Change]) -> tuple[GoneOver, ...]:
    """The second check of every way told, and of the proofs that a change does not free it."""
    until = monotonic() + AGAIN
    tries: list[tuple[Tried | None, str, str]] = [
        (base, "the way out as it stands", "the proof that it does not come out as it stands")
    ]
    for one in done:
        proof = f"the proof that “{one.what}” does not free it"
        tries.append((one.found, f"the way with “{one.what}”", proof))
        if one.below is not one.found:
            tries.append((one.below, "", f"the proof that less of “{one.what}” does not free it"))
    out: dict[int, GoneOver | None] = {}
    for tried, freed, fails in sorted(tries, key=lambda t: t[0] is None or t[0].answer != FREES):
        if tried is None or id(tried) in out:
            continue
        if tried.answer == FREES:
            out[id(tried)] = go_over(tried.way, freed)
        elif tried.way is not None and tried.way.proof:
            late = monotonic() > until
            again = not_gone_over(fails, "the time was over") if late else go_over(tried.way, fails)
            out[id(tried)] = again
    return tuple(one for one in out.values() if one is not None)


def families(base: Tried, asked: Asked, kinds: Collection[str]) -> Iterator[Family]:
    """Every change of these kinds that this aircraft and room allow, what is soon tried first.

    By effort, but that it is turned or shifted only after things are moved: that asks many sizes.
    """
    case = base.case
    made = (
        (("shut",), shut(case)),
        (("propeller",), propeller_turned(case)),
        (("locked",), locked(case, asked)),
        (("opened",), opened(case)),
        (("stance",), other_stances(case)),
        (("obstacle",), obstacles(case, asked)),
        (("blocks",), blocks(case)),
        (("turn",), turned(case, base)),
        (("spot",), other_spots(case, base)),
        (("parts", "joined"), parts_off(case, asked)),
        (("stage", "joined"), earlier_stages(case)),
        (("wider", "taller"), doors(case)),
        (("length", "cant"), winglets(case)),
    )
    for some, found in made:
        if any(kind in kinds for kind in some):
            yield from (one for one in found if one.kind in kinds)


def _least(family: Family, base: Tried, bench: Trials) -> Change:
    """The least size of a change that frees the aircraft."""
    began = monotonic()
    tried: dict[float, Tried] = {}

    def at(size: float) -> str:
        if size not in tried:
            if not family.unit and family.what in bench.known:
                tried[size] = bench.known[family.what]
                return tried[size].answer
            case = family.make(size)
            if bench.goes_on(family.what):
                tried[size] = bench.tried(case, size, family.what)
                if not family.unit and not bench.stopped:
                    bench.known[family.what] = tried[size]
            else:
                return UNTRIED
            if bench.stopped and tried[size].answer == UNDECIDED:
                del tried[size]
                return UNTRIED
        return tried[size].answer

    def told(answer: str, size: float | None = None) -> Change:
        shown = tried.get(size if size is not None else family.sizes[-1])
        below = [s for s, t in tried.items() if t.answer == FAILS and (size is None or s < size)]
        none = 0.0 if base.answer == FAILS else None
        return Change(
            family=family,
            answer=answer,
            size=size if family.unit else None,
            fails=max(below, default=none) if family.unit else None,
            drawn_out=drawn_out(tried.values()),
            reason=shown.reason if shown else "",
            tries=len(tried),
            seconds=monotonic() - began,
            found=shown,
            below=tried.get(max(below, default=np.nan)) if family.unit else None,
            cautions=family.cautions,
        )

    first = _first(family, at)
    if first is None:
        answers = [t.answer for t in tried.values()]
        if bench.stopped and len(tried) < (1 if family.monotone else len(family.sizes)):
            return told(UNTRIED if not tried else UNDECIDED)
        return told(UNDECIDED if UNDECIDED in answers else FAILS)
    low, high = first
    _close_in(family, at, low, high)
    size = min(s for s, t in tried.items() if t.answer == FREES and s <= high)
    return _with_effects(told(FREES, size), base, tried[size])


def drawn_out(tried: Iterable[Tried]) -> tuple[float, float]:
    """How far outlines were drawn out, and a ceiling lowered, where no way was proved [m]."""
    plans = [t.way.question.plan for t in tried if t.answer == FAILS and t.way is not None]
    most = [(plan.drawn_out, plan.stepped) for plan in plans]
    return max((a for a, _ in most), default=0.0), max((b for _, b in most), default=0.0)


def _first(family: Family, at: Callable[[float], str]) -> tuple[float, float] | None:
    """Sizes between which it is freed: the largest where that is proved enough, else scanned."""
    if family.monotone:
        return (0.0, family.sizes[-1]) if at(family.sizes[-1]) == FREES else None
    low = 0.0
    for size in family.sizes:
        answer = at(size)
        if answer == FREES:
            return low, size
        if answer == UNTRIED:
            return None
        low = size
    return None


def _close_in(family: Family, at: Callable[[float], str], low: float, high: float) -> None:
    """Halve between a size that does not free it and one that does, in whole steps of `fine`."""
    if family.fine <= 0.0:
        return
    fine, undecided = family.fine, 0
    a, b = round(low / fine), round(high / fine)
    while b - a > 1 and undecided < UNDECIDED_MOST:
        middle = (a + b) // 2
        answer = at(middle * fine)
        if answer == UNTRIED:
            return
        undecided += answer == UNDECIDED
        a, b = (a, middle) if answer == FREES else (middle, b)


def _with_effects(change: Change, base: Tried, found: Tried) -> Change:
    """The change with what else it does, and its verdict with the tolerances."""
    parked = with_spreads(found.case.answer, found.case.room).verdict_of("room")
    tight = found.way.tight if found.way is not None else ()
    side = effects(change.family, base.case, found.case)
    cautions = (*dangers(base.case, found.case), *change.cautions)
    return replace(change, effects=side, parked=parked, tight=tight, cautions=cautions)
