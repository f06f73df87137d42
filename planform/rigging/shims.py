"""Shims under a part at its bolts: how thick for a turn, and the turn that none can take.

A turn is a right-hand vector w [rad]. A bolt at r from the middle of the bolts moves by w x r; a
shim takes what of that lies along the face's normal n, so it is n . (w x r) thicker there. The
shims of a turn lie in one plane: at the corners of a rectangle the thicknesses of opposite corners
have equal sums.
"""

from __future__ import annotations

import numpy as np

from planform.core.vectors import Array, cross


def thicknesses(bolts: Array, normal: Array, turn: Array) -> Array:
    """How much thicker a shim is at each bolt than in their middle, shape (n,) [m].

    bolts : (n, 3) [m] ; normal : (3,) unit, from the host to the part ; turn : (3,) [rad]
    """
    arm = bolts - bolts.mean(axis=0)
    return np.asarray(cross(np.broadcast_to(turn, arm.shape), arm) @ normal)


def unshimmed(turn: Array, normal: Array) -> float:
    """The part of a turn about the face's own normal, which no shim takes [rad]."""
    return float(turn @ normal)


def holes_move(bolts: Array, normal: Array, turn: Array) -> float:
    """How far the holes at the bolts would have to move for that part of a turn, at most [m]."""
    arm = bolts - bolts.mean(axis=0)
    flat = arm - np.outer(arm @ normal, normal)
    return abs(unshimmed(turn, normal)) * float(np.linalg.norm(flat, axis=1).max(initial=0.0))


LEVER = 0.005
"""Bolts nearer than this to one line are in a row, which takes no turn about itself [m];
assumption."""


def can_take(bolts: Array, normal: Array, turn: Array) -> bool:
    """Whether shims at the bolts can take what of a turn is not about the face's own normal.

    One bolt takes none, and bolts in a row none about an axis that leans to the row.
    """
    axis = turn - normal * (turn @ normal)
    size = float(np.linalg.norm(axis))
    if size < 1e-9:
        return True
    arm = bolts - bolts.mean(axis=0)
    flat = arm - np.outer(arm @ normal, normal)
    _, spread, ways = np.linalg.svd(flat, full_matrices=True)
    spread = np.append(spread, np.zeros(3))
    if spread[0] < LEVER:
        return False
    return bool(spread[1] >= LEVER or abs(float(axis @ ways[0])) < 0.05 * size)
