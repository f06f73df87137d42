"""What hangs by its drop under a ceiling: as low as the lowest ceiling over it, piece by piece."""

from __future__ import annotations

import itertools
import math

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.convex import counter_clockwise
from planform.design.place import Place
from planform.design.roof import RoofLine, height_at, roof_lines
from planform.design.things import Obstacle

Array = NDArray[np.float64]

STEP = 0.05
"""How much lower than it is a thing that follows the ceiling may count [m]; assumption."""

MOST_STEPS = 24
"""Along one axis it counts as so many steps at most, between the corners of the ceiling."""

EVEN = 1e-3
"""Undersides of what follows a ceiling count as low as a whole number of this [m], so that the two
sides of a roof hang equally low."""

LEAST = 1e-3
"""The lowest that anything hangs [m]: what a drop leaves of a low ceiling is not below it."""


def follows(thing: Obstacle) -> bool:
    """Whether a thing goes up and down with the ceiling: a rafter, a rib, a purlin along a line."""
    return thing.drop is not None and thing.line is not None


def hung(place: Place, thing: Obstacle, outline: Array) -> list[tuple[Array, float]]:
    """Pieces (n, 2) of a plan and their undersides [m], low enough for the ceiling there."""
    rings = _cut(place, outline, STEP if follows(thing) else math.inf)
    drop = float(thing.drop or 0.0)
    lows = [max(LEAST, _lowest(place, ring) - drop) for ring in rings]
    if not follows(thing):
        return [(outline, min(lows))]
    even = [max(LEAST, math.floor(low / EVEN + 1e-9) * EVEN) for low in lows]
    return list(zip(rings, even, strict=True))


def _lowest(place: Place, ring: Array) -> float:
    return min(height_at(place, float(x), float(y)) for x, y in ring)


def _step(line: RoofLine, wanted: float) -> float:
    """The step [m] that follows a roof line in no more than the most steps."""
    rise = sum(abs(b - a) for a, b in itertools.pairwise(line.height))
    return min(rise, max(wanted, rise / MOST_STEPS))


def _cuts(line: RoofLine, low: float, high: float, wanted: float) -> list[float]:
    """Where to cut between two ends along the line's axis: at its corners, and at its steps."""
    step = _step(line, wanted)
    out: list[float] = []
    for (a, b), (over, beyond) in zip(
        itertools.pairwise(line.at), itertools.pairwise(line.height), strict=True
    ):
        count = max(1, math.ceil(abs(beyond - over) / step - 1e-9)) if step > 0.0 else 1
        out += [a + (b - a) * k / count for k in range(count)]
    out.append(line.at[-1])
    return [at for at in out if low + 1e-6 < at < high - 1e-6]


def _cut(place: Place, outline: Array, wanted: float) -> list[Array]:
    """An outline in pieces over each of which the ceiling has its lowest place at a corner."""
    import shapely

    parts = [shapely.polygons(outline)]
    for line in roof_lines(place):
        low, high = outline.min(axis=0) - 1.0, outline.max(axis=0) + 1.0
        first, last = float(low[line.axis]), float(high[line.axis])
        cuts = _cuts(line, first + 1.0, last - 1.0, wanted)
        bands = []
        for near, far in itertools.pairwise([first, *cuts, last]):
            low[line.axis], high[line.axis] = near, far
            bands.append(shapely.box(*low, *high))
        if len(bands) > 1:
            met = [shapely.get_parts(part.intersection(band)) for part in parts for band in bands]
            parts = [p for p in itertools.chain(*met) if p.geom_type == "Polygon" and p.area > 1e-9]
    if len(parts) == 1:
        return [outline]
    return [counter_clockwise(np.asarray(part.exterior.coords)[:-1]) for part in parts]
