"""A vortex lattice: half a symmetric aircraft and its mirror image, in linear theory.

Each panel carries a horseshoe vortex: bound along its quarter-chord line, legs straight aft along
x to infinity. At its three-quarter-chord point, at the mid-angle of its strip, no air crosses the
surface. Lengths in m, the free stream has unit speed along x, circulations are in m.

The condition is linear: a panel at angle `theta` from the horizontal (dihedral) and incidence
`delta` (nose toward its normal) in a stream at angle `alpha` asks for a normalwash of
-(alpha cos(theta) + delta). So one factorised matrix serves every alpha, twist, toe and incidence.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

TOUCH = 1e-9
"""A control point nearer than this to a vortex, in strip widths, lies on it."""


@dataclass(frozen=True, eq=False)
class Chain:
    """Strips side by side on the right half: one surface, or one straight run of it.

    edge : (m + 1, 3)     leading edge at every strip edge [m]
    chord : (m + 1,)      chord there [m]
    share : (m,)          where between its edges each strip has its control points, 0 to 1
    rows : int            panels along the chord, of equal length
    """

    name: str
    edge: Array
    chord: Array
    share: Array
    rows: int

    @property
    def strips(self) -> int:
        """How many strips."""
        return len(self.share)

    @property
    def panels(self) -> int:
        """How many panels."""
        return self.rows * self.strips

    def node_x(self) -> Array:
        """X of the bound vortices' ends, shape (rows, m + 1) [m]."""
        fraction = (np.arange(self.rows) + 0.25) / self.rows
        return np.asarray(self.edge[:, 0] + fraction[:, None] * self.chord)

    def middle(self) -> Array:
        """Leading edge at each strip's control points, shape (m, 3) [m]."""
        return np.asarray(self.edge[:-1] + self.share[:, None] * np.diff(self.edge, axis=0))

    def middle_chord(self) -> Array:
        """Chord there, shape (m,) [m]."""
        return np.asarray(self.chord[:-1] + self.share * np.diff(self.chord))

    def control_x(self) -> Array:
        """X of the control points, shape (rows, m) [m]."""
        fraction = (np.arange(self.rows) + 0.75) / self.rows
        return np.asarray(self.middle()[:, 0] + fraction[:, None] * self.middle_chord())

    def angle(self) -> Array:
        """Direction of each strip from the horizontal, shape (m,) [rad]."""
        step = np.diff(self.edge, axis=0)
        return np.arctan2(step[:, 2], step[:, 1])

    def width(self) -> Array:
        """Width of each strip along the surface, shape (m,) [m]."""
        return np.asarray(np.hypot(*np.diff(self.edge[:, 1:], axis=0).T))


class Coincident(ValueError):
    """A vortex passes through a control point."""

    def __init__(self, control: str, vortex: str) -> None:
        super().__init__(f"a vortex of {vortex} passes through a control point of {control}")
        self.control = control
        self.vortex = vortex


def cosine(low: float, high: float, count: int) -> tuple[Array, Array]:
    """Edges of strips, closer together toward both ends, and where the mid-angle cuts each strip.

    Returns edges, shape (count + 1,), and shares, shape (count,).
    """
    theta = np.linspace(0.0, np.pi, count + 1)
    at = 0.5 * (1.0 - np.cos(theta))
    half = theta[:-1] + 0.5 * np.pi / count
    middle = 0.5 * (1.0 - np.cos(half))
    return low + at * (high - low), (middle - at[:-1]) / np.diff(at)


def equal(low: float, high: float, count: int) -> tuple[Array, Array]:
    """Edges of equal strips, and their middles."""
    return np.linspace(low, high, count + 1), np.full(count, 0.5)


def _strip_terms(row: Chain, source: Chain, image: float) -> tuple[Array, Array, Array, Array]:
    """Between control strips and vortex edges, seen along x, each (m_row, m_source + 1).

    Returns the sideways part of the normalwash (dy nz - dz ny), the squared distance,
    and dy and dz.
    """
    theta = row.angle()
    here = row.middle()
    dy = here[:, 1, None] - image * source.edge[:, 1]
    dz = here[:, 2, None] - source.edge[:, 2]
    turn = dy * np.cos(theta)[:, None] + dz * np.sin(theta)[:, None]
    return turn, dy * dy + dz * dz, dy, dz


