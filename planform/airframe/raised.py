"""A standing aircraft on a floor that is higher than the room's floor."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from planform.airframe.stance import Standing


@lru_cache(maxsize=64)
def raised(standing: Standing, floor: float) -> Standing:
    """The aircraft on a floor this high over the room's [m]; the very same where it is there."""
    up = np.array([0.0, 0.0, floor - standing.floor])
    if not up.any():
        return standing
    parts = tuple(replace(part, points=part.points + up) for part in standing.parts)
    return replace(standing, parts=parts, shift=standing.shift + up, floor=floor)
