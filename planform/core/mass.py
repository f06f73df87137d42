"""Sums of mass items."""

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
