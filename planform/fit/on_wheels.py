"""The way out on its own wheels: no side-slip, few changes of direction."""

from __future__ import annotations

from time import monotonic
from typing import TYPE_CHECKING

import numpy as np

from planform.design.sided import SIDES, on_side
from planform.fit.moves import Route

if TYPE_CHECKING:
    from planform.core.motion.gear import Gear
from planform.fit.question import Question, Watch, door_ways, patient
from planform.fit.way_out import NONE, NOT_FOUND, WAY, WayOut, move_of, way_out


def gear_of(question: Question) -> Gear | None:
    """How the aircraft rolls on its own wheels; None where it does not stand on a pair of them.

    It turns about points of the main axle's line: about a braked main wheel, and further out as
    far as the nose wheel steers; a castering nose wheel sets no limit.
    """
    from planform.core.motion.gear import Gear

    standing = question.plan.standing
    design = standing.airframe.design
    on = standing.settled.contacts
    pairs = [c for c in on if c.radius > 0.0 and c.name.startswith("left ")]
    others = [c for c in on if c.radius == 0.0]
    if not pairs or others:
        return None
    main = pairs[0]
    beside = [c for c in on if c.name == f"right {main.name.removeprefix('left ')}"]
    if any(c.point[0] != main.point[0] or c.point[1] != -main.point[1] for c in beside):
        return None
    axle = standing.to_floor(np.array([[main.point[0], 0.0, main.point[2]]]))[0]
    half = abs(main.point[1])
    least = half
    for wheel in (on_side(w, side) for w in design.wheels.values() for side in SIDES):
        if wheel.steers is not None:
            base = abs(float(wheel.fs) - main.point[0])
            least = max(least, base / float(np.tan(float(wheel.steers))))
    offsets = tuple(s * least * f for f in (1.0, 2.0, 4.0, 8.0) for s in (1.0, -1.0))
    return Gear(float(axle[0] - question.plan.pivot[0]), offsets)


def roll_out(question: Question, wanted: float = 0.0, watch: Watch = patient) -> WayOut:
    """The way out on its own gear: no side-slip, few changes of direction.

    Free moves are asked first: where they have no way, rolling has none. A way that the lattice
    of pushes does not find is 'not found', which proves nothing.
    """
    from planform.core.motion.gear import roll_out as search
    from planform.core.motion.gear import shunts

    began = monotonic()
    free = way_out(question, wanted, watch)
    if free.answer == NONE:
        return free
    gear = gear_of(question)
    if gear is None:
        reason = "it does not stand on a pair of wheels with nothing dragging"
        return WayOut(question, NOT_FOUND, wanted, reason, seconds=monotonic() - began)
    cells, doors = question.cells, door_ways(question.plan.room.place)
    aims = question.hand.points(np.array([at + out * cells.scene.reach for at, out in doors]))

    def go_on(poses: int) -> bool:
        return watch("on its own wheels", poses, monotonic() - began)

    moves, ended = search(cells.scene, cells.start, gear, wanted, aims, go_on)
    seconds = monotonic() - began
    if moves is None:
        return WayOut(question, NOT_FOUND, wanted, ended, seconds=seconds)
    route = Route(tuple(move_of(question, m) for m in moves), wanted, "gear")
    count = shunts(moves, gear)
    return WayOut(question, WAY, wanted, "each push proved", route, count, seconds=seconds)
