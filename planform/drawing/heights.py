"""The points whose height over the floor a builder asks for: each tip, and the highest of all."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.presence import of_wing
from planform.airframe.stance import Standing
from planform.core.quantity import Metres

Array = NDArray[np.float64]

SAME = 1e-6
"""Points whose heights differ by less than this [m] are one as high as the other."""


@dataclass(frozen=True, eq=False)
class TallPoint:
    """A point and its height over the floor that it stands on.

    at : floor axes, shape (3,) [m]
    """

    what: str
    at: Array
    height: Metres


def tall_points(standing: Standing) -> tuple[TallPoint, ...]:
    """The top of each side of the wing and its winglets, and the highest point where it is higher.

    The highest of the tips is the measure `tip_height`, the highest of all `height`.
    """
    out = []
    wing = [part for part in standing.parts if of_wing(standing.airframe, part)]
    for side, sign in (("left", -1.0), ("right", 1.0)):
        points = [p.points[sign * p.points[:, 1] > 0.0] for p in wing]
        beside = np.concatenate(points) if points else np.empty((0, 3))
        if len(beside):
            out.append(_tall(f"{side} tip", beside, standing))
    highest = _tall("highest point", standing.all_points(), standing)
    if all(highest.height - one.height > SAME for one in out):
        part = next(p for p in standing.parts if p.points[:, 2].max() >= highest.at[2] - SAME)
        out.append(TallPoint(f"highest point, {part.name}", highest.at, highest.height))
    return tuple(out)


def _tall(what: str, points: Array, standing: Standing) -> TallPoint:
    """The highest of some points; of several as high, the middle one from ahead to aft."""
    tops = points[points[:, 2] > points[:, 2].max() - SAME]
    at = tops[np.argsort(tops[:, 0], kind="stable")[len(tops) // 2]]
    return TallPoint(what, at, float(at[2]) - standing.floor)
