"""Every compiled loop called once, in small: what an installation runs to compile them all.

Run: python -m planform.core.rehearsal
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.core.motion.cells import NONE, WAY, Cells, PlanProblem, scene
from planform.core.motion.gear import FOUND, Gear, roll_out
from planform.core.motion.plan_moves import about, along, straight
from planform.core.shape.slab import slab

Array = NDArray[np.float64]

START = (0.0, 0.0, 0.0)
"""Where the aircraft of the rehearsal stands."""


def box(low: tuple[float, float], high: tuple[float, float]) -> Array:
    """A rectangle, counter-clockwise, shape (4, 2)."""
    (a, b), (c, d) = low, high
    return np.array([[a, b], [c, b], [c, d], [a, d]])


def room(*walls: Array) -> PlanProblem:
    """A square aircraft of 2 m on a floor of 4 m among walls."""
    square = box((-1.0, -1.0), (1.0, 1.0))
    things = [(0, wall, 0.01) for wall in walls]
    return scene([(0, square)], things, square, [box((-2.0, -2.0), (2.0, 2.0))], 0.05)


def rehearse() -> None:
    """A way, a proof that there is none, a way on its own gear, and a cut.

    RuntimeError where one does not come out as it must.
    """
    beside = [box((1.5, -2.0), (1.6, 2.0)), box((-1.6, -2.0), (-1.5, 2.0))]
    lane = room(*beside)
    shut = room(*beside, box((-2.0, 1.5), (2.0, 1.6)), box((-2.0, -1.6), (2.0, -1.5)))
    way, none = (Cells(problem, START, 0.2) for problem in (lane, shut))
    found = [way.decide(0.1).answer, none.decide(0.1).answer]
    none.closed(0.1)
    lane.clearance(START)
    lane.off_floor(START)
    here = np.array(START)
    moves = straight(here, here + 0.1), about(here, 0.1, here[:2])
    kept = [lane.keeps(move, 0.1) for move in moves]
    along(moves[1], 0.5)
    aims = np.array([[0.0, 5.0], [0.0, -5.0]])
    gear = Gear(0.2, (1.0, -1.0))
    _, end = roll_out(lane, START, gear, 0.1, aims, lambda poses: True)
    half = slab(np.array([[[0.0, 0.0, 0.0], [2.0, 0.0, 0.0], [0.0, 2.0, 0.0]]]), 0, 0.5, 1.0)
    if (found, kept, end, len(half)) != ([WAY, NONE], [True, True], FOUND, 2):
        raise RuntimeError(f"the loops give {found}, {kept}, {end!r}, {len(half)} triangles")


if __name__ == "__main__":
    rehearse()
