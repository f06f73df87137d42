"""Wheels and what belongs to them in the state of a stance: struts, flat tyres, pressed tyres."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part
from planform.airframe.settling import Settled
from planform.core.shape.cut import above
from planform.design.kinds import contact_names, expand
from planform.design.models import Design, Stance
from planform.design.sided import on_side

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class GearState:
    """How far each wheel stands up into the aircraft [m], which are flat, which are pressed.

    up : by the wheel's name ; flat : names ; pressed : height of what is under a pressed tyre, by
        the wheel's name [m]
    """

    design: Design
    up: dict[str, float]
    flat: frozenset[str]
    pressed: dict[str, float]

    @classmethod
    def of(cls, design: Design, stance: Stance, under: Settled) -> GearState:
        """The state of a stance, with tyres and struts as they give."""
        known = contact_names(design)
        up = {n: float(v) for given, v in stance.compressed.items() for n in expand(given, known)}
        for name, give in under.gives.items():
            if give.strut:
                up[name] = up.get(name, 0.0) + give.strut
        flat = frozenset(n for given in stance.flat for n in expand(given, known))
        supports = {c.name: c.support for c in under.contacts}
        pressed = {name: supports[name] for name, give in under.gives.items() if give.tyre > 0.0}
        return cls(design, up, flat, pressed)

    def points(self, part: Part) -> Array:
        """A part's points, in aircraft axes: moved up with its wheel, a flat tyre smaller.

        The upper end of a leg stays where it is.
        """
        points = part.points
        if part.role == "wheel" and part.name in self.flat:
            points = _flat(self.design, part)
        up = next((self.up[n] for n in (part.name, *part.hosts) if n in self.up), 0.0)
        if not up:
            return points
        moves = np.full(len(points), up)
        if part.role == "leg":
            moves[len(points) // 2 :] = 0.0
        return np.asarray(points + moves[:, None] * np.array([0.0, 0.0, 1.0]))

    def standing(self, part: Part) -> Part:
        """A part in floor axes; a pressed tyre is flat where it stands."""
        if part.role != "wheel" or part.name not in self.pressed:
            return part
        points, faces = above(part.points, part.faces, self.pressed[part.name])
        return replace(part, points=points, faces=faces)


def _flat(design: Design, part: Part) -> Array:
    """The points of a wheel with a flat tyre, drawn at its flat rolling radius."""
    wheel = on_side(design.wheels[part.group], part.name.partition(" ")[0])
    radius = float(wheel.diameter) / 2.0
    share = (radius - float(wheel.flat_drop)) / radius
    centre = np.array([float(wheel.fs), 0.0, float(wheel.wl)])
    scale = np.array([share, 1.0, share])
    return np.asarray(centre + (part.points - centre) * scale)
