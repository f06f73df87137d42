"""Loadings as points of mass and moment, the limits around them, and the least change inside.

A loading is a mass [kg] and a moment about the datum [kg m]; its CG is their quotient. Beside them
go the moment to the right [kg m] and the fuel that can be burnt [kg]. Adding, burning and shifting
draw straight lines in all four, so every extreme along them has a closed form.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.polynomial import polynomial
from numpy.typing import NDArray

from planform.core.mass.limits import CLOSE, Limit, State, moved, real_roots

Array = NDArray[np.float64]

STATIONS = ("forward", "aft", "left", "right")
"""Bounds whose margin is a distance of the CG [m]."""
BOUNDS = (*STATIONS, "lateral_moment", "max_mass", "min_mass", "max_zero_fuel_mass")
"""Every bound, in the order told; the margin of `lateral_moment` is in kg m, of masses in kg."""


@dataclass(frozen=True, eq=False)
class Envelope:
    """What the user allows; a bound that was not given is None.

    left, right : butt lines of the CG [m]
    lateral_moment : the most to either side of the centre line [kg m]
    max_zero_fuel_mass : of all but the fuel that can be burnt [kg]
    """

    forward: Limit | None = None
    aft: Limit | None = None
    max_mass: float | None = None
    min_mass: float | None = None
    left: float | None = None
    right: float | None = None
    lateral_moment: float | None = None
    max_zero_fuel_mass: float | None = None

    @property
    def judges(self) -> bool:
        """Whether anything but a least mass is bounded."""
        return any(getattr(self, bound) is not None for bound in BOUNDS if bound != "min_mass")

    @property
    def sideways(self) -> bool:
        """Whether anything bounds a loading to the left and right."""
        return any(b is not None for b in (self.left, self.right, self.lateral_moment))

    @cached_property
    def rows(self) -> tuple[tuple[str, Array, float], ...]:
        """The bounds that are linear in a loading: name, factors and constant.

        Inside, factors @ state + constant is zero or more: the margin, which for `left` and
        `right` is still to be divided by the mass.
        """
        no, side, weight = (0.0, 0.0, 0.0, 0.0), (0.0, 0.0, 1.0, 0.0), (1.0, 0.0, 0.0, 0.0)
        out: list[tuple[str, Array, float]] = []

        def row(name: str, factors: tuple[float, ...], constant: float) -> None:
            out.append((name, np.add(no, factors), constant))

        if self.left is not None:
            row("left", (-self.left, 0.0, 1.0, 0.0), 0.0)
        if self.right is not None:
            row("right", (self.right, 0.0, -1.0, 0.0), 0.0)
        if self.lateral_moment is not None:
            row("lateral_moment", side, self.lateral_moment)
            row("lateral_moment", tuple(-f for f in side), self.lateral_moment)
        if self.max_mass is not None:
            row("max_mass", tuple(-f for f in weight), self.max_mass)
        if self.min_mass is not None:
            row("min_mass", weight, -self.min_mass)
        if self.max_zero_fuel_mass is not None:
            row("max_zero_fuel_mass", (-1.0, 0.0, 0.0, 1.0), self.max_zero_fuel_mass)
        return tuple(out)

    def margins(self, state: State) -> dict[str, float]:
        """What is left to each bound; see `BOUNDS` for its unit."""
        mass, moment = state[:2]
        cg = moment / mass
        out = {}
        if self.forward is not None:
            out["forward"] = cg - self.forward.at(mass)
        if self.aft is not None:
            out["aft"] = self.aft.at(mass) - cg
        for name, factors, constant in self.rows:
            left = float(factors @ _whole(state)) + constant
            if name in STATIONS:
                left /= mass
            out[name] = min(left, out.get(name, np.inf))
        return out

    def holds(self, state: State) -> bool:
        """Whether a state lies inside or on every bound."""
        return all(margin >= -CLOSE for margin in self.margins(state).values())


def _whole(state: State) -> Array:
    """A state with all of its four numbers."""
    return np.array([*state, 0.0, 0.0][:4])


def _crossings(envelope: Envelope, state: State, step: State, most: float) -> list[float]:
    """Every t in [0, most] at which state + t step meets a bound, increasing."""
    (mass, moment), (dm, dq) = state[:2], step[:2]
    found = [0.0, most] if np.isfinite(most) else [0.0]
    for _, factors, constant in envelope.rows:
        rise = float(factors @ _whole(step))
        if rise:
            found.append(-(float(factors @ _whole(state)) + constant) / rise)
    for limit in (envelope.forward, envelope.aft):
        if dm and limit is not None:
            found += [(float(bound) - mass) / dm for bound in limit.mass]
        for low, high, powers in limit.pieces if limit else ():
            # moment + t dq = the moment on the limit at the mass + t dm
            along = np.zeros(1)
            for power in powers[::-1]:
                along = np.convolve(along, [mass, dm])
                along[0] += power
            for t in real_roots(polynomial.polysub(along, [moment, dq])):
                if low - CLOSE <= mass + t * dm <= high + CLOSE:
                    found.append(t)
    return sorted({float(t) for t in found if 0.0 <= t <= most})


def least_step(envelope: Envelope, state: State, step: State, most: float = np.inf) -> float | None:
    """The least t in [0, most] that brings state + t step inside; None where none does.

    state, step : (mass [kg], moment [kg m]); a step of 1 kg at an arm is (1, arm)
    """
    for t in _crossings(envelope, state, step, most):
        there = moved(state, step, t)
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
        if not envelope.holds(moved(state, step, 0.5 * (here + beyond))):
            return here
    return np.inf


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
