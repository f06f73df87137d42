"""Frames and the rotations between them.

Aircraft axes ("body"): x = station aft, y = butt line right, z = waterline up; right-handed.
Floor axes: the same directions with the aircraft standing: z is height over the floor.
Place axes: X along the front wall to the right, Y away from the front wall, Z up.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def body2floor(pitch: float, roll: float) -> Array:
    """Rotation matrix, shape (3, 3), from aircraft axes to floor axes.

    pitch : nose up positive [rad]
    roll : right wing down positive [rad], applied first
    """
    ct, st, cr, sr = np.cos(pitch), np.sin(pitch), np.cos(roll), np.sin(roll)
    nose_up = np.array([[ct, 0.0, st], [0.0, 1.0, 0.0], [-st, 0.0, ct]])
    right_down = np.array([[1.0, 0.0, 0.0], [0.0, cr, sr], [0.0, -sr, cr]])
    return np.asarray(nose_up @ right_down)


def floor2place(heading: float) -> Array:
    """Rotation matrix, shape (3, 3), from floor axes to place axes.

    heading : the way the nose points, from +Y, clockwise seen from above [rad]
    """
    c, s = np.cos(heading), np.sin(heading)
    return np.array([[-s, c, 0.0], [-c, -s, 0.0], [0.0, 0.0, 1.0]])


def about_line(point: Array, direction: Array, angle: float) -> tuple[Array, Array]:
    """Rotation (3, 3) and shift (3,) that turn space about a line by the right-hand rule.

    point, direction : array, shape (3,)   a point of the line [m], its direction (any length)
    angle : [rad]
    """
    x, y, z = direction / np.linalg.norm(direction)
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    turn = np.eye(3) + np.sin(angle) * cross + (1.0 - np.cos(angle)) * (cross @ cross)
    return turn, point - turn @ point
