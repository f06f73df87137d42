"""What is built from one piece of a design."""

from __future__ import annotations

from dataclasses import dataclass

from planform.airframe.part import Part
from planform.airframe.surfaces import (
    Half,
    sided_name,
    sides,
)
from planform.core.shape import loft


@dataclass(frozen=True, eq=False)
class Made:
    """What is built from one piece of a design.

    cut : parts built before, with what was cut out of them
    """

    parts: tuple[Part, ...]
    halves: tuple[Half, ...] = ()
    cut: tuple[Part, ...] = ()


def sided(group: str, side: str, role: str, mesh: loft.Mesh, bulge: float = 0.0) -> list[Part]:
    """A part from a mesh that stands on the right, or one on each side of a pair."""
    out = []
    for sign in sides(side):
        points, faces = mesh if sign > 0 else loft.mirrored(*mesh)
        out.append(Part(sided_name(group, side, sign), group, role, points, faces, bulge))
    return out
