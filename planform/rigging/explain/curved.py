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
from planform.rigging.explain.explaining import explain
from planform.rigging.explain.net import Candidate, Net, Observed, Pool
from planform.rigging.explain.told import Explanation

STEP = 1e-5
"""Half the step of a difference [rad] or [m]."""

TURNS = 4
"""How often it is made straight anew, at most."""

STILL = 2e-5
"""A change of all unknowns below this ends it [rad] or [m]."""

OFF = 0.05
"""What a reading may be off the drawing without being wrong [m] or [rad]: a first guess."""

Values = Callable[[Array, Array], Array]
"""(u,) unknowns and (c,) candidates to what would be read; smooth."""


@dataclass(frozen=True, eq=False)
class Curved:
    """A net whose readings are smooth functions.

    values : what the readings would be; pool_values : what those that could be taken would be
    read, sd : (m,) ; pool_sd : (p,)
    start : (u,) a first guess of the unknown
    """

    unknown: tuple[str, ...]
    candidates: tuple[Candidate, ...]
    readings: tuple[Observed, ...]
    values: Values
    read: Array
    sd: Array
    start: Array
    pool: tuple[Observed, ...] = ()
    pool_values: Values | None = None
    pool_sd: Array | None = None


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
        columns = _columns(lambda at: net.values(at, drawn), x)
        step = np.linalg.lstsq(columns * weight[:, None], off * weight, rcond=1e-9)[0]
        x = x + step
        if width <= 1.0 and float(np.abs(step).max()) < STILL:
            break
        width = max(0.5 * width, 1.0)
    return x


def explain_curved(net: Curved) -> Explanation:
    """The simplest explanation of curved readings; see `explain`."""
    x, theta = placed(net), np.zeros(len(net.candidates))
    told = None
    for _ in range(TURNS):
        straight = straightened(net, x, theta)
        told = explain(straight)
        place = {one.name: k for k, one in enumerate(net.candidates)}
        new = np.zeros(len(theta))
        for one in told.found:
            new[place[one.name]] = one.by
        moved = np.abs(np.concatenate([told.unknown - x, new - theta]))
        x, theta = told.unknown, new
        if told.too_few or not len(moved) or float(moved.max()) < STILL * 50.0:
            break
    if net.pool_values is None or told is None or told.too_few:
        return told if told is not None else explain(straightened(net, x, theta))
    return explain(with_pool(net, straightened(net, x, theta), x, theta))


def straightened(net: Curved, x: Array, theta: Array) -> Net:
    """The net made straight about these unknowns and candidates."""
    columns = np.hstack(
        [
            _columns(lambda at: net.values(at, theta), x),
            _columns(lambda at: net.values(x, at), theta),
        ]
    )
    now = net.values(x, theta)
    drawn = net.values(x, np.zeros(len(theta)))
    readings = tuple(
        replace(one, drawn=float(value)) for one, value in zip(net.readings, drawn, strict=True)
    )
    seen = net.read - now + columns @ np.concatenate([x, theta])
    return Net(net.unknown, net.candidates, readings, columns, seen, net.sd)


def with_pool(net: Curved, straight: Net, x: Array, theta: Array) -> Net:
    """A straightened net with the readings that could be taken."""
    values, sd = net.pool_values, net.pool_sd
    if values is None or sd is None:
        return straight
    columns = np.hstack(
        [_columns(lambda at: values(at, theta), x), _columns(lambda at: values(x, at), theta)]
    )
    return replace(straight, pool=Pool(net.pool, columns, sd))


def _columns(values: Callable[[Array], Array], at: Array) -> Array:
    """(m, n) change of the values with each of `at`, by central differences."""
    steps = np.eye(len(at)) * STEP
    rows = [(values(at + step) - values(at - step)) / (2.0 * STEP) for step in steps]
    return np.array(rows).T if rows else np.zeros((len(values(at)), 0))
