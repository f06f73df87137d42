"""Points that were read, and the ways in which they may stand off the drawing."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from planform.core.vectors import Array
from planform.rigging.explain.curved import Curved, Pointwise, explain_curved
from planform.rigging.explain.net import Candidate, Observed, sd_of
from planform.rigging.explain.told import Explanation

LARGE_ANGLE = math.radians(2.0)
"""As far as an angle is plausibly off its drawing; an assumption [rad]."""

LARGE_LENGTH = 0.0508
"""As far as a length is plausibly off: 2 in; an assumption [m]."""

STEP = 1e-5
"""Half the step of a difference [rad] or [m]."""

STILL = 1e-6
"""A point that a freedom moves by less, for each metre or radian, stays where it is."""


class Way(Protocol):
    """A way in which parts may differ from their drawing: a freedom of the aircraft."""

    @property
    def name(self) -> str:
        """Its words."""

    @property
    def is_angle(self) -> bool:
        """Whether it is told as an angle."""

    @property
    def parts(self) -> frozenset[str]:
        """Names of the built parts that go along."""

    def displaced(self, points: Array, by: float) -> Array:
        """Points (n, 3) of these parts, drawn, where they are with it."""


class Spotted(Protocol):
    """A named point: the part it moves with, and where it is drawn."""

    @property
    def name(self) -> str:
        """Its words."""

    @property
    def part(self) -> str:
        """The built part that it goes along with."""

    @property
    def at(self) -> Array:
        """Where it is drawn, (3,) aircraft axes [m]."""


Equation = Callable[[Array, Array], Array]
"""Points (p, 3) in aircraft axes and unknowns (u,) to what would be read (m,)."""


@dataclass(frozen=True, eq=False)
class ReadOff:
    """Readings as functions of points and of what is always unknown.

    seen : what they would be ; read, tolerance : (m,)
    unknown, start : names and a first guess (u,) of placement, slopes, zeros
    """

    readings: tuple[Observed, ...]
    seen: Equation
    read: Array
    tolerance: Array
    unknown: tuple[str, ...] = ()
    start: Array | None = None


def tried(
    ways: Sequence[Way], points: Sequence[Spotted], fixed: Sequence[Spotted]
) -> tuple[int, ...]:
    """Numbers of the ways that move a point that was read, and none of those taken as drawn."""
    return tuple(
        k
        for k, one in enumerate(ways)
        if bool(moves_of(one, points).any()) and not bool(moves_of(one, fixed).any())
    )


def moves_of(one: Way, points: Sequence[Spotted]) -> Array:
    """How a way moves the points from where they are drawn (p, 3), for a metre or radian."""
    moves = np.zeros((len(points), 3))
    rides = np.array([p.part in one.parts for p in points], dtype=bool)
    if rides.any():
        there = np.array([p.at for p in points])[rides]
        change = one.displaced(there, STEP) - one.displaced(there, -STEP)
        moves[rides] = np.where(np.abs(change) > 2.0 * STEP * STILL, change / (2.0 * STEP), 0.0)
    return moves


def explained(
    points: Sequence[Spotted],
    ways: Sequence[Way],
    where: Callable[[Array], Array],
    taken: ReadOff,
    pool: ReadOff | None = None,
) -> Explanation:
    """The simplest explanation of what was read at these points.

    ways : those to be tried, see `tried`
    where : how far each way is off (c,) to where the points are (p, 3)
    pool : readings that could be taken at the same points, with the same unknowns
    """
    moves = np.array([moves_of(one, points) for one in ways]).reshape(-1, len(points), 3)
    model = Pointwise(moves, where, taken.seen)
    offer = Pointwise(moves, where, pool.seen) if pool is not None else None
    start = taken.start if taken.start is not None else np.zeros(len(taken.unknown))
    candidates = tuple(
        Candidate(one.name, one.is_angle, LARGE_ANGLE if one.is_angle else LARGE_LENGTH)
        for one in ways
    )
    return explain_curved(
        Curved(
            taken.unknown,
            candidates,
            taken.readings,
            model.values,
            model.slopes,
            model.placing,
            taken.read,
            sd_of(taken.tolerance),
            start,
            pool.readings if pool is not None else (),
            offer.slopes if offer is not None else None,
            sd_of(pool.tolerance) if pool is not None else None,
        )
    )
