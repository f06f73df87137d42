"""Which reading is wrong, and which mistakes a set of readings could show at all.

Baarda's data snooping: each residual is judged by its own standard deviation, the greatest against
a threshold that holds for the greatest of so many (Baarda, "A testing procedure for use in geodetic
networks", Publications on Geodesy 2(5), 1968; many at once: Sidak, 1967).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from planform.core.adjust.least_squares import CHECKED, Adjusted, adjust
from planform.core.vectors import Array

ALARM = 0.05
"""How often a set of good readings may give an alarm; common practice, no source."""
SHOWN = 0.80
"""How often the smallest mistake that is told as visible is found (Baarda)."""
TEN = 10.0 * 3.0**0.5
"""Ten tolerances in standard deviations, where a reading lies anywhere within its tolerance."""
SURELY = NormalDist().inv_cdf(0.995)
"""Deviations to spare with which a mistake is found, and told from each other reading's."""


def one_of(count: int, alarm: float = ALARM) -> float:
    """The value that the greatest of `count` good residuals, in deviations, seldom passes."""
    each = 1.0 - (1.0 - alarm) ** (1.0 / max(count, 1))
    return NormalDist().inv_cdf(1.0 - each / 2.0)


def squares_seldom_above(count: int, alarm: float = ALARM) -> float:
    """What the sum of the squares of so many good residuals, in deviations, seldom passes.

    The upper quantile of chi-square (Wilson and Hilferty, 1931; formula from
    memory); within 1 % of the tables from 3 on.
    """
    if count < 1:
        return 0.0
    part = 2.0 / (9.0 * count)
    z = NormalDist().inv_cdf(1.0 - alarm)
    return float(count * (1.0 - part + z * part**0.5) ** 3)


def smallest_shown(threshold: float, redundancy: Array, shown: float = SHOWN) -> Array:
    """The smallest mistake, in the reading's deviations, that is found with this likelihood.

    Infinite where nothing checks the reading. (Baarda 1968: threshold plus the quantile, over the
    root of the redundancy.)
    """
    delta = threshold + NormalDist().inv_cdf(shown)
    safe = np.maximum(redundancy, 1e-300)
    return np.where(redundancy > 0.0, delta / np.sqrt(safe), np.inf)


@dataclass(frozen=True, eq=False)
class Separable:
    """What a set of readings could show of a mistake in each.

    told : (m,) whether a large mistake there would be named as that reading's
    alike : the readings that a mistake in each could be taken for, where something may be found
    """

    told: NDArray[np.bool_]
    alike: tuple[tuple[int, ...], ...]


def seen_by(adjusted: Adjusted, size: float = TEN, alarm: float = ALARM) -> Separable:
    """Which readings' mistakes of this size, in deviations, would be named as theirs.

    A mistake must pass the threshold, and its residual must stand out from every other one that
    goes along with it (separability: Forstner, 1983; from memory).
    """
    own = size * np.sqrt(adjusted.redundancy)
    near = np.abs(adjusted.together)
    np.fill_diagonal(near, 0.0)
    apart = own[:, None] * np.sqrt(0.5 * np.maximum(1.0 - near, 0.0))
    taken = apart < SURELY
    np.fill_diagonal(taken, False)
    limit = one_of(len(own), alarm)
    found = own >= limit + SURELY
    maybe = (own >= limit - SURELY) & (adjusted.redundancy > CHECKED)
    alike = tuple(tuple(int(k) for k in np.flatnonzero(row)) for row in taken & maybe[:, None])
    return Separable(found & ~taken.any(axis=1), alike)


@dataclass(frozen=True, eq=False)
class Snooped:
    """A set of readings without those that were found wrong.

    wrong : their numbers, in the order in which they were found
    by : (len(wrong),) how far each is off what the others say, in the reading's unit
    adjusted : what the others give, over all readings (wrong ones weigh nothing)
    """

    wrong: tuple[int, ...]
    by: Array
    adjusted: Adjusted
    threshold: float


MOST_WRONG = 0.2
"""Share of the readings that may be taken as wrong; more is no set to be trusted. Assumption."""


def snoop(columns: Array, seen: Array, sd: Array, alarm: float = ALARM) -> Snooped:
    """Wrong readings one at a time, the worst first; one that fits again afterwards comes back."""
    limit = one_of(len(seen), alarm)
    wrong: list[int] = []
    dropped: set[int] = set()
    while len(wrong) < MOST_WRONG * len(seen):
        at = _without(columns, seen, sd, wrong)
        off = np.abs(at.w)
        off[wrong] = 0.0
        worst = int(np.argmax(off))
        if off[worst] <= limit:
            break
        wrong.append(worst)
        back = _fits_again(columns, seen, sd, wrong, limit)
        wrong = [k for k in wrong if k not in back - dropped]
        dropped |= back
    at = _without(columns, seen, sd, wrong)
    return Snooped(tuple(wrong), at.residual[wrong], at, limit)


def _fits_again(columns: Array, seen: Array, sd: Array, wrong: list[int], limit: float) -> set[int]:
    """Those taken as wrong, but the last, that fit with it gone."""
    back = set()
    for k in wrong[:-1]:
        others = [j for j in wrong if j != k]
        if abs(_without(columns, seen, sd, others).w[k]) <= limit:
            back.add(k)
    return back


def _without(columns: Array, seen: Array, sd: Array, wrong: list[int]) -> Adjusted:
    """The adjustment in which wrong readings weigh nothing; its residuals over all readings."""
    right = np.ones(len(seen), dtype=bool)
    right[wrong] = False
    small = adjust(columns[right], seen[right], sd[right])
    m = len(seen)
    fitted = columns @ small.x

    def spread(values: Array) -> Array:
        out = np.zeros(m)
        out[right] = values
        return out

    together = np.zeros((m, m))
    together[np.ix_(right, right)] = small.together
    return replace(
        small,
        fitted=fitted,
        residual=seen - fitted,
        redundancy=spread(small.redundancy),
        w=spread(small.w),
        together=together,
    )
