"""Closed forms of a half planform: a chain of straight-edged panels seen from above.

y : array, shape (n,)      butt lines of the stations, not decreasing [m]; equal ones make a step
x : array, shape (n,)      stations of the leading edge [m]
chord : array, shape (n,)  chords [m]
Chord and leading edge run straight between stations, so every integral is exact. The mean
aerodynamic chord is the integral of c^2 over that of c: NACA Report 751 (Diehl, 1942).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def _product(dy: Array, u: Array, v: Array) -> float:
    """Integral of the product of two functions that are straight between stations."""
    inner = u[:-1] * (2.0 * v[:-1] + v[1:]) + u[1:] * (v[:-1] + 2.0 * v[1:])
    return float(dy @ inner / 6.0)


def half_area(y: Array, chord: Array) -> float:
    """Area of the half planform [m2]."""
    return float(0.5 * ((chord[1:] + chord[:-1]) @ (y[1:] - y[:-1])))


def mean_aerodynamic_chord(y: Array, chord: Array) -> float:
    """Mean aerodynamic chord [m]."""
    return _product(y[1:] - y[:-1], chord, chord) / half_area(y, chord)


def mac_butt_line(y: Array, chord: Array) -> float:
    """Butt line of the mean aerodynamic chord [m]: that of the half area's centroid."""
    return _product(y[1:] - y[:-1], y, chord) / half_area(y, chord)


def mac_leading_edge(y: Array, x: Array, chord: Array) -> float:
    """Station of the MAC's leading edge [m]: the mean leading edge, weighted by chord."""
    return _product(y[1:] - y[:-1], x, chord) / half_area(y, chord)


def sweep_at(dy: float, x0: float, c0: float, x1: float, c1: float, fraction: float) -> float:
    """Sweep of the line at a fraction of the chord of one panel [rad], aft positive."""
    return float(np.arctan2(x1 + fraction * c1 - x0 - fraction * c0, dy))


def to_centreline(y: Array, x: Array, chord: Array) -> tuple[float, float, float]:
    """The station at y = 0 of the panel between two stations, its edges carried straight on."""
    share = -y[0] / (y[1] - y[0])
    return 0.0, float(x[0] + share * (x[1] - x[0])), float(chord[0] + share * (chord[1] - chord[0]))


def volume_coefficient(
    foreplane_area: float, arm: float, wing_area: float, wing_mac: float
) -> float:
    """Foreplane area times arm over wing area times MAC."""
    return foreplane_area * arm / (wing_area * wing_mac)
