"""A CG limit over mass: through its points straight in station, straight in moment, or smooth.

Whatever the rule, the moment that stands on the limit is a polynomial in the mass between two
points, so where a line of loadings meets it is a root, and its worst margin one of a derivative.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.polynomial import polynomial
from numpy.typing import NDArray

Array = NDArray[np.float64]
State = tuple[float, ...]
"""Mass [kg] and moment [kg m]; behind them, where they matter, moment to the right [kg m] and
fuel that can be burnt [kg]."""

STATION, MOMENT, SMOOTH = "station", "moment", "smooth"
"""What runs straight, or smooth, between the points of a limit."""

CLOSE = 1e-9
"""Metres and kilograms; a state this near to a limit lies on it."""


@dataclass(frozen=True, eq=False)
class Limit:
    """CG limit over mass: by its rule between the points, constant beyond the ends.

    mass : array, shape (n,), increasing [kg]; station : array, shape (n,) [m]
    between : STATION, MOMENT or SMOOTH (monotone cubics of station over mass, which never leave
        the range of the two points beside them)
    """

    mass: Array
    station: Array
    between: str = STATION

    @classmethod
    def through(cls, points: Iterable[tuple[float, float]], between: str = STATION) -> Limit:
        """The limit through points of (mass [kg], station [m]), in order of mass."""
        mass, station = zip(*points, strict=True)
        return cls(np.array(mass, float), np.array(station, float), between)

    def at(self, mass: float) -> float:
        """The station of the limit at a mass [m]."""
        straight = float(np.interp(mass, self.mass, self.station))
        if self.between == STATION or not self.mass[0] < mass < self.mass[-1]:
            return straight
        k = int(np.searchsorted(self.mass, mass)) - 1
        if self.between == MOMENT:
            low, high = (float(m) for m in self.mass[k : k + 2])
            ends = self.mass[k : k + 2] * self.station[k : k + 2]
            return float(np.interp(mass, [low, high], ends)) / mass
        return float(polynomial.polyval(mass - self.mass[k], self._cubics[k]))

    @cached_property
    def pieces(self) -> tuple[tuple[float, float, tuple[float, ...]], ...]:
        """Of every piece: from mass, to mass, and the moment on the limit as powers of the mass."""
        first, last = float(self.station[0]), float(self.station[-1])
        out: list[tuple[float, float, tuple[float, ...]]] = []
        out.append((-np.inf, float(self.mass[0]), (0.0, first)))
        for k in range(len(self.mass) - 1):
            out.append((float(self.mass[k]), float(self.mass[k + 1]), self._powers(k)))
        out.append((float(self.mass[-1]), np.inf, (0.0, last)))
        return tuple(out)

    def _powers(self, k: int) -> tuple[float, ...]:
        (low, high), (one, two) = self.mass[k : k + 2], self.station[k : k + 2]
        if self.between == STATION:
            slope = float(two - one) / float(high - low)
            return 0.0, float(one) - slope * float(low), slope
        if self.between == MOMENT:
            rise = float(two * high - one * low) / float(high - low)
            return float(one * low) - rise * float(low), rise
        shifted = np.zeros(1)
        for power in self._cubics[k][::-1]:
            shifted = polynomial.polyadd(polynomial.polymul(shifted, [-low, 1.0]), [power])
        return tuple(float(p) for p in polynomial.polymulx(shifted))

    @cached_property
    def _cubics(self) -> Array:
        """Powers of (mass less that of the point before) of each piece's station, shape (n-1, 4).

        Slopes at the points: F. N. Fritsch, R. E. Carlson, "Monotone piecewise cubic
        interpolation", SIAM J. Numer. Anal. 17 (1980), with the weighted harmonic mean of F. N.
        Fritsch, J. Butland (1984) and one-sided slopes that keep the sign at the ends.
        """
        step = np.diff(self.mass)
        rise = np.diff(self.station) / step
        slope = _slopes(step, rise)
        bend = (3.0 * rise - 2.0 * slope[:-1] - slope[1:]) / step
        twist = (slope[:-1] + slope[1:] - 2.0 * rise) / step**2
        return np.column_stack([self.station[:-1], slope[:-1], bend, twist])


def _slopes(step: Array, rise: Array) -> Array:
    """The slope at every point that keeps each piece monotone."""
    if len(rise) == 1:
        return np.array([rise[0], rise[0]])
    out = np.zeros(len(rise) + 1)
    for k in range(1, len(rise)):
        before, after = float(rise[k - 1]), float(rise[k])
        if before * after > 0.0:
            one, two = 2 * step[k] + step[k - 1], step[k] + 2 * step[k - 1]
            out[k] = (one + two) / (one / before + two / after)
    out[0] = _end_slope(step[0], step[1], rise[0], rise[1])
    out[-1] = _end_slope(step[-1], step[-2], rise[-1], rise[-2])
    return out


def _end_slope(near: float, far: float, rise: float, beyond: float) -> float:
    slope = ((2.0 * near + far) * rise - near * beyond) / (near + far)
    if slope * rise <= 0.0:
        return 0.0
    if rise * beyond < 0.0 and abs(slope) > 3.0 * abs(rise):
        return 3.0 * rise
    return float(slope)


def crossing(forward: Limit, aft: Limit) -> float | None:
    """A mass at which the forward limit is not ahead of the aft one, or None."""
    marks = {*map(float, forward.mass), *map(float, aft.mass)}
    for low, high, fore in forward.pieces:
        for bottom, top, back in aft.pieces:
            under, over = max(low, bottom), min(high, top)
            if under < over and len(fore) + len(back) > 5:
                apart = polynomial.polysub(back, fore)
                flat = polynomial.polysub(
                    polynomial.polymulx(polynomial.polyder(apart)), apart
                )  # of the gap in station, which is this over the mass squared
                marks |= {m for m in real_roots(flat) if under < m < over}
    return next((m for m in sorted(marks) if not forward.at(m) < aft.at(m)), None)


def real_roots(powers: Iterable[float]) -> list[float]:
    """The real roots of a polynomial given by its powers, the constant first."""
    c = [float(p) for p in powers]
    scale = max(map(abs, c), default=0.0)
    while len(c) > 1 and abs(c[-1]) < 1e-14 * scale:
        c.pop()
    if scale == 0.0 or len(c) < 2:
        return []
    if len(c) == 2:
        return [-c[0] / c[1]]
    if len(c) == 3:
        return _quadratic(c[2], c[1], c[0])
    found = polynomial.polyroots(c)
    slope = polynomial.polyder(c)
    out = []
    for root in found[np.abs(found.imag) < 1e-6 * (1.0 + np.abs(found))].real:
        down = polynomial.polyval(root, slope)
        out.append(float(root - polynomial.polyval(root, c) / down if down else root))
    return out


def _quadratic(a: float, b: float, c: float) -> list[float]:
    inner = b * b - 4.0 * a * c
    if inner < 0.0:
        return []
    half = -0.5 * (b + np.copysign(np.sqrt(inner), b))
    return [float(half / a), *([float(c / half)] if half else [])]


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
        for low, high, powers in limit.pieces:
            inner += [m for m in _level(powers, rest) if low <= m <= high]
        marks += [t for m in inner if 0.0 < (t := (m - a[0]) / dm) < 1.0]

    def margin(t: float) -> float:
        mass, moment = moved(a, (dm, dq), t)
        return sign * (moment / mass - limit.at(mass))

    worst = min(marks, key=margin)
    return margin(worst), moved(a, tuple(y - x for x, y in zip(a, b, strict=True)), worst)


def _level(powers: tuple[float, ...], rest: float) -> list[float]:
    """Masses at which the margin to a piece stands still along moment = rest + slope * mass."""
    if len(powers) == 3 and powers[0] == 0.0:
        steep = powers[2]
        return [float(np.sqrt(-rest / steep))] if steep and -rest / steep > 0.0 else []
    if len(powers) < 4:
        return []
    flat = polynomial.polysub(powers, polynomial.polymulx(polynomial.polyder(powers)))
    return real_roots(polynomial.polysub(flat, [rest]))


def moved(state: State, step: State, t: float) -> State:
    """A state and t times a step; of what one of them lacks, nothing is told."""
    return tuple(x + t * dx for x, dx in zip(state, step, strict=False))
