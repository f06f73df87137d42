"""A parked aircraft as what stands in the way of another one."""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise

import numpy as np

from planform.airframe.outlines import Shape, band_outline
from planform.airframe.stance import Standing
from planform.core.shape.convex import counter_clockwise
from planform.fit.ground_plan import convex_rings
from planform.fit.moves import Pose
from planform.fit.room import Fixed
from planform.fit.swept import at_pose

APART = 0.03
"""Heights closer than this [m] are not told apart where an aircraft is cut in slices; assumption.
Fewer slices only stand in the way of more."""

FLAT = 0.4
"""A surface no higher than this [m] is one that another may pass over or under; assumption."""

SIMPLER = 5e-3
"""Outlines of a slice get fewer corners by growing, by at most this [m]; assumption."""


@lru_cache(maxsize=32)
def slices(standing: Standing) -> tuple[tuple[float, float, Shape], ...]:
    """What an aircraft fills, from slice to slice of its height: low, high, outline (floor axes).

    Each slice holds all that the aircraft has in its range, drawn out by what a true curve stands
    outside its facets and by `SIMPLER`.
    """
    import shapely

    out = []
    for low, high in pairwise(levels(standing)):
        bands = [band_outline(part, low, high) for part in standing.parts]
        region = shapely.union_all([band for band in bands if not band.is_empty])
        if region.is_empty:
            continue
        grown = region.buffer(standing.bulge + SIMPLER, join_style="mitre", mitre_limit=2.0)
        out.append((low - standing.bulge, high + standing.bulge, grown.simplify(SIMPLER)))
    return tuple(out)


def levels(standing: Standing) -> list[float]:
    """Heights at which an aircraft is cut: under and over each of its flat surfaces [m]."""
    ends = [(float(p.points[:, 2].min()), float(p.points[:, 2].max())) for p in standing.parts]
    top = max(high for _, high in ends)
    flat = [e for e, p in zip(ends, standing.parts, strict=True) if p.caps and e[1] - e[0] < FLAT]
    kept = [0.0]
    for height in sorted({h for e in flat for h in e}):
        if height - kept[-1] >= APART and top - height >= APART:
            kept.append(height)
    return [*kept, top]


def as_things(standing: Standing, pose: Pose, name: str) -> tuple[Fixed, ...]:
    """The parked aircraft as prisms, for the questions of another one."""
    out = []
    for low, high, region in slices(standing):
        for ring in convex_rings(at_pose(region, pose)):
            out.append(Fixed(name, "aircraft", counter_clockwise(np.asarray(ring)), low, high))
    return tuple(out)
