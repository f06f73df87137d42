"""A part in the openings it passes, seen along its way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from planform.design.told import said
from planform.drawing.drawing import Drawing
from planform.drawing.sheet import Sheet
from planform.fit.carrying import Along, Carried, Through


def drawings_of(
    one: Carried, doors: Sequence[Through], system: str
) -> Iterator[tuple[str, Drawing]]:
    """By name: the part in its least opening, and in each door at its best roll."""
    way = one.ways[0]
    width, height = way.rectangle
    told = f"{said(width, 'length', system)} x {said(height, 'length', system)}"
    yield (
        "least-opening",
        _seen_along(way, 0.0, width, height, f"least opening found, {told}"),
    )
    for k, door in enumerate(doors):
        left = said(door.spare, "gap", system)
        words = f"{door.opening}, rolled {said(door.roll, 'angle', system)}: {left} to spare"
        yield (
            f"door-{k + 1}",
            _seen_along(door.way, door.roll, door.width, door.height, words),
        )


def _seen_along(way: Along, roll: float, width: float, height: float, words: str) -> Drawing:
    """The part seen along its way, in the middle of an opening."""
    import shapely

    c, s = np.cos(roll), np.sin(roll)
    turn = np.array([[c, -s], [s, c]])
    ring = way.outline.ring @ turn.T
    middle = 0.5 * (ring.min(axis=0) + ring.max(axis=0))
    ring = ring - middle
    half = 0.5 * np.array([width, height])
    reach = np.maximum(half, np.abs(ring).max(axis=0))
    margin = 0.1 * float(reach.max())
    sheet = Sheet(-reach, reach + np.array([0.0, 1.2 * margin]), width=420, margin=margin)
    corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * half
    sheet.polygon(corners, "floor")
    for part in way.carried.parts:
        faces = (way.seen(part.points) @ turn.T - middle)[part.faces]
        shadow = shapely.union_all([shapely.convex_hull(shapely.multipoints(f)) for f in faces])
        sheet.shape(shadow, "part", part.name)
    sheet.polygon(ring, "sight")
    sheet.polygon(corners, "opening")
    sheet.words((0.0, reach[1] + 0.9 * margin), words, "called")
    return sheet.drawing(words)
