"""Wheels as solids, with their legs, fairings and brakes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.builders.made import Made, sided
from planform.airframe.hinge import Hinge
from planform.airframe.part import Part
from planform.airframe.surfaces import sides
from planform.core.shape import hulls, loft
from planform.core.shape.hulls import Columns
from planform.design.gear import Brake, Fairing, Leg, Wheel, retracting
from planform.design.hinges import at

Array = NDArray[np.float64]

FAIRING = ((0.0, 0.6), (0.15, 1.0), (0.55, 1.0), (1.0, 0.2))
"""Share of a fairing's length, and of its full section there."""
SMOOTH = 3.0
"""Exponent of the superellipse that a fairing's section is; assumption."""


def build_wheel(name: str, wheel: Wheel) -> Made:
    """A wheel with what belongs to it, or one on each side."""
    axle = np.array([float(wheel.fs), float(wheel.bl), float(wheel.wl)])
    half = np.array([0.0, 0.5 * float(wheel.width), 0.0])
    mesh = loft.cylinder(axle - half, axle + half, 0.5 * float(wheel.diameter))
    out = [
        replace(part, hinge=_hinge(wheel, sign))
        for part, sign in zip(
            sided(name, wheel.side, "wheel", mesh), sides(wheel.side), strict=True
        )
    ]
    if wheel.leg is not None:
        out += _belonging(name, wheel, "leg", _leg(axle, wheel.leg))
    if wheel.brake is not None:
        out += _belonging(name, wheel, "brake", _brake(axle, wheel.brake))
    if wheel.fairing is not None:
        fairing = _belonging(name, wheel, "fairing", _fairing(axle, wheel.fairing))
        out += [replace(part, group=f"{name} fairing") for part in fairing]
    return Made(tuple(out))


def _hinge(wheel: Wheel, sign: int) -> Hinge | None:
    """The hinge of retraction on a side; what stands on the wheel turns along."""
    if wheel.retraction is None:
        return None
    start, end = at(wheel.retraction.hinge_from), at(wheel.retraction.hinge_to)
    least, most = retracting(wheel)
    axis = (end - start) / np.linalg.norm(end - start)
    hinge = Hinge(start, axis, least, most, float(wheel.retraction.angle))
    return hinge if sign > 0 else hinge.mirrored()


def _belonging(name: str, wheel: Wheel, role: str, mesh: loft.Mesh) -> list[Part]:
    """What stands on a wheel, named after it."""
    return [
        replace(part, name=f"{part.name} {role}", hosts=(part.group, part.name))
        for part in sided(name, wheel.side, role, mesh)
    ]


def _leg(axle: Array, leg: Leg) -> loft.Mesh:
    return loft.cylinder(axle, at(leg.top), 0.5 * float(leg.thickness), sides=12)


def _brake(axle: Array, brake: Brake) -> loft.Mesh:
    middle = np.array([axle[0], float(brake.bl), axle[2]])
    half = np.array([0.0, 0.5 * float(brake.width), 0.0])
    return loft.cylinder(middle - half, middle + half, 0.5 * float(brake.diameter))


def fairing_columns(fairing: Fairing) -> Columns:
    """A fairing's sections, smaller toward its ends."""
    along, share = np.array(FAIRING).T
    middle = 0.5 * (float(fairing.top) + float(fairing.bottom))
    half = 0.5 * (float(fairing.top) - float(fairing.bottom)) * share
    return Columns(
        float(fairing.fs) + float(fairing.length) * along,
        0.5 * float(fairing.width) * share,
        middle - half,
        middle + half,
        np.full(len(share), SMOOTH),
    )


def _fairing(axle: Array, fairing: Fairing) -> loft.Mesh:
    """A body about the wheel's own plane."""
    return hulls.body(fairing_columns(fairing), float(axle[1]))
