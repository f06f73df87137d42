"""Readings to their simplest explanation, with all that is to be said beside it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from planform.core.vectors import Array
from planform.rigging.explain import alike, following, rivals
from planform.rigging.explain.fitting import (
    SURE,
    UNNOTICED,
    Fitted,
    fitted,
    intervals_of,
    remaining,
    stated,
)
from planform.rigging.explain.looks import looks_like, sides_changed
from planform.rigging.explain.net import Net
from planform.rigging.explain.reduced import Reduced, reduced
from planform.rigging.explain.sets import Candidates, best_sets, prices, sizes_of
from planform.rigging.explain.told import (
    Deviation,
    Explanation,
    NextReading,
    Remaining,
    Rival,
    Suspect,
    Undetermined,
)

RIVALS = 12
"""Rivals told; how many more there are is told too."""

LARGER = 6
"""Larger explanations told."""


@dataclass(frozen=True, eq=False)
class _Worked:
    """A net, solved."""

    net: Net
    small: Reduced
    plain: Reduced
    price: Array
    best: Candidates
    rivals: list[Candidates]
    larger: list[Candidates]
    one: Fitted
    left: Remaining

    @property
    def wrong(self) -> list[int]:
        """Numbers of the readings that the explanation takes as wrong."""
        return [k - self.small.candidates for k in self.best.members if k >= self.small.candidates]

    @property
    def wider(self) -> float:
        """Factor on widths where more is left than the tolerances give."""
        left = self.left
        return 1.0 if left.explained else math.sqrt(left.chi2 / max(left.freedom, 1))


def explain(net: Net) -> Explanation:
    """The simplest explanation of the readings: the fewest deviations and wrong readings.

    Right or wrong, it is never told alone: explanations about as good, what is not determined, and
    readings that could be wrong unseen stand beside it. Too few readings is an answer too.
    """
    small, plain = reduced(net, UNNOTICED), reduced(net)
    too_few = _too_few(net, small)
    if too_few:
        return _nothing(net, small, too_few)
    price = prices(small)
    sets = best_sets(small, price)
    best = sets[0]
    near = rivals.near(sets)
    larger = rivals.pairs(best, near, small, price)[:LARGER]
    one = fitted(net, small, best.members)
    left = remaining(net, small, one, best.members)
    return _told(_Worked(net, small, plain, price, best, near, larger, one, left))


def simplest(net: Net) -> Array:
    """The unknown and the candidates (u + c,) of the simplest explanation, and nothing more."""
    small = reduced(net, UNNOTICED)
    members = () if _too_few(net, small) else best_sets(small, prices(small))[0].members
    return fitted(net, small, members).by


def _told(work: _Worked) -> Explanation:
    """All that is to be said of a solved net."""
    net, small = work.net, work.small
    suspects = _suspects(work)
    intervals, correlation = intervals_of(net, work.plain, work.wrong, work.wider)
    if not work.best.members and not any(one.determined for one in intervals):
        m = len(net.readings)
        why = f"{m} reading{'s' * (m != 1)} leave every possible deviation open"
        return _nothing(net, small, why)
    open_ones = alike.undetermined(net, work.plain, work.wrong)
    told, following_readings = _rivals(work)
    alike_ones = [one for one in open_ones if one.alike]
    more = following.determining(net, work.plain, work.wrong, alike_ones)
    return Explanation(
        found=_found(work),
        intervals=intervals,
        correlation=correlation,
        rivals=tuple(told),
        more_rivals=max(len(work.rivals) - RIVALS, 0),
        suspects=suspects,
        unseen=alike.unseen(net, small, work.best.members, work.price),
        undetermined=open_ones,
        next_readings=following.shortened([*following_readings, *more]),
        remaining=work.left,
        residuals=work.one.residual + work.one.shift,
        unknown=work.one.by[: len(net.unknown)],
        tried=int(small.tried.sum()),
        too_few="",
    )


def _found(work: _Worked) -> tuple[Deviation, ...]:
    """The deviations of the best set, the clearest first."""
    common = rivals.in_all(work.best, work.rivals)
    size = stated(work.net, work.plain, work.best.members, work.wider)
    variance = np.diag(sizes_of(work.plain, work.best.members)[1])
    alone = dict(zip(work.best.members, variance.tolist(), strict=True))
    told = []
    for k, (by, half) in size.items():
        one = work.net.candidates[k]
        own = SURE * work.wider * math.sqrt(alone[k])
        told.append(Deviation(one.name, one.is_angle, by, half, own, k in common))
    return tuple(sorted(told, key=lambda one: -abs(one.by) / one.alone))


def _rivals(work: _Worked) -> tuple[list[Rival], list[NextReading]]:
    """Other explanations, and the readings that part them from the best one."""
    offer = following.offered(work.net)
    told, after = [], []
    for rank, other in enumerate([*work.rivals[:RIVALS], *work.larger]):
        one = fitted(work.net, work.small, other.members)
        parts = (_words(work, work.best, other), _words(work, other, work.best))
        steps = following.parting(offer, work.one, one, parts)
        after += steps
        c, u = work.small.candidates, len(work.net.unknown)
        names = [k for k in other.members if k < c]
        told.append(
            Rival(
                tuple(work.net.candidates[k].name for k in names),
                tuple(float(one.by[u + k]) for k in names),
                tuple(k - c for k in other.members if k >= c),
                max(other.score - work.best.score, 0.0),
                rank >= len(work.rivals[:RIVALS]),
                steps[0].words if steps else "",
            )
        )
    return told, after


def _words(work: _Worked, one: Candidates, other: Candidates) -> str:
    """What one explanation says that another does not."""
    c = work.small.candidates
    own = sorted(set(one.members) - set(other.members))
    words = [
        work.net.candidates[k].name if k < c else f"a mistake in {work.net.readings[k - c].words}"
        for k in own
    ]
    return " with ".join(words) or "nothing more"


def _suspects(work: _Worked) -> tuple[Suspect, ...]:
    """The readings that the explanation takes as wrong, the worst first."""
    net, c = work.net, work.small.candidates
    common = rivals.in_all(work.best, work.rivals)
    _, covariance = sizes_of(work.small, work.best.members)
    expected = np.array([one.read for one in net.readings]) - work.one.residual - work.one.shift
    told = []
    for n, k in enumerate(work.best.members):
        if k < c:
            continue
        i = k - c
        one, sd = net.readings[i], math.sqrt(covariance[n, n]) * float(net.sd[i])
        within = 2.5 * sd
        looks = looks_like(one, float(expected[i]), within)
        if one.twin is not None and one.twin + c in work.best.members:
            both = (float(expected[i]), float(expected[one.twin]))
            if sides_changed(one, net.readings[one.twin], both, within):
                looks = f"left and right changed places with {net.readings[one.twin].words}"
        shift = float(work.one.shift[i])
        told.append(
            Suspect(
                i,
                one.words,
                one.is_angle,
                one.read,
                float(expected[i]),
                shift,
                sd,
                looks,
                k in common,
            )
        )
    return tuple(sorted(told, key=lambda one: -abs(one.residual) / one.sd))


def _too_few(net: Net, small: Reduced) -> str:
    """Why no explanation is looked for, in a sentence."""
    m, placed = len(net.readings), small.rank
    if not m:
        return "there is no reading"
    if m <= placed:
        what = "placement, slopes and zeros"
        return (
            f"{m} reading{'s' * (m != 1)} for {placed} unknowns of {what}: they say where the "
            "aircraft stands, and nothing of how it differs from its drawing"
        )
    if not small.tried.any():
        return f"none of the {m} readings sees any deviation that was tried"
    return ""


def _nothing(net: Net, small: Reduced, why: str) -> Explanation:
    """The answer that there are too few readings."""
    u, m = len(net.unknown), len(net.readings)
    one = fitted(net, small, ())
    by = one.by[:u] if m else np.zeros(u)
    none = tuple(Undetermined(c.name, ()) for c in net.candidates)
    left = remaining(net, small, one, ())
    return Explanation(
        (), (), np.zeros((0, 0)), (), 0, (), (), none, (), left, one.residual, by, 0, why
    )  # fmt: skip
