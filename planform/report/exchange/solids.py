"""The solids of an aircraft as it stands, in millimetres, each under a name of its own."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part
from planform.airframe.stance import Standing
from planform.design.kinds import ROLES
from planform.report.exchange.welded import welded

Array = NDArray[np.float64]
Index = NDArray[np.int64]
Axes = Literal["aircraft", "floor"]

AXES: tuple[Axes, ...] = get_args(Axes)
AXES_SAID = {
    "aircraft": "aircraft axes: x is FS (aft), y is BL (right), z is WL (up)",
    "floor": "as it stands: x is aft, y is to the right, z is height over the floor",
}
MM = 1000.0
"""Millimetres in a metre."""

_UNSEEN = re.compile(r"[\x00-\x20\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff]+")


@dataclass(frozen=True, eq=False)
class PartSolid:
    """One closed solid: points (n, 3) [mm], each held once; faces (m, 3), outward.

    colour : '#rrggbb'; opacity : 0 to 1
    """

    name: str
    points: Array
    faces: Index
    colour: str = "#808080"
    opacity: float = 1.0

    def corners(self) -> Array:
        """The corners of all facets, shape (m, 3, 3) [mm]."""
        return np.asarray(self.points[self.faces])


@dataclass(frozen=True, eq=False)
class SolidSet:
    """Solids with names that are all different, and what they are together."""

    title: str
    parts: tuple[PartSolid, ...]


def solids_of(standing: Standing, axes: Axes = "aircraft") -> SolidSet:
    """The parts that are on, as they are turned and sprung at this stage in this stance.

    axes : 'aircraft' (stations, butt lines, waterlines) or 'floor' (as it stands: the parking point
        over the origin, z is height)
    """
    parts = []
    for part in standing_in(standing, axes):
        role, at = ROLES[part.role], part.points * MM
        parts.append(PartSolid(part.name, *welded(at, part.faces), role.colour, role.opacity))
    return named_apart(f"{standing.airframe.design.name}, {standing.title}", parts)


def standing_in(standing: Standing, axes: Axes) -> tuple[Part, ...]:
    """The parts that are on, as they are turned and sprung, in these axes [m]."""
    if axes == "floor":
        return standing.parts
    back = ((part, (part.points - standing.shift) @ standing.turn) for part in standing.parts)
    return tuple(replace(part, points=points) for part, points in back)


def named_apart(title: str, parts: Iterable[PartSolid]) -> SolidSet:
    """A set of solids whose names hold no unseen character and are all different.

    Of equal names the later ones get a number: wing, wing (2).
    """
    taken: set[str] = set()
    out = []
    for part in parts:
        plain = one_line(part.name) or "part"
        name, count = plain, 1
        while name in taken:
            count += 1
            name = f"{plain} ({count})"
        taken.add(name)
        out.append(PartSolid(name, part.points, part.faces, part.colour, part.opacity))
    return SolidSet(one_line(title) or "aircraft", tuple(out))


def one_line(text: str) -> str:
    """A text without breaks and what no XML may hold; blanks where those were."""
    return _UNSEEN.sub(" ", text).strip()
