"""Induced drag far behind: the energy of the wake, and the loading that needs the least of it.

Seen along x, the wake of the right half is a set of lines with their mirror images. The
circulation is taken to run straight from one strip's control point to the next, so every strip
edge sheds an even sheet; toward a free tip it falls with the square root of the distance. The
energy of sheets is finite, and with it
    drag of both halves = g . Q g        (unit density and speed, circulations g in m)
where Q, symmetric, is the double integral of -ln(distance) / 2 pi over all pairs of sheets less
those of the images: the kinetic energy of the flow far behind (Munk, NACA Report 121, 1921).
The inner integral is a closed form, the outer one a sum over points crowded toward the ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planform.core.flow.lattice import Chain

Array = NDArray[np.float64]

TIP_PIECES = 6
"""Even pieces by which a free tip's falling circulation is followed."""
OUTER_POINTS = 8
"""Points of the outer integral on each piece."""
FAR = 3.0
"""Half sizes of two sheets, summed, beyond which they count by their moments."""
SAME = 1e-6
"""Share of a chord by which two ends may miss each other and still be joined."""


class _Sheets:
    """Straight even pieces of wake, each belonging to a strip edge (a node)."""

    def __init__(self) -> None:
        self.start: list[Array] = []
        self.end: list[Array] = []
        self.node: list[int] = []
        self.share: list[float] = []

    def add(self, start: Array, end: Array, node: int, share: float) -> None:
        self.start.append(start)
        self.end.append(end)
        self.node.append(node)
        self.share.append(share)


def _ends(chains: tuple[Chain, ...]) -> dict[tuple[int, int], int]:
    """A joint number for every chain end that touches another's; end 0 is inner, -1 outer."""
    spots: list[tuple[int, int, Array, float, float]] = []
    for k, chain in enumerate(chains):
        for end in (0, -1):
            x, chord = float(chain.edge[end, 0]), float(chain.chord[end])
            spots.append((k, end, chain.edge[end, 1:], x, x + chord))
    joints: dict[tuple[int, int], int] = {}
    for i, (k, end, at, low, high) in enumerate(spots):
        for other, there, where, low2, high2 in spots[:i]:
            near = np.abs(at - where).max() < SAME * (high - low)
            if other != k and near and low < high2 and low2 < high:
                number = joints.setdefault((other, there), 1000 * other - there)
                joints[(k, end)] = number
    return joints


def _sheets(chains: tuple[Chain, ...]) -> tuple[_Sheets, Array]:
    """The pieces of the wake, and the matrix from strip circulations to node strengths."""
    sheets = _Sheets()
    joints = _ends(chains)
    strips = sum(chain.strips for chain in chains)
    columns: list[Array] = []
    joined: dict[int, int] = {}
    halves: dict[int, list[tuple[Array, Array]]] = {}
    first = 0
    for k, chain in enumerate(chains):
        middle, edge, m = chain.middle()[:, 1:], chain.edge[:, 1:], chain.strips
        for j in range(m + 1):
            strength = _shed(strips, first, j, m)
            end = 0 if j == 0 else -1 if j == m else None
            if end == 0 and abs(edge[0, 0]) < SAME * chain.chord[0]:
                continue  # on the plane of symmetry nothing is shed
            node = len(columns)
            if end is None:
                columns.append(strength)
                halves[node] = [(middle[j - 1], edge[j]), (edge[j], middle[j])]
            elif (k, end) in joints:
                node = joined.setdefault(joints[(k, end)], node)
                if node == len(columns):
                    columns.append(np.zeros(strips))
                    halves[node] = []
                columns[node] = columns[node] + strength
                halves[node].append((middle[end], edge[j]))
            else:
                columns.append(strength)
                _roll_off(sheets, edge[j], middle[end], node)
        first += chain.strips
    for node, parts in halves.items():
        lengths = [float(np.hypot(*(b - a))) for a, b in parts]
        for (a, b), length in zip(parts, lengths, strict=True):
            sheets.add(a, b, node, length / sum(lengths))
    return sheets, np.array(columns)


def _shed(strips: int, first: int, j: int, count: int) -> Array:
    """What is shed at edge j of a chain: the step of circulation from strip to strip."""
    strength = np.zeros(strips)
    if j > 0:
        strength[first + j - 1] = 1.0
    if j < count:
        strength[first + j] = -1.0
    return strength


def _roll_off(sheets: _Sheets, tip: Array, inner: Array, node: int) -> None:
    """Pieces of equal strength at a free end: as the square root of the distance from the tip."""
    at = np.linspace(0.0, 1.0, TIP_PIECES + 1)
    for a, b in pairwise(tip + (at * at)[:, None] * (inner - tip)):
        sheets.add(a, b, node, 1.0 / TIP_PIECES)


