"""The propeller as a solid: its disc, or its blades as they are parked."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.airframe.builders.made import Made
from planform.airframe.hinge import Hinge
from planform.airframe.part import Part
from planform.core.shape import loft
from planform.core.shape.blades import front_view, plate_about_shaft
from planform.design.propellers import Propeller

Array = NDArray[np.float64]


def shaft_of(propeller: Propeller) -> Array:
    """The middle of the disc, shape (3,) [m]."""
    return np.array([float(propeller.disc_fs), float(propeller.bl), float(propeller.wl)])


def disc(propeller: Propeller) -> loft.Mesh:
    """The space that a propeller sweeps as it turns."""
    centre = shaft_of(propeller)
    half = np.array([0.5 * float(propeller.depth), 0.0, 0.0])
    return loft.cylinder(centre - half, centre + half, 0.5 * float(propeller.diameter))


def build_propeller(name: str, propeller: Propeller) -> Made:
    """The disc that a propeller sweeps, or its blades where the file gives them.

    Blades are one plate as thick as the propeller is deep, with the front view of `front_view`.
    """
    if propeller.blades is None:
        return Made((Part(name, name, "propeller", *disc(propeller)),))
    assert propeller.chord is not None
    outline = front_view(
        propeller.blades,
        0.5 * float(propeller.diameter),
        0.5 * float(propeller.chord),
        0.5 * float(propeller.tip_chord or propeller.chord),
        0.5 * float(propeller.hub_diameter or 0.0),
    )
    centre = shaft_of(propeller)
    rings = plate_about_shaft(
        outline, centre, float(propeller.depth), float(propeller.parked_angle)
    )
    hinge = Hinge(centre, np.array([-1.0, 0.0, 0.0]), -2.0 * np.pi, 2.0 * np.pi, 0.0)
    return Made((Part(name, name, "propeller", *loft.star(rings), hinge=hinge),))
