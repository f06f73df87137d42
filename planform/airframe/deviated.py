"""An airframe as built: its drawn parts, lines and hinges moved by what was found."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from planform.airframe.drawn import Airframe
from planform.airframe.freedoms import MIRROR, Freedom, displaced, freedoms
from planform.airframe.hinge import Hinge
from planform.airframe.part import Part
from planform.airframe.surfaces import Half, normals, spans
from planform.core.vectors import Array
from planform.design.kinds import LYING


@dataclass(frozen=True, eq=False)
class Displacements:
    """Where drawn points are as built.

    parts : of the drawn airframe; a name that is none of them belongs to the one that is nearest
    """

    freedoms: tuple[Freedom, ...]
    by: tuple[float, ...]
    parts: tuple[Part, ...]

    def __call__(self, part: str, points: Array) -> Array:
        """Points of a part, shape (n, 3) [m], in aircraft axes."""
        known = {one.name for one in self.parts}
        names = [part if part in known else nearest_part(self.parts, point) for point in points]
        return displaced(self.freedoms, self.by, names, points)


def nearest_part(parts: Sequence[Part], point: Array) -> str:
    """The name of the part whose surface has the corner that is nearest to a point (3,) [m]."""
    far = [float(((part.points - point) ** 2).sum(axis=1).min()) for part in parts]
    return parts[int(np.argmin(far))].name


def deviated(airframe: Airframe) -> Airframe:
    """A drawn airframe with what its design says was built otherwise."""
    given: dict[tuple[str, str, str], float] = {
        (row.of, row.side or "", kind): float(value)
        for row in airframe.design.as_built
        for kind, value in row.given().items()
    }
    found = [one for one in freedoms(airframe) if (one.of, one.side, one.kind) in given]
    by = tuple(given[(one.of, one.side, one.kind)] for one in found)
    return moved_by(airframe, tuple(found), by)


def moved_by(airframe: Airframe, found: Sequence[Freedom], by: Sequence[float]) -> Airframe:
    """A drawn airframe with each freedom taken by so much [rad or m]."""
    moved = Displacements(tuple(found), tuple(by), airframe.parts)
    parts = tuple(_part(part, moved) for part in airframe.parts)
    halves = tuple(_half(half, moved) for half in airframe.halves)
    return replace(airframe, parts=parts, halves=halves, moved=moved)


def _part(part: Part, moved: Displacements) -> Part:
    if not any(part.name in one.parts for one in moved.freedoms):
        return part
    hinge = part.hinge and _hinge(part.name, part.hinge, moved)
    return replace(part, points=moved(part.name, part.points), hinge=hinge)


def _hinge(name: str, hinge: Hinge, moved: Displacements) -> Hinge:
    near = 0.01 * hinge.axis  # both ways: in a mirror the axis points the other way
    ends = moved(name, np.array([hinge.origin, hinge.origin - near, hinge.origin + near]))
    axis = ends[2] - ends[1]
    return replace(hinge, origin=ends[0], axis=axis / np.linalg.norm(axis))


def _half(half: Half, moved: Displacements) -> Half:
    """A side of a surface: its foremost and aftmost line as built, and what follows from them."""
    owner = [half.name] * len(half.chord)
    for name, first, last in spans(half):
        for k in range(first + bool(first), last + 1):
            owner[k] = name
    if not any(name in one.parts for one in moved.freedoms for name in owner):
        return half
    on_centre = bool(half.leading_edge[0, 1] == 0.0 and half.role in LYING)
    ahead, line = _edges(half, owner, moved, on_centre=on_centre)
    step = np.diff(ahead, axis=0)
    angle = np.arctan2(step[:, 2], step[:, 1])
    as_drawn = _drawn_line(half, on_centre=on_centre)
    before = _set(as_drawn, half.angle, on_centre=on_centre) - half.incidence
    set_at = _set(line, angle, on_centre=on_centre) - before
    steps = []
    for k, joint in half.joints:
        named = half.name.removesuffix(half.group) + joint
        outer = _set(_edges(half, [named] * len(owner), moved, on_centre=on_centre)[1], angle,
                     on_centre=on_centre)  # fmt: skip
        steps.append((k, float(outer[k] - before[k] - set_at[k])))
    return replace(
        half,
        leading_edge=ahead,
        chord=half.chord * np.linalg.norm(line, axis=1) / np.linalg.norm(as_drawn, axis=1),
        incidence=set_at,
        angle=angle,
        steps=tuple(steps),
    )


def _edges(
    half: Half, owner: list[str], moved: Displacements, *, on_centre: bool
) -> tuple[Array, Array]:
    """The foremost point of each cut as built, and its chord as a line, as on the right."""
    hand = MIRROR if half.side < 0 else np.ones(3)
    trailing = half.leading_edge + _drawn_line(half, on_centre=on_centre)
    ahead, behind = (
        displaced(moved.freedoms, moved.by, owner, points * hand) * hand
        for points in (half.leading_edge, trailing)
    )
    return np.asarray(ahead), np.asarray(behind - ahead)


def _drawn_line(half: Half, *, on_centre: bool) -> Array:
    """Each chord as a line, as it is drawn; at a bend a little longer than the chord, shape (n, 3).

    So a chord as built is the drawn one by the share that its line became longer.
    """
    up = normals(half.angle, upright_root=on_centre)
    c, s = np.cos(half.incidence)[:, None], np.sin(half.incidence)[:, None]
    return np.asarray(half.chord[:, None] * (c * np.array([1.0, 0.0, 0.0]) - s * up))


def _set(line: Array, angle: Array, *, on_centre: bool) -> Array:
    """How far each chord is set nose up, shape (n,) [rad]."""
    up = normals(angle, upright_root=on_centre)
    up /= np.linalg.norm(up, axis=1)[:, None]
    return np.asarray(np.arctan2(-(line * up).sum(axis=1), line[:, 0]))
