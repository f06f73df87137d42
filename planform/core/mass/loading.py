"""Loadings as points of mass and moment, the limits around them, and the least change inside.

A loading is a mass [kg] and a moment about the datum [kg m]; its CG is their quotient. Adding,
burning and shifting draw straight lines in mass and moment, so every extreme along them has a
closed form.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
State = tuple[float, float]

CLOSE = 1e-9
"""Metres and kilograms; a state this near to a limit lies on it."""


@dataclass(frozen=True, eq=False)
class Limit:
    """CG limit over mass: straight between the points, constant beyond the ends.

    mass : array, shape (n,), increasing [kg]; station : array, shape (n,) [m]
    """

    mass: Array
    station: Array

    @classmethod
    def through(cls, points: Iterable[tuple[float, float]]) -> Limit:
        """The limit through points of (mass [kg], station [m]), in order of mass."""
        mass, station = zip(*points, strict=True)
        return cls(np.array(mass, float), np.array(station, float))

    def at(self, mass: float) -> float:
        """The station of the limit at a mass [m]."""
        return float(np.interp(mass, self.mass, self.station))

    def pieces(self) -> list[tuple[float, float, float, float]]:
        """(from mass, to mass, constant, slope) of every straight piece."""
        first, last = float(self.station[0]), float(self.station[-1])
        out = [(-np.inf, float(self.mass[0]), first, 0.0)]
        for k in range(len(self.mass) - 1):
            low, high = float(self.mass[k]), float(self.mass[k + 1])
            slope = float(self.station[k + 1] - self.station[k]) / (high - low)
            out.append((low, high, float(self.station[k]) - slope * low, slope))
        out.append((float(self.mass[-1]), np.inf, last, 0.0))
        return out


@dataclass(frozen=True, eq=False)
class Envelope:
    """What the user allows; a bound that was not given is None."""

    forward: Limit | None = None
    aft: Limit | None = None
    max_mass: float | None = None
    min_mass: float | None = None

    def margins(self, state: State) -> dict[str, float]:
        """What is left to each bound: 'forward' and 'aft' [m], 'max_mass' and 'min_mass' [kg]."""
        mass, moment = state
        cg = moment / mass
        out = {}
        if self.forward is not None:
            out["forward"] = cg - self.forward.at(mass)
        if self.aft is not None:
            out["aft"] = self.aft.at(mass) - cg
        if self.max_mass is not None:
            out["max_mass"] = self.max_mass - mass
        if self.min_mass is not None:
            out["min_mass"] = mass - self.min_mass
        return out

    def holds(self, state: State) -> bool:
        """Whether a state lies inside or on every bound."""
        return all(margin >= -CLOSE for margin in self.margins(state).values())


def crossing(forward: Limit, aft: Limit) -> float | None:
    """A mass at which the forward limit is not ahead of the aft one, or None."""
    marks = sorted({*map(float, forward.mass), *map(float, aft.mass)})
    return next((m for m in marks if not forward.at(m) < aft.at(m)), None)


def _crossings(envelope: Envelope, state: State, step: State, most: float) -> list[float]:
    """Every t in [0, most] at which state + t step meets a bound, increasing."""
    (mass, moment), (dm, dq) = state, step
    found = [0.0, most] if np.isfinite(most) else [0.0]
    if dm:
        bounds = [b for b in (envelope.max_mass, envelope.min_mass) if b is not None]
        for limit in (envelope.forward, envelope.aft):
            bounds += [] if limit is None else list(limit.mass)
        found += [(bound - mass) / dm for bound in bounds]
    for limit in (envelope.forward, envelope.aft):
        for low, high, constant, slope in limit.pieces() if limit else ():
            # (moment + t dq) = (constant + slope m) m with m = mass + t dm
            powers = [
                slope * dm * dm,
                2.0 * slope * mass * dm + constant * dm - dq,
                (slope * mass + constant) * mass - moment,
            ]
            for t in _roots(*powers):
                if low - CLOSE <= mass + t * dm <= high + CLOSE:
                    found.append(t)
    return sorted({float(t) for t in found if 0.0 <= t <= most})


def _roots(a: float, b: float, c: float) -> list[float]:
    scale = max(abs(a), abs(b), abs(c))
    if scale == 0.0:
        return []
    if abs(a) < 1e-14 * scale:
        return [-c / b] if abs(b) > 1e-14 * scale else []
    inner = b * b - 4.0 * a * c
    if inner < 0.0:
        return []
    half = -0.5 * (b + np.copysign(np.sqrt(inner), b))
    return [float(half / a), *([float(c / half)] if half else [])]


def _moved(state: State, step: State, t: float) -> State:
    return state[0] + t * step[0], state[1] + t * step[1]


def least_step(envelope: Envelope, state: State, step: State, most: float = np.inf) -> float | None:
    """The least t in [0, most] that brings state + t step inside; None where none does.

    state, step : (mass [kg], moment [kg m]); a step of 1 kg at an arm is (1, arm)
    """
    for t in _crossings(envelope, state, step, most):
        there = _moved(state, step, t)
        if there[0] > 0.0 and envelope.holds(there):
            return t
    return None


def room_left(envelope: Envelope, state: State, step: State, most: float = np.inf) -> float | None:
    """The largest t in [0, most] up to which a state that is inside stays inside.

    None where it is outside already; infinite where no bound is ever met.
    """
    if not envelope.holds(state):
        return None
    marks = _crossings(envelope, state, step, most)
    for here, beyond in zip(marks, [*marks[1:], marks[-1] + 1.0], strict=True):
        if here >= most:
            return most
        if not envelope.holds(_moved(state, step, 0.5 * (here + beyond))):
            return here
    return np.inf


def least_margin(limit: Limit, sign: float, a: State, b: State) -> tuple[float, State]:
    """The least margin to a limit along the straight line from a to b, and where it is.

    sign : 1.0 for a forward limit (CG - limit), -1.0 for an aft one (limit - CG)
    """
    marks = [0.0, 1.0]
    dm, dq = b[0] - a[0], b[1] - a[1]
    if dm:
        slope = dq / dm
        rest = a[1] - slope * a[0]  # moment = rest + slope * mass
        inner = [float(m) for m in limit.mass]
        for _, _, _, steep in limit.pieces():
            if steep and -rest / steep > 0.0:
                inner.append(float(np.sqrt(-rest / steep)))
        marks += [t for m in inner if 0.0 < (t := (m - a[0]) / dm) < 1.0]

    def margin(t: float) -> float:
        mass, moment = _moved(a, (dm, dq), t)
        return sign * (moment / mass - limit.at(mass))

    worst = min(marks, key=margin)
    return margin(worst), _moved(a, (dm, dq), worst)


def boundary(base: State, arms: Array, most: Array, max_mass: float, order: Sequence[int]) -> Array:
    """Mass and moment as places are filled in an order, up to the greatest mass; shape (n, 2).

    base : the state with the least of everything aboard
    arms : array, shape (k,) [m]; most : array, shape (k,), how much more each place takes [kg]
    Filled from the foremost place on, this is the least moment at every mass; from the aftmost
    on, the greatest: together they bound every loading.
    """
    states = [base]
    for k in order:
        mass, moment = states[-1]
        more = min(float(most[k]), max_mass - mass)
        if more > 0.0:
            states.append((mass + more, moment + more * float(arms[k])))
    return np.array(states)


def amounts_at(mass: float, base: float, most: Array, order: Sequence[int]) -> Array:
    """How much of each place is filled where the boundary reaches a mass, shape (k,) [kg]."""
    out = np.zeros(len(most))
    left = mass - base
    for k in order:
        out[k] = min(max(left, 0.0), float(most[k]))
        left -= out[k]
    return out
