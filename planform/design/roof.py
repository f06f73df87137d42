"""The ceiling over the floor: lines of heights along the width or the depth; the lowest counts."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planform.design.ceiling import Arch, Gable, Hip
from planform.design.floor import Corner
from planform.design.place import Place
from planform.design.slope import extent, level_ceiling

Array = NDArray[np.float64]

SAGITTA = 0.01
"""How much lower than its arc an arched ceiling may count between its corners [m]; assumption."""

LEAST_FLATS = 8
"""An arch counts as so many flats at least; assumption."""


LOOKED = 32
"""The ceiling over a line is looked at in so many steps; assumption."""


@dataclass(frozen=True)
class RoofLine:
    """A ceiling that slopes along one axis of the place only; its ends go on level.

    axis : 0 along X, 1 along Y
    at, height : distances along the axis and heights over the floor [m], equally many; one for a
        level ceiling
    arc : how far the true arc rises over the flats drawn inside it at most [m]; 0 where it is none
    """

    axis: int
    at: tuple[float, ...]
    height: tuple[float, ...]
    arc: float = 0.0

    @property
    def level(self) -> bool:
        """Whether it is one height everywhere."""
        return len(self.at) == 1

    def over(self, along: Array) -> Array:
        """Heights [m] at distances along its axis, any shape."""
        return np.asarray(np.interp(along, self.at, self.height))

    def mirrored(self, middle: float, side: float, grid: float) -> RoofLine:
        """The line counted from a middle along X, mirrored where side is -1; rounded to a grid."""
        sign, middle = (side, middle) if self.axis == 0 else (1.0, 0.0)
        there = np.round(sign * (np.array(self.at) - middle) / grid) * grid
        pairs = sorted(zip(there.tolist(), self.height, strict=True), key=lambda pair: pair[0])
        return replace(
            self, at=tuple(at for at, _ in pairs), height=tuple(height for _, height in pairs)
        )


def roof_lines(place: Place) -> tuple[RoofLine, ...]:
    """What the ceiling of a place is made of: over each point the lowest line counts.

    One line for a level ceiling, a profile, a gable and an arch, two for a hip; none where no
    ceiling is given.
    """
    ceiling = place.ceiling
    if ceiling is None:
        return ()
    level = level_ceiling(place)
    if level is not None:
        return (RoofLine(*level),)
    if ceiling.gable is not None:
        return (_gable(place, ceiling.gable),)
    if ceiling.hip is not None:
        ends = _ends(place, ceiling.hip)
        return (_gable(place, ceiling.hip), *((ends,) if ends is not None else ()))
    if ceiling.arch is not None:
        return (_arch(place, ceiling.arch),)
    if ceiling.profile is None:
        assert ceiling.height is not None
        return (RoofLine(1, (0.0,), (float(ceiling.height),)),)
    at = tuple(float(level.at) for level in ceiling.profile)
    heights = tuple(float(level.height) for level in ceiling.profile)
    return (RoofLine(0 if ceiling.along == "width" else 1, at, heights),)


def across(roof: Gable | Arch) -> int:
    """The axis that a roof slopes along, across its ridge."""
    return 0 if roof.ridge_along == "depth" else 1


def ridge_place(place: Place, roof: Gable) -> float:
    """Where the ridge is along the axis that the roof slopes along [m]."""
    low, high = extent(place, across(roof))
    return 0.5 * (low + high) if roof.ridge_at is None else low + float(roof.ridge_at)


def _gable(place: Place, roof: Gable) -> RoofLine:
    low, high = extent(place, across(roof))
    eaves, ridge = float(roof.eaves), float(roof.ridge)
    return RoofLine(across(roof), (low, ridge_place(place, roof), high), (eaves, ridge, eaves))


def _ends(place: Place, roof: Hip) -> RoofLine | None:
    """The slopes at the two ends of a hip roof; None where both are upright."""
    axis = 1 - across(roof)
    low, high = extent(place, axis)
    eaves, ridge = float(roof.eaves), float(roof.ridge)
    near, far = low + float(roof.near_hip), high - float(roof.far_hip)
    pairs = [(low, eaves)] if near > low else []
    pairs += [(near, ridge)] if near >= far else [(near, ridge), (far, ridge)]
    pairs += [(high, eaves)] if far < high else []
    if near <= low and far >= high:
        return None
    return RoofLine(axis, tuple(at for at, _ in pairs), tuple(height for _, height in pairs))


def arch_of(place: Place, roof: Arch) -> tuple[float, float]:
    """Half the span and the radius of an arch [m]."""
    low, high = extent(place, across(roof))
    half = 0.5 * (high - low)
    if roof.radius is not None:
        return half, float(roof.radius)
    assert roof.rise is not None
    rise = float(roof.rise)
    return half, 0.5 * (half * half / rise + rise)


def _arch(place: Place, roof: Arch) -> RoofLine:
    """Flats between corners on the arc: they lie under it everywhere."""
    axis = across(roof)
    low, high = extent(place, axis)
    half, radius = arch_of(place, roof)
    whole = math.asin(min(1.0, half / radius))
    each = math.acos(max(0.0, 1.0 - SAGITTA / radius))
    flats = max(LEAST_FLATS, 2 * math.ceil(0.5 * whole / each))
    turn = 2.0 * whole / flats
    middle, foot = 0.5 * (low + high), radius * math.cos(whole)
    angles = [turn * k for k in range(1, flats // 2)]
    rights = [radius * math.sin(a) for a in angles]
    ups = [float(roof.eaves) + radius * math.cos(a) - foot for a in angles]
    eaves, crown = float(roof.eaves), float(roof.eaves) + radius - foot
    at = (low, *(middle - r for r in reversed(rights)), middle, *(middle + r for r in rights), high)
    heights = (eaves, *reversed(ups), crown, *ups, eaves)
    return RoofLine(axis, at, heights, radius * (1.0 - math.cos(0.5 * turn)))


def height_at(place: Place, x: float, y: float) -> float:
    """Height of the ceiling over (x, y) [m]; the ends of a slope go on level."""
    return min(_height(line, (x, y)[line.axis]) for line in roof_lines(place))


def heights_along(place: Place, line: Sequence[Corner]) -> list[float]:
    """Heights of the ceiling [m] over a line of at least two points, at even points along it."""
    out = []
    for (x0, y0), (x1, y1) in itertools.pairwise(line):
        for k in range(LOOKED + 1):
            share = k / LOOKED
            out.append(height_at(place, x0 + share * (x1 - x0), y0 + share * (y1 - y0)))
    return out


def _height(line: RoofLine, here: float) -> float:
    at, height = line.at, line.height
    if here <= at[0] or line.level:
        return height[0]
    for k in range(1, len(at)):
        if here <= at[k]:
            share = (here - at[k - 1]) / (at[k] - at[k - 1])
            return height[k - 1] + share * (height[k] - height[k - 1])
    return height[-1] if math.isfinite(here) else math.nan
