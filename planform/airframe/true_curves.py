"""Sections and frames by their own true curves, finer than the built facets."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.airframe.builders.bodies import columns_of
from planform.airframe.sections import Section, panel_at
from planform.airframe.surfaces import Half, normals
from planform.core.shape import hulls, loft
from planform.core.shape.drawn import Drawn
from planform.core.shape.profiles import Profile
from planform.core.shape.sections import naca4
from planform.design.bodies import Body
from planform.design.kinds import LYING

Array = NDArray[np.float64]

FINE = 401
"""Places along the chord, cosine spaced: within 0.01 mm of the curve at 2 m of chord."""
AROUND = 1440
"""Directions in which a frame is bounded."""


def fine_section(half: Half, along: float) -> Section:
    """The section at a place of a surface by its own curve, blended straight between two cuts.

    along : distance along the surface from its first cut [m], as `Half.developed` counts it
    As `section_at`, whose corners lie on it. Raises ValueError where the surface does not reach.
    """
    k, share = panel_at(half, along)
    on_centre = bool(half.leading_edge[0, 1] == 0.0 and half.role in LYING)
    two = slice(k, k + 2)
    sides = [_sides(profile, closed=half.closed) for profile in half.profiles[two]]
    across = normals(half.angle, upright_root=on_centre)[two]
    own = half.leading_edge[two], half.chord[two], half.incidence[two], across
    mirror = np.array([1.0, float(half.side), 1.0])
    upper, lower = (
        loft.panel_rings(*own, [pair[which] for pair in sides]) * mirror for which in (0, 1)
    )
    return Section(*((1.0 - share) * one[0] + share * one[1] for one in (upper, lower)))


def _sides(profile: Profile, *, closed: bool) -> tuple[Array, Array]:
    """Upper and lower side of a unit section, each shape (FINE, 2)."""
    if isinstance(profile, Drawn):
        return profile.facets(0.5 * (1.0 - np.cos(np.linspace(0.0, np.pi, FINE))))
    return naca4(*profile, n=FINE, closed=closed)


def frame(body: Body, fs: float) -> Array:
    """The outline of a body at a station, shape (n, 2) [m], counter-clockwise.

    Butt lines to the right, from its own middle plane, and waterlines.
    Between two stations its reach along each direction runs straight, as a straight loft's does.
    Raises ValueError where the body is not there.
    """
    columns = columns_of(body.cuts)
    if body.smooth:
        columns = columns.smoothed()
    table, stations = columns.table(), columns.fs
    if not stations[0] <= fs <= stations[-1]:
        raise ValueError("the body is not there")
    normal = hulls.directions(columns, AROUND)
    k = int(np.clip(np.searchsorted(stations, fs, side="right") - 1, 0, len(stations) - 2))
    share = float((fs - stations[k]) / (stations[k + 1] - stations[k]))
    rings = [hulls.outline(row, normal) for row in table[k : k + 2]]
    return np.asarray((1.0 - share) * rings[0] + share * rings[1])
