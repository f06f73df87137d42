"""Whether what stands open can be swung open where the aircraft stands."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part
from planform.airframe.stance import Standing
from planform.core.shape.distance import mesh_distance
from planform.core.shape.hinge import off_line
from planform.core.shape.swing import least_over_turn
from planform.fit.check import ROOM, Check
from planform.fit.clearance import to_ceiling
from planform.fit.moves import Pose
from planform.fit.room import Fixed, Room
from planform.fit.verdict import FITS

Array = NDArray[np.float64]

NEAR = 2.0
"""Things farther than this from all of a swing are not told [m]; assumption."""


def opened_checks(standing: Standing, room: Room, pose: Pose) -> Iterator[Check]:
    """A check for each panel that stands open: its swing from shut, to what is fixed in the room.

    The gap holds for every angle between, true curves counted.
    """
    airframe = standing.airframe
    on = {part.name for part in standing.parts}
    for part in airframe.parts:
        angle = standing.turns.get(part.name, 0.0)
        if part.role == "panel" and part.name in on and angle > 0.0:
            yield _check(standing, room, pose, part, angle)


def _check(standing: Standing, room: Room, pose: Pose, part: Part, angle: float) -> Check:
    hinge = part.hinge
    assert hinge is not None
    reach = float(off_line(hinge.origin, hinge.axis, part.points).max())

    def placed(turned: float) -> Array:
        turn, shift = hinge.at(turned)
        return pose.place(standing.to_floor(part.points @ turn.T + shift))

    found = []
    start = placed(0.0)
    for thing in room.fixed:
        if _boxes_apart(start, thing) - reach * angle > NEAR:
            continue

        def gap(turned: float, thing: Fixed = thing) -> float:
            return mesh_distance(placed(turned), part.faces, *thing.mesh).distance

        least, where = least_over_turn(gap, angle, reach)
        found.append((least - part.bulge, where, thing.name, thing.kind))
    if room.roof:

        def under(turned: float) -> float:
            points = placed(turned)
            lines = (to_ceiling(part.name, points, part.faces, 0.0, one) for one in room.roof)
            return min(near.gap for near in lines)

        least, where = least_over_turn(under, angle, reach)
        found.append((least - part.bulge, where, "the ceiling", "ceiling"))
    key, what = f"{part.name}: swing", f"the {part.name} swung open"
    if not found:
        why = "nothing of the room is near its swing"
        return Check(key, ROOM, what, None, None, missing=why, decided=FITS)
    least, where, name, kind = min(found)
    wanted, source = room.wanted(kind)
    degrees = f"{np.degrees(where):.0f} deg"
    detail = f"{part.name} and {name}, open by {degrees}"
    return Check(key, ROOM, what, least, wanted, detail=detail, wanted_from=source)


def _boxes_apart(points: Array, thing: Fixed) -> float:
    low = np.array([*thing.outline.min(axis=0), thing.low])
    high = np.array([*thing.outline.max(axis=0), thing.high])
    apart = np.maximum(np.maximum(low - points.max(axis=0), points.min(axis=0) - high), 0.0)
    return float(np.linalg.norm(apart))
