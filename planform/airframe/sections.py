"""The section of a lifting surface at any place of its span, as it is built."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planform.airframe.surfaces import Half, standing_rings
from planform.core.shape.loft import SIDE_POINTS

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Section:
    """One section where it stands, as built: its facets' corners lie on the true curve.

    upper, lower : (n, 3) from the leading to the trailing edge, in aircraft axes, on its own side
        of the aircraft [m]
    """

    upper: Array
    lower: Array

    @property
    def leading_edge(self) -> Array:
        """Its foremost corner, shape (3,) [m]."""
        return np.asarray(self.upper[0])

    @property
    def trailing_edge(self) -> Array:
        """The middle of its trailing edge, shape (3,) [m]."""
        return np.asarray(0.5 * (self.upper[-1] + self.lower[-1]))

    @property
    def chord(self) -> float:
        """From the leading to the trailing edge [m]."""
        return float(np.linalg.norm(self.trailing_edge - self.leading_edge))

    def skin(self, x: Array) -> tuple[Array, Array]:
        """Points of the upper and lower skin at shares x of the chord, each shape (len(x), 3) [m].

        x : array, shape (k,), 0 at the leading edge and 1 at the trailing edge
        """
        return self._at(self.upper, x), self._at(self.lower, x)

    def _at(self, corners: Array, x: Array) -> Array:
        line = self.trailing_edge - self.leading_edge
        share = (corners - self.leading_edge) @ line / (line @ line)
        share = np.maximum.accumulate(share)
        return np.stack([np.interp(x, share, corners[:, k]) for k in range(3)], axis=-1)


@lru_cache(maxsize=64)
def _rings(half: Half) -> Array:
    """The corners of its cuts, which many places of one side of a surface ask for."""
    return standing_rings(half)


def panel_at(half: Half, along: float) -> tuple[int, float]:
    """The panel of a surface at a place of its span, by its inner cut, and how far out it is there.

    along : distance along the surface from its first cut [m], as `Half.developed` counts it
    Returns the number of the cut, and the share of the panel from 0 to 1. Raises ValueError where
    the surface does not reach.
    """
    run = half.developed
    if not -1e-9 <= along <= run[-1] + 1e-9:
        raise ValueError(f"allowed: 0 to {run[-1]:.4f} m along the surface")
    k = int(np.clip(np.searchsorted(run, along, side="right") - 1, 0, len(run) - 2))
    step = float(run[k + 1] - run[k])
    return k, float(np.clip((along - run[k]) / step, 0.0, 1.0)) if step > 0.0 else 0.0


def section_at(half: Half, along: float) -> Section:
    """The section of one side of a surface at a place of its span.

    along : distance along the surface from its first cut [m], as `Half.developed` counts it
    Between two cuts it is blended straight from corner to corner, as the solid is (whose flat
    triangles differ from that by what a twisted panel bends); the true curve stands outside of
    the facets by at most `Part.bulge`. Raises ValueError where the surface does not reach.
    """
    k, share = panel_at(half, along)
    rings = _rings(half)
    ring = (1.0 - share) * rings[k] + share * rings[k + 1]
    ring = ring * np.array([1.0, float(half.side), 1.0])
    upper = ring[:SIDE_POINTS][::-1]
    lower = ring[SIDE_POINTS - 1 :]
    return Section(upper, np.vstack([lower, ring[:1]]) if half.closed else lower)


def along_at(half: Half, bl: float) -> float:
    """How far along the surface its leading edge stands at a butt line [m].

    bl : from the centre line outward, above zero on either side [m]
    Raises ValueError where its leading edge does not stand there.
    """
    y, run = half.leading_edge[:, 1], half.developed
    if not y.min() - 1e-9 <= bl <= y.max() + 1e-9:
        raise ValueError(f"allowed: BL {y.min():.4f} to {y.max():.4f} m")
    for k in range(len(y) - 1):
        low, high = sorted((float(y[k]), float(y[k + 1])))
        if low - 1e-9 <= bl <= high + 1e-9 and high > low:
            share = float(np.clip((bl - y[k]) / (y[k + 1] - y[k]), 0.0, 1.0))
            return float(run[k] + share * (run[k + 1] - run[k]))
    return 0.0
