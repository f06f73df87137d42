"""Directions to look in, by name, and the one along the flat of a part.

A frame has three rows, unit vectors in the axes of the floor (aft, right, up): the picture's
right, its up, and toward the eye. The eye of a three-quarter view stands ahead, to the left and
above, so that along each of the three axes a length is drawn to one scale (isometric view,
ISO 5456-3).
"""

from __future__ import annotations

from typing import Literal, get_args

import numpy as np

from planform.airframe.part import Part
from planform.drawing.lines.united import Array

FrameName = Literal["above", "below", "ahead", "behind", "left", "right", "three-quarter"]

AFT, RIGHT, UP = np.eye(3)


def looking(toward: Array, up: Array) -> Array:
    """The frame of an eye in this direction, with `up` as near upward in the picture as it can be.

    toward, up : (3,), not along one line; ValueError where they are
    """
    eye = np.asarray(toward, float) / np.linalg.norm(toward)
    right = np.cross(up, eye)
    if not np.linalg.norm(right) > 1e-9 * np.linalg.norm(up):
        raise ValueError("up lies along the line of sight; give another direction")
    right = right / np.linalg.norm(right)
    frame = np.array([right, np.cross(eye, right), eye])
    return np.asarray(np.where(np.abs(frame) < 1e-15, 0.0, frame))


FRAMES: dict[FrameName, Array] = {
    "above": looking(UP, AFT),
    "below": looking(-UP, AFT),
    "ahead": looking(-AFT, UP),
    "behind": looking(AFT, UP),
    "left": looking(-RIGHT, UP),
    "right": looking(RIGHT, UP),
    "three-quarter": looking(-AFT - RIGHT + UP, UP),
}
"""From above and below the nose points down the page, so that a plan stands under a front view."""

assert set(FRAMES) == set(get_args(FrameName))


def flat_frame(part: Part) -> Array:
    """The frame of an eye that looks at a part's flat side, seen in its true size.

    The normal is that of the plane which the part's skin keeps to most: the direction along which
    its facets, by their areas, look most. The eye is outboard, or above where it has no side.
    """
    corners = part.points[part.faces]
    area = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(area, axis=1)
    size = np.where(size > 0.0, size, 1.0)
    _, axes = np.linalg.eigh((area / size[:, None]).T @ area)
    normal = axes[:, 2]
    outboard = float(part.points[:, 1].mean())
    sided = abs(normal[1]) > 0.1 and abs(outboard) > 1e-6
    toward = normal[1] * outboard if sided else normal[2]
    normal = normal if toward >= 0.0 else -normal
    return looking(normal, UP if abs(normal[2]) < 0.9 else AFT)
