"""The propeller as a solid."""

from __future__ import annotations

import numpy as np

from planform.airframe.builders.made import Made
from planform.airframe.part import Part
from planform.core.shape import loft
from planform.design.propellers import Propeller


def build_propeller(name: str, propeller: Propeller) -> Made:
    """The disc that a propeller sweeps."""
    centre = np.array([float(propeller.disc_fs), float(propeller.bl), float(propeller.wl)])
    half = np.array([0.5 * float(propeller.depth), 0.0, 0.0])
    mesh = loft.cylinder(centre - half, centre + half, 0.5 * float(propeller.diameter))
    return Made((Part(name, name, "propeller", *mesh),))
