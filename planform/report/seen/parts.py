"""The parts of an aircraft as they stand: where their meshes are, their sizes, what they weigh."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part
from planform.airframe.presence import covers
from planform.airframe.stance import Standing
from planform.airframe.weight.items import Item
from planform.airframe.weight.stage_weight import items_on
from planform.design.kinds import ROLES
from planform.design.told import said
from planform.fit.clearance import Clearance
from planform.report.record import Json, Record
from planform.report.seen.meshes import Meshes

Array = NDArray[np.float64]


def parts_look(
    standing: Standing, meshes: Meshes, system: str, near: Sequence[Clearance] = ()
) -> list[Record]:
    """Every part that is on, its mesh in aircraft axes, as it is turned and sprung.

    near : the clearances as it is parked, least first; a part without one has none
    """
    items = items_on(standing.airframe, standing.stage, standing.stance_name)
    out: list[Record] = []
    for part in standing.parts:
        role = ROLES[part.role]
        own = (part.points - standing.shift) @ standing.turn
        out.append(
            {
                "name": part.name,
                "group": part.group,
                "role": role.name,
                "colour": role.colour,
                "opacity": role.opacity,
                "mesh": meshes.put(own, part.faces),
                "mass": _mass(part, standing, items, system),
                "sizes": _sizes(part, own, system),
                "least": None,
            }
        )
    return with_least(out, near, system)


def with_least(parts: Sequence[Record], near: Sequence[Clearance], system: str) -> list[Record]:
    """The same parts, each with the least of these clearances."""
    least: dict[Json, Clearance] = {}
    for one in near:
        least.setdefault(one.part, one)
    gaps = {name: gap_look(one, system) for name, one in least.items()}
    return [{**part, "least": gaps.get(part["name"])} for part in parts]


def gap_look(one: Clearance, system: str) -> Record:
    """A clearance with its two ends, in place axes [m]."""
    return {
        "gap": one.gap,
        "text": said(one.gap, "gap", system),
        "part": one.part,
        "thing": one.thing,
        "direction": one.direction,
        "from": [float(x) for x in one.at_part],
        "to": [float(x) for x in one.at_thing],
    }


def _mass(part: Part, standing: Standing, items: Sequence[Item], system: str) -> str:
    """What the mass items say that it weighs; with how many others together."""
    mine = [item for item in items if item.part is not None and covers(item.part, part)]
    if not mine:
        return ""
    total = said(sum(item.mass for item in mine), "mass", system)
    names = {str(item.part) for item in mine}
    together = [p for p in standing.parts if any(covers(name, p) for name in names)]
    return total if len(together) == 1 else f"{total}, {len(together)} parts together"


def _sizes(part: Part, own: Array, system: str) -> list[list[str]]:
    """From where to where it reaches: stations, butt lines, waterlines, heights over the floor."""
    low, high = own.min(axis=0), own.max(axis=0)
    rows = [
        [kind, f"{said(low[axis], axes, system)} to {said(high[axis], axes, system)}"]
        for axis, (kind, axes) in enumerate(
            (("stations", "station"), ("butt lines", "butt"), ("waterlines", "water"))
        )
    ]
    sizes = " x ".join(said(float(size), "length", system) for size in high - low)
    over = part.points[:, 2]
    heights = (said(float(end), "length", system) for end in (over.min(), over.max()))
    return [["long x wide x high", sizes], *rows, ["over the floor", " to ".join(heights)]]
