"""Wheels and their legs as solids."""

from __future__ import annotations

import numpy as np

from planform.airframe.builders.made import Made, sided
from planform.airframe.part import Part
from planform.core.shape import loft
from planform.design.gear import Wheel
from planform.design.hinges import at


def build_wheel(name: str, wheel: Wheel) -> Made:
    """A wheel and its leg, or one on each side."""
    axle = np.array([float(wheel.fs), float(wheel.bl), float(wheel.wl)])
    half = np.array([0.0, 0.5 * float(wheel.width), 0.0])
    mesh = loft.cylinder(axle - half, axle + half, 0.5 * float(wheel.diameter))
    out = sided(name, wheel.side, "wheel", mesh)
    if wheel.leg is not None:
        leg = loft.cylinder(axle, at(wheel.leg.top), 0.5 * float(wheel.leg.thickness), sides=12)
        out += [
            Part(part.name + " leg", part.group, "leg", part.points, part.faces)
            for part in sided(name, wheel.side, "leg", leg)
        ]
    return Made(tuple(out))
