"""Sections: solids cut by a plane, as closed rings of each, and what is seen behind the plane."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from planform.airframe.part import Part
from planform.airframe.presence import on_stage
from planform.airframe.stance import Standing
from planform.airframe.turns import turned
from planform.design.kinds import INNER
from planform.drawing.lines.frames import FRAMES
from planform.drawing.lines.line_view import LineView, line_view
from planform.drawing.lines.united import Array, Numbers, only_swept, united

Across = Literal["station", "butt line", "water line"]

TINY = 1e-12
"""Sides of a ring no longer than this are one point [m]."""

EYES: dict[Across, Array] = {
    "station": FRAMES["ahead"],
    "butt line": FRAMES["left"],
    "water line": FRAMES["above"],
}
"""From where a section is looked at: from ahead, from the left, from above."""


@dataclass(frozen=True, eq=False)
class Ring:
    """One closed outline in a cutting plane.

    points : (n, 2) [m], the first not told again at the end; counter-clockwise round what is
        solid, clockwise round a hole
    """

    part: str
    points: Array

    @property
    def area(self) -> float:
        """Its area, below zero of a hole [m2]."""
        x, y = self.points.T
        return 0.5 * float(x @ np.roll(y, -1) - y @ np.roll(x, -1))


@dataclass(frozen=True, eq=False)
class PlaneSection:
    """Solids cut by a plane.

    frame : (3, 3), rows: the picture's right, up, and toward the eye
    at : how far along the third row the plane lies [m]
    rings : of each part by itself, those inside others too, in the order of the parts
    open : names of parts whose surface has gaps at the plane, or edges of more than two facets,
        so that no ring of theirs is told
    beyond : what is seen behind the plane; lines of the kind 'cut' are the outline in the plane of
        all solids as one
    """

    frame: Array
    at: float
    rings: tuple[Ring, ...]
    open: tuple[str, ...] = ()
    beyond: LineView | None = None


def section(
    parts: Sequence[Part],
    frame: Array,
    at: float,
    *,
    beyond: bool = False,
    swept: Collection[str] = (),
) -> PlaneSection:
    """Parts cut by the plane whose points have `at` along the third row of the frame.

    A point in the plane counts as toward the eye of it, so a facet that lies in the plane is told
    of the side away from the eye.
    frame : (3, 3), rows: the picture's right, up, and toward the eye, in the parts' axes
    beyond : tell also what is seen behind the plane, see `line_view`
    swept : names of parts that only tell where something could turn, see `united`
    """
    frame = np.asarray(frame, float)
    rings: list[Ring] = []
    gaps = []
    for part in parts:
        found = rings_of(part.points @ frame.T, part.faces, at)
        if found is None:
            gaps.append(part.name)
        else:
            rings += [Ring(part.name, ring) for ring in found]
    view = None
    if beyond:
        view = line_view(united(parts, swept=swept, beyond=(frame[2], at)), frame)
    return PlaneSection(frame, at, tuple(rings), tuple(gaps), view)


def section_across(
    standing: Standing, what: Across, value: float, *, beyond: bool = False
) -> PlaneSection:
    """A standing aircraft cut at a station, butt line or water line of its own axes [m].

    A station is looked at from ahead, a butt line from the left, a water line from above, so the
    plane stands across the floor's axes only as far as the aircraft stands level. What lies inside
    skins is cut too.
    """
    frame = EYES[what] @ standing.turn.T
    at = value * float(EYES[what][2].sum()) + float(frame[2] @ standing.shift)
    parts = (*standing.parts, *parts_within(standing))
    return section(parts, frame, at, beyond=beyond, swept=only_swept(standing))


def parts_within(standing: Standing) -> tuple[Part, ...]:
    """Spars, ribs and bulkheads that are on, but lie out of sight inside skins; floor axes."""
    shown = {part.name for part in standing.parts}
    inside = [
        part
        for part in standing.airframe.parts
        if part.role in INNER and part.name not in shown and on_stage(standing.stage, part)
    ]
    turned_along = turned(inside, standing.turns, standing.airframe.by_name)
    return tuple(replace(part, points=standing.to_floor(part.points)) for part in turned_along)


def rings_of(points: Array, faces: Numbers, at: float) -> list[Array] | None:
    """The closed outlines of a mesh in the plane z = at; None where it has gaps there.

    points : (n, 3); faces : (m, 3), outward
    Each ring is (k, 2), solid on its left. Exact for the facets: each facet across the plane
    gives one segment from one of its edges to another.
    """
    toward = points[:, 2] >= at
    up = toward[faces]
    across = up.any(axis=1) & ~up.all(axis=1)
    faces, up = faces[across], up[across]
    if not len(faces):
        return []
    rows = np.arange(len(faces))
    leaves = np.argmax(up & ~np.roll(up, -1, axis=1), axis=1)
    comes = np.argmax(~up & np.roll(up, -1, axis=1), axis=1)
    start = _crossed(faces, rows, leaves)
    end = _crossed(faces, rows, comes)
    pairs, numbers = np.unique(np.concatenate([start, end]), axis=0, return_inverse=True)
    first, last = numbers.reshape(2, -1)
    once = [len(np.unique(one)) == len(rows) == len(pairs) for one in (first, last)]
    if not all(once):
        return None
    after = np.empty(len(rows), dtype=np.int64)
    after[first] = last
    return _walked(_places(points, pairs, at), after.tolist())


def _crossed(faces: Numbers, rows: Numbers, side: Numbers) -> Numbers:
    """The edge of each facet, as its two points in rising order."""
    ends = np.stack([faces[rows, side], faces[rows, (side + 1) % 3]], axis=1)
    return np.asarray(np.sort(ends, axis=1))


def _places(points: Array, pairs: Numbers, at: float) -> Array:
    """Where edges meet the plane, shape (n, 2)."""
    a, b = points[pairs[:, 0]], points[pairs[:, 1]]
    share = (at - a[:, 2]) / (b[:, 2] - a[:, 2])
    return np.asarray(a[:, :2] + share[:, None] * (b[:, :2] - a[:, :2]))


def _walked(places: Array, after: list[int]) -> list[Array]:
    """Rings of places, each followed by another, without points told twice running."""
    left, out = set(range(len(after))), []
    for k in range(len(after)):
        if k not in left:
            continue
        ring, here = [], k
        while here in left:
            left.remove(here)
            ring.append(here)
            here = after[here]
        points = places[ring]
        far = np.linalg.norm(points - np.roll(points, 1, axis=0), axis=1) > TINY
        if far.sum() > 2:
            out.append(points[far])
    return out
