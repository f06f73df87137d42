"""Where a thing that stands on a part meets that part's skin."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part
from planform.core.shape.skin import outermost

Array = NDArray[np.float64]


def nearest_host(hosts: Sequence[Part], point: Array, sign: int) -> Part:
    """The part whose box is nearest to a point, shape (3,) [m]; of a left one (-1) mirrored."""
    mirror = np.array([1.0, float(sign), 1.0])
    return min(hosts, key=lambda part: _off(part.points * mirror, point))


def on_skin(
    hosts: Sequence[Part], point: Array, axis: int, sense: float, sign: int
) -> tuple[Array, Part] | None:
    """The outermost skin that a line along an axis meets, shape (3,) [m], and whose it is.

    None where it meets none.

    point : shape (3,), a point of the line [m]; its own `axis` says nothing
    sense : 1 where the way out is up the axis, -1 where it is down
    sign : of a left one (-1) the parts count mirrored
    """
    mirror = np.array([1.0, float(sign), 1.0])
    found = [
        (sense * at, k)
        for k, part in enumerate(hosts)
        if (at := outermost((part.points * mirror)[part.faces], point, axis, sense)) is not None
    ]
    if not found:
        return None
    far, k = max(found)
    met = point.copy()
    met[axis] = sense * far
    return met, hosts[k]


def _off(points: Array, point: Array) -> float:
    """How far a point is outside the box round others [m]."""
    beyond = np.maximum(points.min(axis=0) - point, point - points.max(axis=0))
    return float(np.linalg.norm(np.maximum(beyond, 0.0)))
