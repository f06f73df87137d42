"""Readings that are not straight-line functions: placed robustly, then made straight and explained.

Tapes, heights and levels are curved functions of where the aircraft stands and how it differs; over
what an aircraft is off its drawing they are all but straight. So they are made straight where the
explanation lies, and explained again until that place stays.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from planform.core.vectors import Array
from planform.rigging.explain.explaining import explain, simplest
from planform.rigging.explain.net import Candidate, Net, Observed, Pool
from planform.rigging.explain.told import Explanation

STEP = 1e-5
"""Half the step of a difference [rad] or [m]."""

TURNS = 4
"""How often it is made straight anew, at most."""

STILL = 1e-3
"""A change of all unknowns below this ends it [rad] or [m]: what bends over it is its square."""

OFF = 0.05
"""What a reading may be off the drawing without being wrong [m] or [rad]: a first guess."""

Values = Callable[[Array, Array], Array]
"""(u,) unknowns and (c,) candidates to what would be read (m,), or to its slopes (m, u + c)."""


@dataclass(frozen=True, eq=False)
class Curved:
    """A net whose readings are smooth functions.

    values : what the readings would be ; slopes : their change with unknowns and candidates
    placing : their change with the unknowns alone (m, u)
    read, sd : (m,)
    start : (u,) a first guess of the unknown
    pool : what could be read next, with its slopes and (p,) standard deviations
    """

    unknown: tuple[str, ...]
    candidates: tuple[Candidate, ...]
    readings: tuple[Observed, ...]
    values: Values
    slopes: Values
    placing: Values
    read: Array
    sd: Array
    start: Array
    pool: tuple[Observed, ...] = ()
    pool_slopes: Values | None = None
    pool_sd: Array | None = None


@dataclass(frozen=True, eq=False)
class Pointwise:
    """Readings between points that move with the candidates.

    moves : (c, p, 3) how the points move with each candidate, from where they are drawn
    where : (c,) candidates to the points (p, 3)
    seen : points (p, 3) and unknowns (u,) to what would be read (m,)
    """

    moves: Array
    where: Callable[[Array], Array]
    seen: Callable[[Array, Array], Array]

    def values(self, x: Array, theta: Array) -> Array:
        """What would be read (m,)."""
        return self.seen(self.where(theta), x)

    def slopes(self, x: Array, theta: Array) -> Array:
        """(m, u + c) change with each unknown and candidate, by central differences.

        A candidate moves the points as from the drawing, wherever they are by now: the difference
        is of the second order of what is off, and only in the slope.
        """
        at, placing = self.where(theta), self.placing(x, theta)
        columns = np.zeros((len(placing), len(theta)))
        for k, move in enumerate(self.moves):
            if move.any():
                step = move * STEP
                change = self.seen(at + step, x) - self.seen(at - step, x)
                columns[:, k] = change / (2.0 * STEP)
        return np.hstack([placing, columns])

    def placing(self, x: Array, theta: Array) -> Array:
        """(m, u) change with each unknown."""
        at = self.where(theta)
        columns = np.zeros((len(self.seen(at, x)), len(x)))
        for k, step in enumerate(np.eye(len(x)) * STEP):
            columns[:, k] = (self.seen(at, x + step) - self.seen(at, x - step)) / (2.0 * STEP)
        return columns


def placed(net: Curved) -> Array:
    """The unknown, with all parts as drawn and readings that are far off the others set aside.

    Weights (1 + (r / k)^2)^-2 for a residual r: the loss of Geman and McClure (1985, from memory)
    is bounded, so no reading is worth more than a few good ones; k is brought down by halves from
    the greatest residual, so that the first guess decides nothing.
    """
    x, drawn = net.start.astype(float), np.zeros(len(net.candidates))
    if not len(x) or not len(net.read):
        return x
    width = np.inf
    for _ in range(40):
        now = net.values(x, drawn)
        off = net.read - now
        spread = np.hypot(net.sd, OFF)
        if not np.isfinite(width):
            width = max(float(np.abs(off / spread).max()), 1.0)
        weight = 1.0 / (1.0 + (off / spread / width) ** 2) / spread
        columns = net.placing(x, drawn)
        step = np.linalg.lstsq(columns * weight[:, None], off * weight, rcond=1e-9)[0]
        x = x + step
        if width <= 1.0 and float(np.abs(step).max()) < STILL:
            break
        width = max(0.5 * width, 1.0)
    return x


def explain_curved(net: Curved) -> Explanation:
    """The simplest explanation of curved readings; see `explain`."""
    x, theta = placed(net), np.zeros(len(net.candidates))
    straight = straightened(net, x, theta)
    for _ in range(TURNS):
        by = simplest(straight)
        moved = np.abs(by - np.concatenate([x, theta]))
        x, theta = by[: len(x)], by[len(x) :]
        if not len(by) or float(moved.max()) < STILL:
            break
        straight = straightened(net, x, theta)
    return explain(with_pool(net, straight, x, theta))


def straightened(net: Curved, x: Array, theta: Array) -> Net:
    """The net made straight about these unknowns and candidates."""
    columns = net.slopes(x, theta)
    drawn = net.values(x, np.zeros(len(theta)))
    readings = tuple(
        replace(one, drawn=float(value)) for one, value in zip(net.readings, drawn, strict=True)
    )
    seen = net.read - net.values(x, theta) + columns @ np.concatenate([x, theta])
    return Net(net.unknown, net.candidates, readings, columns, seen, net.sd)


def with_pool(net: Curved, straight: Net, x: Array, theta: Array) -> Net:
    """A straightened net with the readings that could be taken."""
    if net.pool_slopes is None or net.pool_sd is None:
        return straight
    return replace(straight, pool=Pool(net.pool, net.pool_slopes(x, theta), net.pool_sd))
