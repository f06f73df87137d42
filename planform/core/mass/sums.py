"""Sums of mass items, and the short formulas of a weight and balance sheet.

The trade says weight and means mass; arms are stations aft of the datum.
Formulas: FAA-H-8083-1B and AC 43.13-1B chapter 10, as quoted in the published checks.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def total(mass: Array, position: Array) -> tuple[float, Array]:
    """Total mass [kg] and its centre, shape (3,) [m].

    mass : array, shape (n,), all above zero [kg]
    position : array, shape (n, 3) [m]
    """
    whole = float(mass.sum())
    return whole, np.asarray((mass[:, None] * position).sum(axis=0) / whole)


def nose_load(mass: float, centre: float, nose: float, main: float) -> float:
    """Load on the nose wheel [kg] of an aircraft standing level on nose and main wheels.

    centre, nose, main : stations of the centre of mass and of the axles [m]
    """
    return mass * (main - centre) / (main - nose)


def percent_mac(station: float, lemac: float, mac: float) -> float:
    """A station as a share of the mean aerodynamic chord; below zero ahead of its leading edge."""
    return (station - lemac) / mac


def mac_station(share: float, lemac: float, mac: float) -> float:
    """The station [m] at a share of the mean aerodynamic chord."""
    return lemac + share * mac
