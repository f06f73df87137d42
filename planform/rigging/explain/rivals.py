"""Explanations that are about as good, and those that need two things to come together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from planform.core.vectors import Array
from planform.rigging.explain.reduced import Reduced
from planform.rigging.explain.sets import Candidates, gains

MARGIN = 5.0
"""An explanation worse by less is a rival: its sum of squares, with its members' prices."""

AS_GOOD = 2.0
"""A larger explanation is told where it leaves no more than this above the simplest one."""

NEAREST = 150
"""Columns tried in pairs for one deviation: those that do most of what it does."""

TOLD = 4
"""Larger explanations told for each deviation found."""


def near(sets: Sequence[Candidates]) -> list[Candidates]:
    """The sets about as good as the first; none that only adds to another of them."""
    kept: list[Candidates] = []
    for one in sets:
        if one.score > sets[0].score + MARGIN:
            break
        if not any(set(other.members) <= set(one.members) for other in kept):
            kept.append(one)
    return kept[1:]


def in_all(best: Candidates, others: Iterable[Candidates]) -> set[int]:
    """The members of the best set that every other one has too."""
    common = set(best.members)
    for one in others:
        common &= set(one.members)
    return common


def pairs(
    best: Candidates, others: Sequence[Candidates], small: Reduced, price: Array
) -> list[Candidates]:
    """Sets in which two others stand for one deviation of the best set.

    They are two deviations that come together, or two wrong readings that agree.

    others : rivals; what only adds to one of them is not told
    """
    c = small.candidates
    stiff = small.gram + np.diag(small.prior)
    usable = np.isfinite(price)
    usable[list(best.members)] = False
    if usable.sum() < 2:
        return []
    told: list[Candidates] = []
    for gone in (k for k in best.members if k < c):
        rest = [k for k in best.members if k != gone]
        along = np.where(usable, stiff[gone] ** 2 / np.maximum(np.diag(stiff), 1e-300), -1.0)
        free = sorted(np.argsort(-along, kind="stable")[: min(NEAREST, int(usable.sum()))].tolist())
        without = _left(small, rest)
        first = gains(np.array([rest], dtype=int), stiff, small.towards)[0]
        free = [k for k in free if first[k] >= 0.0]  # the others do nothing beside the rest
        if len(free) < 2:
            continue
        second = gains(np.array([[*rest, k] for k in free]), stiff, small.towards)[:, free]
        left = without - first[free][:, None] - np.where(second >= 0.0, second, -np.inf)
        own: list[Candidates] = []
        for a, b in zip(*np.nonzero(np.triu(left <= best.left + AS_GOOD, 1)), strict=True):
            members = tuple(sorted((*rest, free[a], free[b])))
            if any(set(one.members) <= set(members) for one in others):
                continue
            own.append(Candidates(members, float(left[a, b]), float(price[list(members)].sum())))
        told += sorted(own, key=lambda one: (one.score, one.members))[:TOLD]
    return told


def _left(small: Reduced, members: Sequence[int]) -> float:
    """The sum of squares that a set leaves."""
    whole = float(small.seen @ small.seen)
    if not members:
        return whole
    at = np.array(members)
    stiff = (small.gram + np.diag(small.prior))[np.ix_(at, at)]
    return whole - float(small.towards[at] @ np.linalg.solve(stiff, small.towards[at]))
