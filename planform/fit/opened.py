"""Whether what stands open can be swung open where the aircraft stands."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

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


SWUNG = ": swing"
"""How the keys of these checks end, behind the name of the part."""


LOOKS = 9
"""Angles from which a box round a whole swing is drawn."""


def opened_checks(standing: Standing, room: Room, pose: Pose) -> Iterator[Check]:
    """A check for each panel that stands open: its swing from shut, to what is fixed in the room.

    The gap holds for every angle between, true curves counted.
    """
    on = {part.name for part in standing.parts}
    for part in standing.airframe.parts:
        angle = standing.turns.get(part.name, 0.0)
        if part.role == "panel" and part.name in on and angle > 0.0:
            yield _check(standing, room, pose, part)


def _check(standing: Standing, room: Room, pose: Pose, part: Part) -> Check:
    key, what = f"{part.name}{SWUNG}", f"the {part.name} swung open"
    near = swing_gap(standing, room, pose, part.name, NEAR)
    if near is None:
        why = "nothing of the room is near its swing"
        return Check(key, ROOM, what, None, None, missing=why, decided=FITS)
    wanted, source = room.wanted(near.kind)
    detail = f"{part.name} and {near.thing}, open by {np.degrees(near.angle):.0f} deg"
    return Check(key, ROOM, what, near.gap, wanted, detail=detail, wanted_from=source)


@dataclass(frozen=True)
class NearSwing:
    """The nearest thing to a swing: the gap [m], the angle there [rad], and what it is."""

    gap: float
    angle: float
    thing: str
    kind: str


def swing_gap(
    standing: Standing, room: Room, pose: Pose, name: str, within: float = np.inf
) -> NearSwing | None:
    """The least gap of an open panel's swing to what is fixed in the room.

    within : things farther than this from all of the swing are left out [m]; None: all are
    """
    part, angle = standing.airframe.by_name[name], standing.turns.get(name, 0.0)
    hinge = part.hinge
    assert hinge is not None
    reach = float(off_line(hinge.origin, hinge.axis, part.points).max())

    def placed(turned: float) -> Array:
        turn, shift = hinge.at(turned)
        return pose.place(standing.to_floor(part.points @ turn.T + shift))

    swept = np.concatenate([placed(at) for at in np.linspace(0.0, angle, LOOKS)])
    between = reach * (1.0 - np.cos(0.5 * angle / (LOOKS - 1)))
    things = [(_boxes_apart(swept, thing) - between, thing) for thing in room.fixed]
    best: NearSwing | None = None

    def nearer(gap: Callable[[float], float], thing: str, kind: str) -> NearSwing | None:
        known = np.inf if best is None else best.gap + part.bulge
        least, where = least_over_turn(gap, angle, reach, known)
        near = NearSwing(least - part.bulge, where, thing, kind)
        return near if best is None or near.gap < best.gap else best

    if room.roof:

        def under(turned: float) -> float:
            points = placed(turned)
            lines = (to_ceiling(part.name, points, part.faces, 0.0, one) for one in room.roof)
            return min(near.gap for near in lines)

        best = nearer(under, "ceiling", "ceiling")
    for least, thing in sorted(things, key=lambda pair: pair[0]):
        if least > within or (best is not None and least > best.gap + part.bulge):
            break

        def gap(turned: float, thing: Fixed = thing) -> float:
            return mesh_distance(placed(turned), part.faces, *thing.mesh).distance

        best = nearer(gap, thing.name, thing.kind)
    return best


def _boxes_apart(points: Array, thing: Fixed) -> float:
    low = np.array([*thing.outline.min(axis=0), thing.low])
    high = np.array([*thing.outline.max(axis=0), thing.high])
    apart = np.maximum(np.maximum(low - points.max(axis=0), points.min(axis=0) - high), 0.0)
    return float(np.linalg.norm(apart))
