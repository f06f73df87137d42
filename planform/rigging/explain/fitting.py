"""A net solved with one set of members: sizes, unknowns, residuals, covariance."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planform.core.adjust.least_squares import adjust
from planform.core.adjust.snooping import squares_seldom_above
from planform.core.vectors import Array
from planform.rigging.explain.net import Net
from planform.rigging.explain.reduced import Reduced
from planform.rigging.explain.sets import sizes_of
from planform.rigging.explain.told import Interval, Remaining

SURE = 1.96
"""Standard deviations to each side that hold 95 of 100 cases of a sum of many small errors."""

UNNOTICED = 0.01
"""No part is quite as drawn: each may be off by about this share of its largest plausible size
(0.02 deg of 2 deg, 0.02 in of 2 in) and is not counted as a deviation; an assumption."""

DETERMINED = 0.5
"""A candidate is determined where its standard deviation is below this share of the largest
plausible size."""


@dataclass(frozen=True, eq=False)
class Fitted:
    """The net with one set of members.

    by : (u + c,) the unknown and all candidates, zero where not a member [SI]
    covariance : (u + c, u + c) of these [SI]
    shift : (m,) by how much wrong readings are taken to be wrong [SI]
    residual : (m,) read less expected, of the readings taken as right; 0 for the others [SI]
    """

    by: Array
    covariance: Array
    shift: Array
    residual: Array


def fitted(net: Net, small: Reduced, members: Sequence[int]) -> Fitted:
    """The net solved with these members, candidates and wrong readings."""
    u, c, m = len(net.unknown), len(net.candidates), len(net.readings)
    at = np.array(members, dtype=int)
    size, _ = sizes_of(small, tuple(members))
    by, shift = np.zeros(u + c), np.zeros(m)
    deviations = at < c
    by[u + at[deviations]] = size[deviations]
    shift[at[~deviations] - c] = size[~deviations] * net.sd[at[~deviations] - c]
    left = net.seen - net.columns[:, u:] @ by[u:] - shift
    if u:
        own = small.whiten @ net.columns[:, :u]
        by[:u] = np.linalg.lstsq(own, small.whiten @ left, rcond=1e-10)[0]
    residual = left - net.columns[:, :u] @ by[:u]
    return Fitted(by, _covariance(net, small, at), shift, residual)


def _covariance(net: Net, small: Reduced, members: Array) -> Array:
    """Covariance of unknowns and member candidates, wrong readings free."""
    u, c, m = len(net.unknown), len(net.candidates), len(net.readings)
    inside = np.concatenate([np.arange(u), u + members[members < c]])
    wrong = np.eye(m)[:, members[members >= c] - c]
    columns = small.whiten @ np.hstack([net.columns[:, inside], wrong])
    own = adjust(columns, small.whiten @ net.seen, np.ones(m)).covariance
    covariance = np.zeros((u + c, u + c))
    covariance[np.ix_(inside, inside)] = own[: len(inside), : len(inside)]
    return covariance


def full_model(small: Reduced, wrong: Sequence[int], room: Array) -> tuple[list[int], Array, Array]:
    """Every tried candidate free at once, within a room of its own.

    wrong : numbers of the readings that are left out
    room : (c,) standard deviation of what each may be, beside what the readings say; above zero
    Returns the numbers of the candidates (k,), their sizes (k,) and covariance (k, k).
    """
    c = small.candidates
    inside = np.flatnonzero(small.tried)
    out = np.array([c + one for one in wrong], dtype=int)
    gram, towards = small.gram, small.towards
    own, aim = gram[np.ix_(inside, inside)], towards[inside]
    if len(out):
        across = np.linalg.solve(gram[np.ix_(out, out)], gram[np.ix_(out, inside)])
        own = own - gram[np.ix_(inside, out)] @ across
        aim = aim - across.T @ towards[out]
    scale = room[inside]
    core = np.linalg.inv(own * np.outer(scale, scale) + np.eye(len(inside)))
    covariance = core * np.outer(scale, scale)
    return inside.tolist(), covariance @ aim, covariance


def intervals_of(
    net: Net, small: Reduced, wrong: Sequence[int], wider: float
) -> tuple[tuple[Interval, ...], Array]:
    """The 95 % interval of every candidate tried, all free at once, and their correlation.

    wider : factor on all widths, where more is left than the tolerances give
    """
    large = np.array([one.large for one in net.candidates])
    inside, by, covariance = full_model(small, wrong, large)
    sd = np.sqrt(np.diag(covariance))
    told = tuple(
        Interval(
            net.candidates[k].name,
            net.candidates[k].is_angle,
            float(size),
            float(SURE * wider * own),
            bool(own < DETERMINED * large[k]),
        )
        for k, size, own in zip(inside, by, sd, strict=True)
    )
    return told, covariance / np.outer(sd, sd)


def stated(
    net: Net, small: Reduced, members: Sequence[int], wider: float
) -> dict[int, tuple[float, float]]:
    """What is stated of each deviation found: its size and half width at 95 %."""
    c = small.candidates
    room = np.array([one.large for one in net.candidates])
    found = [k for k in members if k < c]
    room[[k for k in range(c) if k not in found]] *= UNNOTICED
    inside, by, covariance = full_model(small, [k - c for k in members if k >= c], room)
    place = {k: n for n, k in enumerate(inside)}
    return {
        k: (float(by[place[k]]), SURE * wider * math.sqrt(covariance[place[k], place[k]]))
        for k in found
    }


def remaining(net: Net, small: Reduced, one: Fitted, members: Sequence[int]) -> Remaining:
    """What the set leaves of the readings that it takes as right."""
    right = one.shift == 0.0
    scaled = small.whiten @ one.residual
    chi2 = float(scaled @ scaled)
    freedom = max(len(net.readings) - small.rank - len(members), 0)
    own = one.residual[right] / net.sd[right]
    rms = math.sqrt(float(own @ own) / max(int(right.sum()), 1) / 3.0)
    return Remaining(rms, chi2, freedom, upper(freedom))


def upper(freedom: int) -> float:
    """The sum of squares of so many standard normals that 1 of 100 is above."""
    return squares_seldom_above(freedom, 0.01) if freedom else 1e-6
