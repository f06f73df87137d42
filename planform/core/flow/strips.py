"""Dividing lifting surfaces into strips, so that one's wake never cuts another's strip.

Surfaces that lie in plan share the butt lines of their strip edges: without that, a foreplane's
wake in the plane of the wing gives nonsense without a warning.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planform.core.flow.lattice import Chain, cosine

Array = NDArray[np.float64]

STRIPS = 40
"""Strips on the right half of the surface of the greatest span."""
ROWS = 6
"""Panels along the chord."""
LEAST = 3
"""Least strips of a panel between two breaks."""
SLIVER = 1e-7
"""Share of the half span below which breaks of two surfaces are one: rounding, not a gap.

Any wider gap, however narrow, gets strips of its own: with strip edges of two surfaces in one
plane that miss each other by less than a strip, slopes are wrong by whole per cents."""
FEWEST = 0.1
"""Of the longest surface, what the longest lying one counts as at least; assumption."""
STEEP = np.radians(60.0)
"""A panel steeper than this stands, and shares no butt lines with others."""


@dataclass(frozen=True, eq=False)
class StripLine:
    """A surface on the right half: leading edge (n, 3) [m], chord (n,) [m], outward."""

    name: str
    edge: Array
    chord: Array

    def stands(self) -> NDArray[np.bool_]:
        """Which of its panels stand."""
        step = np.diff(self.edge, axis=0)
        return np.asarray(np.abs(np.arctan2(step[:, 2], step[:, 1])) > STEEP)

    def developed(self) -> Array:
        """Distance along the surface of every section, shape (n,) [m]."""
        step = np.hypot(*np.diff(self.edge[:, 1:], axis=0).T)
        return np.concatenate([[0.0], np.cumsum(step)])


def _breaks(lines: Sequence[StripLine], least: float) -> Array:
    """Butt lines at which a lying panel of any surface begins or ends [m].

    Those of different surfaces nearer than `least` are one; those of one surface stay apart.
    """
    found = sorted(
        {
            (float(line.edge[end, 1]), number)
            for number, line in enumerate(lines)
            for k, stands in enumerate(line.stands())
            for end in (k, k + 1)
            if not stands
        }
    )
    out: list[float] = []
    here: set[int] = set()
    for y, number in found:
        if not out or y - out[-1] > least or number in here:
            out.append(y)
            here = set()
        here.add(number)
    return np.array(out)


def _snapped(line: StripLine, breaks: Array, least: float) -> StripLine:
    """The line with every section that is nearer than `least` to a break put on it."""
    if not len(breaks):
        return line
    at = line.edge[:, 1]
    near = breaks[np.abs(at[:, None] - breaks).argmin(axis=1)]
    edge = line.edge.copy()
    edge[:, 1] = np.where(np.abs(at - near) <= least, near, at)
    return StripLine(line.name, edge, line.chord)


def longest(lines: Sequence[StripLine], low: float, high: float) -> float:
    """The greatest length along any lying panel between two butt lines [m]."""
    found = [high - low]
    middle = 0.5 * (low + high)
    for line in lines:
        step = np.diff(line.edge[:, 1:], axis=0)
        for k in np.nonzero(~line.stands())[0]:
            if line.edge[k, 1] < middle < line.edge[k + 1, 1]:
                found.append((high - low) * float(np.hypot(*step[k]) / step[k, 0]))
    return max(found)


def strip_up(
    lines: Sequence[StripLine], strips: int = STRIPS, rows: int = ROWS
) -> tuple[Chain, ...]:
    """One chain a surface, with edges shared in plan and crowded toward every break.

    strips : on the right half of the longest lying surface; others by their length
    """
    reach = max(float(line.edge[:, 1].max()) for line in lines)
    lengths = [float(line.developed()[-1]) for line in lines if not line.stands().all()]
    everywhere = max(float(line.developed()[-1]) for line in lines)
    whole = max(*(lengths or [everywhere]), FEWEST * everywhere)
    least = SLIVER * reach
    breaks = _breaks(lines, least)
    lines = [_snapped(line, breaks, least) for line in lines]

    def count(length: float) -> int:
        return max(LEAST, int(np.ceil(strips * length / whole - 1e-9)))

    out = []
    for line in lines:
        along = line.developed()
        edges, shares = [np.array([0.0])], []
        for k, stands in enumerate(line.stands()):
            low, high = along[k], along[k + 1]
            stops, lengths = [low, high], [high - low]
            if not stands:
                y0, y1 = line.edge[k, 1], line.edge[k + 1, 1]
                cuts = [y0, *(float(b) for b in breaks if y0 < b < y1), y1]
                stops = [low + (y - y0) / (y1 - y0) * (high - low) for y in cuts]
                lengths = [longest(lines, a, b) for a, b in pairwise(cuts)]
            for (a, b), length in zip(pairwise(stops), lengths, strict=True):
                edge, share = cosine(float(a), float(b), count(float(length)))
                edges.append(edge[1:])
                shares.append(share)
        at = np.concatenate(edges)
        points = np.column_stack([np.interp(at, along, line.edge[:, i]) for i in range(3)])
        chord = np.interp(at, along, line.chord)
        out.append(Chain(line.name, points, chord, np.concatenate(shares), rows))
    return tuple(out)
