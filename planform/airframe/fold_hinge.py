"""The hinge of a joint that folds."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.airframe.hinge import Hinge
from planform.airframe.surfaces import Half, normals
from planform.core.vectors import cross
from planform.design.folds import Fold
from planform.design.hinges import DIRECTIONS, at
from planform.design.problems import InputError, Problem

Array = NDArray[np.float64]

WAYS = DIRECTIONS | {"outboard": DIRECTIONS["right"], "inboard": DIRECTIONS["left"]}
"""The ways that a tip may go, on the right side."""

LEAST_TURN = 0.02
"""The share of the tip's way that must be the way it is said to go; assumption."""


def fold_hinge(half: Half, cut: int, fold: Fold) -> Hinge:
    """The hinge at a cut of a surface, on its own side; a positive angle folds.

    Raises InputError where the tip cannot go the way that the file says.
    """
    edge, aft, up = chord_line(half, cut)
    path = f"lifting.{half.group}.cuts[{cut + 1}].fold"
    start, end = edge + float(fold.above) * up, aft + float(fold.above) * up
    if fold.hinge_from is not None and fold.hinge_to is not None:
        start, end = at(fold.hinge_from), at(fold.hinge_to)
    length = float(np.linalg.norm(end - start))
    if not length > 0.0:
        allowed = "allowed: points apart from one another"
        raise InputError("design", [Problem(f"{path}.hinge_to", "hinge_from again", allowed)])
    axis = (end - start) / length
    tip = half.leading_edge[-1] + np.array([0.5 * half.chord[-1], 0.0, 0.0])
    way = cross(axis, tip - start)
    along = float(way @ np.array(WAYS[fold.goes]))
    if abs(along) <= LEAST_TURN * float(np.linalg.norm(way)):
        allowed = "about this hinge the tip goes another way; allowed: a way across hinge and panel"
        raise InputError("design", [Problem(f"{path}.goes", repr(fold.goes), allowed)])
    hinge = Hinge(start, axis * np.sign(along), 0.0, float(fold.angle), float(fold.angle))
    return hinge.mirrored() if half.side < 0 else hinge


def chord_line(half: Half, cut: int) -> tuple[Array, Array, Array]:
    """Leading edge, trailing edge and upward direction of a cut on the right side, (3,) [m]."""
    normal = normals(half.angle, upright_root=False)[cut]
    up = normal / np.linalg.norm(normal)
    c, s = np.cos(half.incidence[cut]), np.sin(half.incidence[cut])
    along = c * np.array([1.0, 0.0, 0.0]) - s * normal
    edge = half.leading_edge[cut]
    return edge, edge + half.chord[cut] * along, up