def _mean_log(at: Array, start: Array, end: Array) -> Array:
    """Mean of ln(distance) from points, shape (s, p, 2), each over its segment (s, 2): (s, p)."""
    along = end - start
    length = np.hypot(along[:, 0], along[:, 1])[:, None]
    unit = along / length
    dy = at[..., 0] - start[:, None, 0]
    dz = at[..., 1] - start[:, None, 1]
    u1 = dy * unit[:, None, 0] + dz * unit[:, None, 1]
    v = dy * unit[:, None, 1] - dz * unit[:, None, 0]
    u2 = u1 - length
    tiny = 1e-300
    r1 = np.log(np.maximum(u1 * u1 + v * v, tiny))
    r2 = np.log(np.maximum(u2 * u2 + v * v, tiny))
    turn = np.arctan2(u1, v) - np.arctan2(u2, v)
    turn = (turn + np.pi) % (2.0 * np.pi) - np.pi
    return np.asarray((0.5 * (u1 * r1 - u2 * r2) + v * turn) / length - 1.0)


def _outer() -> tuple[Array, Array]:
    """Points between 0 and 1 crowded toward both ends, and their weights."""
    node, weight = np.polynomial.legendre.leggauss(OUTER_POINTS)
    share = 0.5 * (node + 1.0)
    at = share * share * (3.0 - 2.0 * share)
    return at, 0.5 * weight * 6.0 * share * (1.0 - share)


def energy(chains: tuple[Chain, ...]) -> Array:
    """The matrix Q, shape (strips, strips) [dimensionless]; strips chain by chain, outward.

    Sheets far apart count by their centres and second moments (the logarithm is harmonic, so the
    next term is of the fourth order); the others by the integrals.
    """
    sheets, strength = _sheets(chains)
    start, end = np.array(sheets.start), np.array(sheets.end)
    node, share = np.array(sheets.node), np.array(sheets.share)
    count = len(strength)

    def gathered(values: Array) -> Array:
        return np.asarray(np.bincount(node, share * values, count), float)

    along = (end - start) @ np.array([1.0, 1.0j])
    middle = 0.5 * (start + end) @ np.array([1.0, 1.0j])
    centre = gathered(middle.real) + 1.0j * gathered(middle.imag)
    second = (middle - centre[node]) ** 2 + along**2 / 12.0
    moment = gathered(second.real) + 1.0j * gathered(second.imag)
    size = np.zeros(count)
    np.maximum.at(size, node, np.abs(middle - centre[node]) + 0.5 * np.abs(along))
    whole = np.zeros((count, count))
    for image in (1.0, -1.0):
        there = centre if image > 0.0 else -centre.conj()
        spread = moment if image > 0.0 else moment.conj()
        apart = centre[:, None] - there
        near = np.abs(apart) < FAR * (size[:, None] + size)
        safe = np.where(near, 1.0, apart)
        log = np.log(np.abs(safe)) - 0.5 * ((moment[:, None] + spread) / (safe * safe)).real
        log[near] = _near(start, end, node, share, near, image)
        whole += image * log
    out = -(strength.T @ whole @ strength) / (2.0 * np.pi)
    return np.asarray(0.5 * (out + out.T))


def _near(
    start: Array,
    end: Array,
    node: NDArray[np.int64],
    share: Array,
    near: NDArray[np.bool_],
    image: float,
) -> Array:
    """Mean ln(distance) between the sheets of every near pair of nodes, in the mask's order."""
    one, two = np.nonzero(near[node][:, node])
    at, weight = _outer()
    mirror = np.array([image, 1.0])
    points = start[one, None] + at[:, None] * (end - start)[one, None]
    log = _mean_log(points, (start * mirror)[two], (end * mirror)[two]) @ weight
    sums = np.zeros(near.shape)
    np.add.at(sums, (node[one], node[two]), share[one] * share[two] * log)
    return np.asarray(sums[near])


def lift_row(chains: tuple[Chain, ...]) -> Array:
    """Lift of both halves per unit circulation of each strip, shape (strips,) [m]."""
    return np.concatenate([2.0 * np.diff(chain.edge[:, 1]) for chain in chains])


def bending_row(chains: tuple[Chain, ...], about: tuple[float, float] = (0.0, 0.0)) -> Array:
    """Moment of one half about a line along x per unit circulation, shape (strips,) [m2].

    about : y and z of the line [m]
    """
    rows = []
    for chain in chains:
        step = np.diff(chain.edge, axis=0)
        middle = 0.5 * (chain.edge[:-1] + chain.edge[1:])
        arm = middle[:, 1:] - np.array(about)
        rows.append((arm * step[:, 1:]).sum(axis=1))
    return np.concatenate(rows)


def least_drag(q: Array, rows: Sequence[Array], wanted: Sequence[float]) -> Array:
    """The circulations of least drag that meet linear conditions, shape (strips,) [m].

    q : (strips, strips)     from `energy`
    rows, wanted : each row . g = its wanted value; one of them the lift
    A ring of strips may carry any constant circulation at no cost; the smallest is given.
    """
    conditions = np.array(rows)
    k = len(conditions)
    system = np.block([[2.0 * q, conditions.T], [conditions, np.zeros((k, k))]])
    right = np.concatenate([np.zeros(len(q)), np.asarray(wanted, float)])
    return np.asarray(np.linalg.lstsq(system, right, rcond=1e-12)[0][: len(q)])


def span_efficiency(lift: float, drag: float, span: float) -> float:
    """E of CDi = CL^2 S / (pi b^2 e); lift and drag at unit density and speed [m2], span [m]."""
    # CL S = 2 lift, CDi S = 2 drag: 2 drag = (2 lift)^2 / (pi span^2 e)
    return 2.0 * lift * lift / (np.pi * span * span * drag)
