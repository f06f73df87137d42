"""What to read next: the reading that parts two explanations, and how good it must be."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from planform.core.vectors import Array
from planform.rigging.explain.fitting import DETERMINED, Fitted
from planform.rigging.explain.net import Net, Observed
from planform.rigging.explain.reduced import Reduced
from planform.rigging.explain.told import NextReading, Undetermined

CLEAR = 3.0
"""Standard deviations apart at which a reading decides between two explanations."""

EACH = 2
"""Readings told for each pair of explanations."""

MOST_TOLD = 8
"""Readings told in all."""


@dataclass(frozen=True, eq=False)
class Offer:
    """All readings that could be taken, those of the net again among them."""

    readings: tuple[Observed, ...]
    columns: Array
    sd: Array


def offered(net: Net) -> Offer:
    """The readings of the net once more, then those of its pool."""
    seen: set[str] = set()
    readings, rows, sd = [], [], []
    for again, own, columns, spread in _sources(net):
        for one, row, each in zip(own, columns, spread, strict=True):
            if one.words in seen:
                continue
            seen.add(one.words)
            words = f"again: {one.words}" if again else one.words
            readings.append(Observed(words, one.is_angle, one.read, one.drawn))
            rows.append(row)
            sd.append(each)
    width = net.columns.shape[1]
    return Offer(tuple(readings), np.array(rows).reshape(-1, width), np.array(sd))


def _sources(net: Net) -> Iterator[tuple[bool, tuple[Observed, ...], Array, Array]]:
    yield True, net.readings, net.columns, net.sd
    if net.pool is not None:
        yield False, net.pool.readings, net.pool.columns, net.pool.sd


def parting(offer: Offer, one: Fitted, other: Fitted, parts: tuple[str, str]) -> list[NextReading]:
    """The readings that best tell two explanations apart, best first."""
    if not len(offer.sd):
        return []
    differs = offer.columns @ (one.by - other.by)
    doubt = np.maximum(_variance(offer, one.covariance), _variance(offer, other.covariance))
    power = differs**2 / (offer.sd**2 + doubt)
    told = []
    for k in np.argsort(-power, kind="stable")[:EACH].tolist():
        if power[k] < 1.0:
            break
        needed = differs[k] ** 2 / CLEAR**2 - doubt[k]
        told.append(_next(offer, k, parts, abs(float(differs[k])), float(needed)))
    return told


def determining(
    net: Net, small: Reduced, wrong: Sequence[int], which: Sequence[Undetermined]
) -> list[NextReading]:
    """For each candidate that is not determined, one reading that would determine it, if any."""
    if net.pool is None or not which or not len(net.pool.sd):
        return []
    u, offer = len(net.unknown), offered(net)
    large = np.array([one.large for one in net.candidates])
    room = np.concatenate([np.full(u, 1e3), large])
    covariance = _with_unknown(net, small, wrong, room)
    whole = _variance(offer, covariance)
    told = []
    for one in which:
        k = u + next(n for n, c in enumerate(net.candidates) if c.name == one.name)
        reach = offer.columns @ covariance[:, k]
        gain = reach**2 / (whole + offer.sd**2)
        best = int(np.argmax(gain))
        goal = covariance[k, k] - (DETERMINED * room[k]) ** 2
        if goal <= 0.0 or gain[best] < 0.05 * covariance[k, k]:
            continue
        needed = reach[best] ** 2 / goal - whole[best]
        if needed < offer.sd[best] ** 2:
            continue
        differs = abs(float(reach[best])) / math.sqrt(covariance[k, k])
        against = " with ".join(one.alike) or "as drawn"
        told.append(_next(offer, best, (one.name, against), differs, float(needed)))
    return told


def _with_unknown(net: Net, small: Reduced, wrong: Sequence[int], room: Array) -> Array:
    """Covariance of the unknown and all candidates, each within its room."""
    weighed = net.columns / net.sd[:, None]
    weighed[list(wrong)] = 0.0
    scaled = weighed * room
    inverse = np.linalg.inv(scaled.T @ scaled + np.eye(len(room)))
    return np.asarray(inverse * np.outer(room, room))


def _variance(offer: Offer, covariance: Array) -> Array:
    """Variance of what each reading is let expect."""
    return np.asarray(np.einsum("ij,jk,ik->i", offer.columns, covariance, offer.columns))


def _next(
    offer: Offer, k: int, parts: tuple[str, str], differs: float, variance: float
) -> NextReading:
    """A reading to take, with the tolerance whose variance is enough."""
    tolerance = math.sqrt(3.0 * variance) if variance > 0.0 else 0.0
    one = offer.readings[k]
    return NextReading(one.words, one.is_angle, parts, differs, tolerance)


def shortened(told: Sequence[NextReading]) -> tuple[NextReading, ...]:
    """The readings in their order, each named once, that are neither beyond any tool nor idle."""
    kept: dict[str, NextReading] = {}
    for one in told:
        if 0.0 < one.tolerance <= one.differs:
            kept.setdefault(one.words, one)
    return tuple(kept.values())[:MOST_TOLD]
