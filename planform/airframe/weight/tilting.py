"""The height of the CG from two weighings at two attitudes, and what four scales share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees

import numpy as np
from numpy.typing import NDArray

from planform.core.frames import body2floor
from planform.core.quantity import Kilograms, Metres, Radians
from planform.design.weighing import LEAST_TILT

Array = NDArray[np.float64]


@dataclass(frozen=True)
class ScaleLine:
    """One scale: what it showed, its tare, and where it stood [kg, m]; the texts as read."""

    at: str
    reading: Kilograms
    tare: Kilograms
    tare_given: bool
    reading_text: str
    tare_text: str
    fs: Metres
    bl: Metres | None
    wl: Metres | None

    @property
    def net(self) -> Kilograms:
        """Reading less tare."""
        return self.reading - self.tare


@dataclass(frozen=True)
class ScalesAt:
    """The scales at one attitude, with what a level showed: nose up and right wing down [rad]."""

    scales: tuple[ScaleLine, ...]
    level: Radians
    lean: Radians

    @property
    def mass(self) -> Kilograms:
        """What the scales show together, less their tares."""
        return sum(s.net for s in self.scales)

    def over(self, cg_wl: float) -> tuple[float, float]:
        """Station and butt line of a CG at a waterline that these scales tell of [m]."""
        turn = body2floor(self.level, self.lean)
        points = np.array([[s.fs, s.bl or 0.0, s.wl or 0.0] for s in self.scales])
        net = np.array([s.net for s in self.scales])
        pressure = net @ (points @ turn[:2].T) / net.sum()
        fs, bl = np.linalg.solve(turn[:2, :2], pressure - turn[:2, 2] * cg_wl)
        return float(fs), float(bl)


@dataclass(frozen=True)
class TwoAttitudes:
    """A second weighing at another attitude, and the height of the CG from both.

    solved : the waterline at which both put the CG over the same station (or, leaned, the same
        butt line); None where they are parallel
    tilt : by how much the attitudes differ, along whichever tells more
    """

    second: ScalesAt
    solved: Metres | None
    tilt: Radians
    across: bool

    @property
    def told(self) -> bool:
        """Whether the attitudes differ enough for the height to mean something."""
        return self.solved is not None and abs(self.tilt) >= LEAST_TILT

    @property
    def cg_wl(self) -> Metres | None:
        """The height of the CG, where the attitudes differ enough."""
        return self.solved if self.told else None

    @property
    def words(self) -> str:
        """How the height was found, or why it is withheld."""
        way = "lean" if self.across else "level"
        apart = f"{degrees(abs(self.tilt)):.2f} deg of {way} apart"
        if self.told:
            return f"from two attitudes, {apart}"
        return f"withheld: two attitudes only {apart}, at least {degrees(LEAST_TILT):.0f} needed"


def two_attitudes(first: ScalesAt, second: ScalesAt, *, has_bl: bool) -> TwoAttitudes:
    """The height of the CG at which both weighings agree on where it is.

    Each puts the CG on a line that leans with its attitude: fs = a - b wl, b = tan(level) where
    nothing leans. Where the two lines meet: wl = (a2 - a1) / (b2 - b1). With both axles at one
    height that is the axle-lift method of the trade, over the axles (change of load x distance of
    the axles) / (weight x tan of the angle). has_bl : whether leaning tells anything.
    """
    level, lean = second.level - first.level, second.lean - first.lean
    across = has_bl and abs(lean) > abs(level)
    low, high = ((one.over(0.0)[across], one.over(1.0)[across]) for one in (first, second))
    steep = (high[1] - high[0]) - (low[1] - low[0])
    solved = (low[0] - high[0]) / steep if abs(steep) > 1e-9 else None
    return TwoAttitudes(second, solved, lean if across else level, across)


def crosswise(scales: Sequence[ScaleLine]) -> tuple[float, ...]:
    """The part of each reading [kg] that changes neither their sum nor its centre.

    Three scales have none; where more stand, a shim under one moves it from one to the others.
    """
    plan = np.array([[s.fs, s.bl or 0.0] for s in scales])
    flat = np.linalg.matrix_rank(np.column_stack([np.ones(len(plan)), plan])) < 3
    if len(scales) < 4 or flat:
        return (0.0,) * len(scales)
    net = np.array([s.net for s in scales])
    basis = np.column_stack([np.ones(len(plan)), plan])
    shared = basis @ np.linalg.solve(basis.T @ basis, basis.T @ net)
    return tuple(float(part) for part in net - shared)
