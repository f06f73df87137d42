"""The line that a part turns about."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planform.core.frames import about_line

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Hinge:
    """The line that a part turns about, as the part is built; angles are counted from there.

    origin, axis : shape (3,), a point of the line [m] and its direction, aircraft axes; a positive
        angle is by the right-hand rule about it
    least, most : how far it turns [rad]
    stop : how far it is turned where a stage or stance only names it [rad]
    free : it moves by itself between its limits, wherever no stance holds it
    rim : the points of the part at its edge away from the line, by their number
    """

    origin: Array
    axis: Array
    least: float
    most: float
    stop: float
    free: bool = False
    rim: tuple[int, ...] = ()

    def mirrored(self) -> Hinge:
        """The hinge of the part's mirror image: the same angle is the mirror image of the turn."""
        return replace(
            self,
            origin=self.origin * np.array([1.0, -1.0, 1.0]),
            axis=self.axis * np.array([-1.0, 1.0, -1.0]),
        )

    def at(self, angle: float) -> tuple[Array, Array]:
        """Rotation (3, 3) and shift (3,) of the part turned by an angle [rad]."""
        return about_line(self.origin, self.axis, angle)