def _block(row: Chain, source: Chain, images: tuple[float, ...]) -> Array:
    """Normalwash at the row chain's control points of unit circulations on the source chain.

    images : 1.0 for the chain itself, -1.0 for its mirror image
    Shape (row.rows, row.strips, source.rows, source.strips).
    """
    out = np.zeros((row.rows, row.strips, source.rows, source.strips))
    node, control = source.node_x(), row.control_x()
    for image in images:
        turn, apart, dy, dz = _strip_terms(row, source, image)
        least = (TOUCH * source.width().max()) ** 2
        touching = apart < least
        if touching.any():
            _refuse_touching(row, source, touching)
        leg = turn / np.maximum(apart, least)
        between = dy[:, :-1] * dy[:, 1:] + dz[:, :-1] * dz[:, 1:]
        turn1, turn2 = turn[:, None, :-1], turn[:, None, 1:]
        for c in range(row.rows):
            dx = control[c][:, None, None] - node  # (m_row, rows, m_source + 1)
            r = np.sqrt(dx * dx + apart[:, None, :])
            trail = (1.0 + dx / r) * leg[:, None, :]
            dx1, dx2, r1, r2 = dx[..., :-1], dx[..., 1:], r[..., :-1], r[..., 1:]
            both = r1 * r2
            bound = (dx1 * turn2 - dx2 * turn1) * (r1 + r2)
            bound /= both * (both + dx1 * dx2 + between[:, None, :])
            bound += trail[..., 1:]
            bound -= trail[..., :-1]
            out[c] += image * bound
    return out / (4.0 * np.pi)


def _refuse_touching(row: Chain, source: Chain, touching: Array) -> None:
    strips, edges = np.nonzero(touching)
    node, control = source.node_x(), row.control_x()
    for strip, edge in zip(strips, edges, strict=True):
        if (control[:, strip].max() > node[:, edge].min()).any():
            raise Coincident(row.name, source.name)


def influence(chains: tuple[Chain, ...], *, mirrored: bool = True) -> Array:
    """Normalwash at every control point of a unit circulation on every panel, shape (n, n).

    mirrored : the chains are half of a symmetric aircraft; else all of it, each chain with its
        strips from left to right

    Panels are numbered chain by chain, in each row by row from the leading edge, in each row
    strip by strip outward. Raises Coincident where a vortex passes through a control point.
    """
    images = (1.0, -1.0) if mirrored else (1.0,)
    count = [chain.panels for chain in chains]
    start = np.concatenate([[0], np.cumsum(count)])
    out = np.empty((start[-1], start[-1]))
    for i, row in enumerate(chains):
        for j, source in enumerate(chains):
            block = _block(row, source, images).reshape(row.panels, source.panels)
            out[start[i] : start[i + 1], start[j] : start[j + 1]] = block
    return out


def by_strip(chains: tuple[Chain, ...], circulation: Array) -> Array:
    """Circulation summed over the chord, strip by strip, shape (strips, ...)."""
    out, start = [], 0
    for chain in chains:
        part = circulation[start : start + chain.panels]
        out.append(part.reshape(chain.rows, chain.strips, *circulation.shape[1:]).sum(axis=0))
        start += chain.panels
    return np.concatenate(out)


@dataclass(frozen=True, eq=False)
class Weights:
    """What unit circulations on the panels give, for the half model; each shape (n,).

    lift, side : force along z and y of both-sided speed and density one, half of the aircraft [m]
    pitch : moment of the lift about the y axis through the origin, nose up positive [m2]
    bend : moment of lift and side force on the half about a line along x [m2]
    """

    lift: Array
    side: Array
    pitch: Array
    bend: Array


def weights(chains: tuple[Chain, ...], about: tuple[float, float] = (0.0, 0.0)) -> Weights:
    """Forces and moments of unit circulations: the bound vortex at its middle.

    about : y and z of the line that `bend` is taken about [m]
    """
    lift, side, pitch, bend = [], [], [], []
    for chain in chains:
        step = np.diff(chain.edge, axis=0)
        node = chain.node_x()
        x = 0.5 * (node[:, :-1] + node[:, 1:])
        y = 0.5 * (chain.edge[:-1, 1] + chain.edge[1:, 1])
        z = 0.5 * (chain.edge[:-1, 2] + chain.edge[1:, 2])
        up = np.broadcast_to(step[:, 1], x.shape)
        out = np.broadcast_to(-step[:, 2], x.shape)
        lift.append(up.ravel())
        side.append(out.ravel())
        pitch.append((-x * up).ravel())
        bend.append(((y - about[0]) * up - (z - about[1]) * out).ravel())
    return Weights(*(np.concatenate(part) for part in (lift, side, pitch, bend)))
