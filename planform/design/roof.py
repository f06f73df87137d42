"""The ceiling's height over a point of the floor."""

from __future__ import annotations

import math

from planform.design.place import Place
from planform.design.slope import level_ceiling


def breaks(place: Place) -> tuple[int, tuple[float, ...], tuple[float, ...]]:
    """Axis (0 X, 1 Y), distances and heights over the floor [m] of the ceiling's profile."""
    ceiling = place.ceiling
    assert ceiling is not None
    level = level_ceiling(place)
    if level is not None:
        return level
    if ceiling.profile is None:
        assert ceiling.height is not None
        return 1, (0.0,), (float(ceiling.height),)
    axis = 0 if ceiling.along == "width" else 1
    return (
        axis,
        tuple(float(level.at) for level in ceiling.profile),
        tuple(float(level.height) for level in ceiling.profile),
    )


def height_at(place: Place, x: float, y: float) -> float:
    """Height of the ceiling over (x, y) [m]; the profile's ends go on level."""
    axis, at, height = breaks(place)
    here = (x, y)[axis]
    if here <= at[0] or len(at) == 1:
        return height[0]
    for k in range(1, len(at)):
        if here <= at[k]:
            share = (here - at[k - 1]) / (at[k] - at[k - 1])
            return height[k - 1] + share * (height[k] - height[k - 1])
    return height[-1] if math.isfinite(here) else math.nan
