"""Wheel track and wheel base of the aircraft as it stands."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.stance import Standing, touching
from planform.design.parking import main_axle

Array = NDArray[np.float64]

TRACK, BASE = "wheel_track", "wheel_base"


@dataclass(frozen=True, eq=False)
class WheelLine:
    """A distance along the floor between wheels, from a point to a point, shape (3,) [m].

    axis : along which axis of the floor it is counted: 0 aft, 1 to the right
    """

    key: str
    label: str
    start: Array
    end: Array
    axis: int

    @property
    def length(self) -> float:
        """How far they stand apart [m]."""
        return abs(float(self.end[self.axis] - self.start[self.axis]))


def wheel_lines(standing: Standing) -> tuple[WheelLine, ...]:
    """Track of the main axle, and from its middle to the single wheel farthest off.

    Only of wheels that stand on the floor; each where it touches, under its axle.
    """
    axle = main_axle(standing.airframe.design)
    feet = {
        contact.name: standing.to_floor(np.array([contact.point]))[0]
        for contact in touching(standing)
        if contact.radius > 0.0
    }
    if axle is None or not set(axle) <= feet.keys():
        return ()
    left, right = (feet.pop(name) for name in axle)
    names = [name.partition(" ")[2] or name for name in axle]
    called = names[0] if names[0] == names[1] else " and ".join(axle)
    out = [WheelLine(TRACK, f"wheel track, {called}", left, right, 1)]
    if feet:
        middle = 0.5 * (left + right)
        name, far = max(feet.items(), key=lambda one: (abs(one[1][0] - middle[0]), one[0]))
        out.append(WheelLine(BASE, f"wheel base, {name} to {called}", middle, far, 0))
    return tuple(out)
