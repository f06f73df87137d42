"""Unit sections of either sort, by formula or by points: ring, bulge and camber."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from planform.core.shape import loft
from planform.core.shape.drawn import Drawn
from planform.core.shape.sections import camber_line

Array = NDArray[np.float64]

Profile = tuple[float, float, float] | Drawn
"""Camber, its place and thickness of a four-digit section, in chords; or a section by points."""


def ring(profile: Profile, *, closed: bool) -> Array:
    """Closed ring of a unit section, shape (m, 2): over the top, back below."""
    if isinstance(profile, Drawn):
        return _drawn_ring(profile, closed=closed)
    return loft.section_ring(*profile, closed=closed)


@cache
def _drawn_ring(drawn: Drawn, *, closed: bool) -> Array:
    x = 0.5 * (1.0 - np.cos(np.linspace(0.0, np.pi, loft.SIDE_POINTS)))
    upper, lower = drawn.facets(x)
    out = np.concatenate([upper[::-1], lower[1:-1] if closed else lower[1:]])
    out.setflags(write=False)
    return out


def bulge(profile: Profile) -> float:
    """How far the true section stands outside the facets of its ring at most, per unit chord."""
    if isinstance(profile, Drawn):
        return _drawn_bulge(profile)
    return loft.section_bulge(*profile)


@cache
def _drawn_bulge(drawn: Drawn) -> float:
    return drawn.bulge(_drawn_ring(drawn, closed=drawn.closed))


def camber_slope(profile: Profile, x: Array) -> Array:
    """Slope of the camber line at x, array of any shape [chords]."""
    if isinstance(profile, Drawn):
        return profile.camber_slope(x)
    return camber_line(x, profile[0], profile[1])[1]
