"""Plan outlines of what the aircraft has inside a height range."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part
from planform.core.halting import look
from planform.core.shape.clip import clip_slab, section_segments

if TYPE_CHECKING:
    from shapely import Geometry

    Shape: TypeAlias = Geometry
else:  # the library is loaded where it is used
    Shape = object

Array = NDArray[np.float64]


SEAM = 1e-6
"""Slits narrower than twice this [m] between neighbouring facets are rounding, and are closed."""


def _flat(triangles: Array, least: float = 1e-12) -> Geometry:
    """Union of the plan shapes of triangles, shape (n, 3, 3), that have a plan area."""
    import shapely

    plan = triangles[:, :, :2]
    a, b = plan[:, 1] - plan[:, 0], plan[:, 2] - plan[:, 0]
    area = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    kept = plan[np.abs(area) > least]
    rings = np.concatenate([kept, kept[:, :1]], axis=1)
    whole = shapely.union_all(shapely.polygons(rings))
    return whole.buffer(SEAM, join_style="mitre").buffer(-SEAM, join_style="mitre")


def outline(part: Part) -> Geometry:
    """Plan outline of a whole part, a shapely geometry [m]: the union of its upward facets."""
    look()
    return _outline(part.points[:, :2].tobytes(), part.faces.tobytes())


@lru_cache(maxsize=512)
def _outline(plan: bytes, faces: bytes) -> Geometry:
    """The outline of a part seen from above; a part that only stands higher keeps its own."""
    points = np.frombuffer(plan).reshape(-1, 2)
    triangles = points[np.frombuffer(faces, dtype=np.int64).reshape(-1, 3)]
    a, b = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    return _flat(triangles[a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0] > 0.0])


def band_outline(part: Part, low: float, high: float) -> Geometry:
    """Plan outline of what a part has between two heights [m]; empty where it has nothing.

    The cut solid is capped: its outline is that of the facets inside the range together with the
    filled section at the lower height.
    """
    import shapely

    z = part.points[:, 2]
    if z.min() >= low and z.max() <= high:
        return outline(part)
    if z.max() < low or z.min() > high:
        return shapely.Polygon()
    pieces = [_flat(clip_slab(part.points[part.faces], 2, low, high))]
    if z.min() < low < z.max():
        segments = section_segments(part.points[part.faces], 2, low)
        lines = shapely.union_all(shapely.linestrings(segments), grid_size=1e-7)
        faces = [g for g in shapely.polygonize([lines]).geoms]
        pieces.append(shapely.union_all(faces))
    return shapely.union_all(pieces)
