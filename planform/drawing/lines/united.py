"""Solids united into one, each facet with the number of the solid that it came from."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part
from planform.airframe.stance import Standing
from planform.design.kinds import ROLES

if TYPE_CHECKING:
    from manifold3d import Manifold

Array = NDArray[np.float64]
Numbers = NDArray[np.int64]
Plane = tuple[Array, float]
"""A unit normal, shape (3,), and how far along it the plane lies [m]."""

CAP = -1
"""The owner of facets that close a solid where a plane has cut it."""


@dataclass(frozen=True, eq=False)
class United:
    """One mesh of many solids.

    points : (n, 3) [m]; faces : (m, 3), outward; owner : (m,), the number of each facet's solid
    names : of the solids by their numbers
    halves : (k,), the same number for the two halves of one thing, which are one piece
    lofted : (k,), whether a solid is lofted over profiles, whose noses are round
    apart : names of solids that could not be united with the others: they are in the mesh whole,
        and no line shows where they run into others
    swept : what only tells where something could turn; it hides nothing and is not united
    """

    points: Array
    faces: Numbers
    owner: Numbers
    names: tuple[str, ...]
    halves: Numbers
    lofted: NDArray[np.bool_]
    apart: tuple[str, ...] = ()
    swept: United | None = None


def only_swept(standing: Standing) -> tuple[str, ...]:
    """Names of the parts that stand as the space that they could sweep."""
    return tuple(
        p.name for p in standing.parts if p.hinge and p.hinge.free and p.name not in standing.turns
    )


def united(
    parts: Sequence[Part], *, swept: Collection[str] = (), beyond: Plane | None = None
) -> United:
    """All parts as one mesh without what lies inside another.

    Boolean union in double precision by manifold3d. A part that is no closed two-sided surface
    stays apart and is named; so are all parts if the union itself fails. The disc of a propeller
    without blades is swept in any case.
    swept : names of further parts that only tell where something could turn
    beyond : keep only what lies behind this plane, seen against its normal, closed in the plane;
        what stays apart is then left out, and named
    """
    ghosts = {p.name for p in parts if p.name in swept or _is_disc(p)}
    solid = _united([part for part in parts if part.name not in ghosts], beyond)
    if not ghosts:
        return solid
    shown = [_united([part], beyond) for part in parts if part.name in ghosts]
    return replace(solid, swept=_together(shown))


def _is_disc(part: Part) -> bool:
    role = ROLES.get(part.role)
    return role is not None and role.line == "disc" and part.hinge is None


def _united(parts: Sequence[Part], beyond: Plane | None) -> United:
    import manifold3d as m3

    first = m3.Manifold.reserve_ids(max(1, len(parts)))
    made = [_solid(part, first + number) for number, part in enumerate(parts)]
    solids = [solid for solid in made if solid is not None]
    apart = [number for number, solid in enumerate(made) if solid is None]
    whole = m3.Manifold.batch_boolean(solids, m3.OpType.Add) if solids else m3.Manifold()
    if whole.status() != m3.Error.NoError or (solids and whole.is_empty()):
        apart, whole = list(range(len(parts))), m3.Manifold()
    if beyond is not None:
        whole = whole.trim_by_plane([-float(x) for x in beyond[0]], -beyond[1])
    pieces = [_mesh(whole, first, len(parts))]
    if beyond is None:
        pieces += [
            (parts[k].points, parts[k].faces, np.full(len(parts[k].faces), k)) for k in apart
        ]
    counts = np.cumsum([0, *(len(points) for points, _, _ in pieces)])
    things = [(part.group, part.role) for part in parts]
    return United(
        np.concatenate([points for points, _, _ in pieces]),
        np.concatenate([faces + k for (_, faces, _), k in zip(pieces, counts, strict=False)]),
        np.concatenate([owner for _, _, owner in pieces]),
        tuple(part.name for part in parts),
        np.array([things.index(one) for one in things], dtype=np.int64),
        np.array([part.caps > 0 for part in parts], dtype=bool),
        tuple(parts[k].name for k in apart),
    )


def _solid(part: Part, number: int) -> Manifold | None:
    """A part as a solid with this number on its facets; None where it is none."""
    import manifold3d as m3

    if not len(part.faces):
        return None
    solid = m3.Manifold(
        m3.Mesh64(
            vert_properties=np.ascontiguousarray(part.points, dtype=np.float64),
            tri_verts=np.ascontiguousarray(part.faces, dtype=np.uint64),
            run_index=np.array([0, 3 * len(part.faces)], dtype=np.uint64),
            run_original_id=np.array([number], dtype=np.uint32),
        )
    )
    return None if solid.status() != m3.Error.NoError or solid.is_empty() else solid


def _mesh(solid: Manifold, first: int, count: int) -> tuple[Array, Numbers, Numbers]:
    """Points, facets and owners; facets that came from no part belong to `CAP`."""
    if solid.is_empty():
        return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64), np.zeros(0, dtype=np.int64)
    mesh = solid.to_mesh64()
    points = np.asarray(mesh.vert_properties, dtype=np.float64)[:, :3]
    faces = np.asarray(mesh.tri_verts, dtype=np.int64).reshape(-1, 3)
    starts = np.asarray(mesh.run_index, dtype=np.int64) // 3
    numbers = np.asarray(mesh.run_original_id, dtype=np.int64) - first
    owner = np.repeat(numbers, np.diff(starts))
    return points, faces, np.where((owner >= 0) & (owner < count), owner, CAP)


def _together(solids: Sequence[United]) -> United:
    """Meshes side by side, not united."""
    points = np.cumsum([0, *(len(one.points) for one in solids)])
    numbers = np.cumsum([0, *(len(one.names) for one in solids)])
    pairs = list(zip(solids, points, numbers, strict=False))
    return United(
        np.concatenate([one.points for one in solids]),
        np.concatenate([one.faces + k for one, k, _ in pairs]),
        np.concatenate([np.where(one.owner == CAP, CAP, one.owner + n) for one, _, n in pairs]),
        tuple(name for one in solids for name in one.names),
        np.concatenate([one.halves + n for one, _, n in pairs]),
        np.concatenate([one.lofted for one in solids]),
        tuple(name for one in solids for name in one.apart),
    )
