"""Sets of deviations and wrong readings, tried from the smallest up.

Forward steps keep the best sets of each size side by side, so that a pair which explains only
together is found beside what looked best at first. A set is better by the sum of squares it takes
off, less a price for each of its members: the square of the threshold that one member must pass
when it is the greatest of all that were tried (Sidak 1967, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planform.core.adjust.snooping import one_of
from planform.core.vectors import Array
from planform.rigging.explain.reduced import DULL, Reduced

BEAM = 120
"""Sets kept of each size."""

MOST = 14
"""Members of the largest set tried."""

PATIENCE = 2
"""Sizes beyond the best that are still tried."""


@dataclass(frozen=True)
class Candidates:
    """A set of columns and how good it is.

    members : increasing; candidates, then candidates + number of a wrong reading
    left : the sum of squares that it leaves, with what it strains the largest plausible sizes
    price : the sum of its members' prices
    """

    members: tuple[int, ...]
    left: float
    price: float

    @property
    def score(self) -> float:
        """What is least for the best set."""
        return self.left + self.price


def prices(net: Reduced) -> Array:
    """(c + m,) the price of each column; without end for those that are not tried."""
    c = net.candidates
    freedom = len(net.seen) - net.rank
    deviation = one_of(int(net.tried.sum())) ** 2
    reading = one_of(max(freedom, 1)) ** 2
    own = np.where(net.tried, deviation, np.inf)
    redundancy = np.diag(net.gram)[c:]
    return np.concatenate([own, np.where(redundancy > 1e-9, reading, np.inf)])


def best_sets(net: Reduced, price: Array) -> list[Candidates]:
    """The sets that were tried and are good, best first."""
    stiff = net.gram + np.diag(net.prior)
    level = [Candidates((), float(net.seen @ net.seen), 0.0)]
    kept = list(level)
    best, since = level[0].score, 0
    freedom = len(net.seen) - net.rank
    for _ in range(min(MOST, max(freedom - 1, 0))):
        level = _grown(level, stiff, net.towards, price)
        if not level:
            break
        kept += level
        since = 0 if level[0].score < best else since + 1
        best = min(best, level[0].score)
        if since > PATIENCE:
            break
    return sorted(kept, key=lambda one: (one.score, one.members))


def _grown(level: list[Candidates], stiff: Array, towards: Array, price: Array) -> list[Candidates]:
    """The best sets with one member more."""
    members = np.array([one.members for one in level], dtype=int).reshape(len(level), -1)
    gain = gains(members, stiff, towards)
    score = np.array([one.score for one in level])[:, None] - gain + price[None, :]
    score[gain < 0.0] = np.inf
    rows, new = np.unravel_index(np.argsort(score, axis=None)[: 4 * BEAM], score.shape)
    made: dict[tuple[int, ...], Candidates] = {}
    for row, k in zip(rows.tolist(), new.tolist(), strict=True):
        if not np.isfinite(score[row, k]) or len(made) >= BEAM:
            break
        one = level[row]
        own = tuple(sorted((*one.members, k)))
        if own not in made:
            made[own] = Candidates(own, one.left - float(gain[row, k]), one.price + float(price[k]))
    return list(made.values())


def gains(members: Array, stiff: Array, towards: Array) -> Array:
    """(b, n) the sum of squares each column takes off beside each of b sets; below 0: none can."""
    b, k = members.shape
    own = np.diag(stiff)
    if k == 0:
        rest, what = own[None, :].repeat(b, 0), towards[None, :].repeat(b, 0)
    else:
        inner = stiff[members[:, :, None], members[:, None, :]]
        across = stiff[members]
        seen = towards[members][:, :, None]
        solved = np.linalg.solve(inner, np.concatenate([across, seen], axis=2))
        rest = own[None, :] - np.einsum("bkn,bkn->bn", across, solved[:, :, :-1])
        what = towards[None, :] - np.einsum("bkn,bk->bn", across, solved[:, :, -1])
    fit = rest > 1e-7 * own[None, :] + DULL
    gain = np.where(fit, what**2 / np.where(fit, rest, 1.0), -1.0)
    if k:
        gain[np.arange(b)[:, None], members] = -1.0
    return np.asarray(gain)


def sizes_of(net: Reduced, members: tuple[int, ...]) -> tuple[Array, Array]:
    """How far each member is off, and covariance [rad, m; wrong readings in their sd]."""
    stiff = net.gram + np.diag(net.prior)
    at = np.array(members, dtype=int)
    if not len(at):
        return np.zeros(0), np.zeros((0, 0))
    inverse = np.linalg.inv(stiff[np.ix_(at, at)])
    return inverse @ net.towards[at], inverse
