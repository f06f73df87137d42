"""The least size of one change: looked for from what is known to be enough, and closed in on."""

from __future__ import annotations

import math
from dataclasses import replace
from time import monotonic

from planform.fit.check import ROOM
from planform.fit.second_check import GoneOver, go_over
from planform.study.change_cases import FAILS, FREES, UNDECIDED, UNTRIED, Family, Tried, lean
from planform.study.change_effects import dangers, effects
from planform.study.change_found import Change, drawn_out
from planform.study.change_trials import Trials
from planform.study.spreads_of_fit import with_spreads

UNDECIDED_MOST = 2
"""After so many sizes not decided, a size is not closed in on any further; assumption."""


def least(family: Family, base: Tried, bench: Trials) -> Change:
    """The least size of a change that frees the aircraft, gone over a second time."""
    began = monotonic()
    sizes = _Sizes(family, bench)
    found = sizes.least()
    tried = sizes.tried
    shown = tried.get(family.sizes[-1] if found is None else found)
    less = [s for s, t in tried.items() if t.answer == FAILS and (found is None or s < found)]
    change = Change(
        family=family,
        answer=sizes.answer if found is None else FREES,
        size=found if family.unit else None,
        drawn_out=drawn_out(tried.values()),
        reason=shown.reason if shown else "",
        tries=len(tried),
        found=shown,
        cautions=family.cautions,
    )
    if family.unit:
        none = 0.0 if base.answer == FAILS else None
        under = tried[max(less)] if less else None
        change = replace(change, fails=max(less, default=none), below=under)
    if found is not None:
        change = _with_effects(change, base, tried[found])
    again = _gone_over(change)
    if family.what in bench.known:
        bench.known[family.what] = lean(bench.known[family.what])
    told = None if change.found is None else lean(change.found)
    below = None if change.below is None else lean(change.below)
    seconds = monotonic() - began
    return replace(change, found=told, below=below, gone_over=again, seconds=seconds)


class _Sizes:
    """The sizes of one change as they are tried.

    tried : each with its answer ; answer : why none frees it, where none was found
    """

    def __init__(self, family: Family, bench: Trials) -> None:
        self.family, self.bench = family, bench
        self.tried: dict[float, Tried] = {}
        self.answer = FAILS

    def at(self, size: float, *, judged: bool = False) -> str:
        """The answer for a size; where it comes out, parked and at the doors only if `judged`."""
        family, bench = self.family, self.bench
        if size not in self.tried:
            if not family.unit:
                case = family.make(size)
                if bench.asked(case, family.what) == UNTRIED:
                    return UNTRIED
                self.tried[size] = bench.known[family.what]
            elif not bench.goes_on(family.what):
                return UNTRIED
            else:
                tried = bench.tried(family.make(size), size, family.what, judged=judged)
                if bench.stopped and tried.answer == UNDECIDED:
                    return UNTRIED
                self._keep(tried)
        elif judged and not self.tried[size].judged:
            self._keep(bench.judged(self.tried[size], family.what))
        return self.tried[size].answer

    def _keep(self, tried: Tried) -> None:
        """Keep a try; and the searches only of the least that frees it and the most that does not.

        Those may be told and gone over again; the boxes of a search take room.
        """
        self.tried[tried.size] = tried
        frees = [t.size for t in self.tried.values() if t.answer == FREES]
        fails = [t.size for t in self.tried.values() if t.answer == FAILS]
        kept = {min(frees, default=None), max(fails, default=None)}
        self.tried |= {s: lean(t) for s, t in self.tried.items() if s not in kept}

    def least(self) -> float | None:
        """The least size that frees it; None where none does, and then `answer` says why."""
        first = self._first()
        if first is None:
            answers = [t.answer for t in self.tried.values()]
            all_of = 1 if self.family.monotone else len(self.family.sizes)
            if self.bench.stopped and len(self.tried) < all_of:
                self.answer = UNDECIDED if self.tried else UNTRIED
            elif UNDECIDED in answers:
                self.answer = UNDECIDED
            return None
        return self._closed_in(*first)

    def _first(self) -> tuple[float, float] | None:
        """Sizes between which it is freed: the largest if more never hurts, else scanned."""
        sizes = self.family.sizes
        if self.family.monotone:
            return (0.0, sizes[-1]) if self.at(sizes[-1], judged=True) == FREES else None
        low = 0.0
        for size in sizes:
            answer = self.at(size, judged=True)
            if answer == FREES:
                return low, size
            if answer == UNTRIED:
                return None
            low = size
        return None

    def _closed_in(self, low: float, high: float) -> float:
        """The least size between one that does not free it and one that does.

        The search alone closes in; what it comes to is then judged parked and at the doors too,
        and where that does not free it, what is larger is closed in on.
        """
        while True:
            size = self._halved(low, high)
            if size == high or self.at(size, judged=True) == FREES:
                return size
            low = size

    def _halved(self, low: float, high: float) -> float:
        """Halve in whole steps of `fine`, as far as is decided."""
        fine, undecided = self.family.fine, 0
        if fine <= 0.0:
            return high
        a, b = round(low / fine), math.ceil(high / fine - 1e-6)
        least = high
        while b - a > 1 and undecided < UNDECIDED_MOST:
            middle = (a + b) // 2
            answer = self.at(middle * fine)
            if answer == UNTRIED:
                break
            undecided += answer == UNDECIDED
            if answer == FREES:
                b, least = middle, middle * fine
            else:
                a = middle
        return least


def _with_effects(change: Change, base: Tried, found: Tried) -> Change:
    """The change with what else it does, and its verdict parked with the tolerances."""
    answer = found.case.answer
    parked = replace(answer, checks=answer.in_group(ROOM))
    verdict = with_spreads(parked, found.case.room).verdict_of(ROOM)
    tight = found.way.tight if found.way is not None else ()
    side = effects(change.family, base.case, found.case)
    cautions = (*dangers(base.case, found.case), *change.cautions)
    return replace(change, effects=side, parked=verdict, tight=tight, cautions=cautions)


def _gone_over(change: Change) -> tuple[GoneOver, ...]:
    """The second check of the way told, and of the proofs that a change does not free it."""
    what = change.what
    proof = f"the proof that “{what}” does not free it"
    tries = [(change.found, proof if change.answer == FAILS else f"the way with “{what}”")]
    if change.below is not change.found:
        tries.append((change.below, f"the proof that less of “{what}” does not free it"))
    found = (go_over(tried.way, words) for tried, words in tries if tried is not None)
    return tuple(one for one in found if one is not None)
