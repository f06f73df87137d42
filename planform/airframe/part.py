"""One part of the airframe: a closed solid."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from trimesh import Trimesh

from planform.airframe.hinge import Hinge
from planform.core.vectors import cross

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Part:
    """One closed solid of the aircraft.

    points : (n, 3) [m] in aircraft axes; faces : (m, 3), outward
    bulge : how far the true shape may stand outside the facets [m]
    caps : how many of the last faces close the ends of a lofted surface
    hosts : names and groups of the parts that it stands on, and of what those stand on; the
        nearest last
    hinge : the line that it turns about, and how far; None where it does not
    within : names of the parts whose solids together hold all of it, as far as that is proved
    """

    name: str
    group: str
    role: str
    points: Array
    faces: NDArray[np.int64]
    bulge: float = 0.0
    caps: int = 0
    hosts: tuple[str, ...] = ()
    hinge: Hinge | None = None
    within: tuple[str, ...] = ()

    def skin(self) -> float:
        """Area of a lofted part without its flat end caps [m2]."""
        corners = self.points[self.faces[: len(self.faces) - self.caps]]
        square = cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        return float(0.5 * np.linalg.norm(square, axis=1).sum())

    def trimesh(self) -> Trimesh:
        """The part as a trimesh.Trimesh."""
        import trimesh

        return trimesh.Trimesh(self.points, self.faces, process=False)
