"""Solids united into one, each facet with the number of the solid that it came from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part

Array = NDArray[np.float64]
Numbers = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class United:
    """One mesh of many solids.

    points : (n, 3) [m]; faces : (m, 3), outward; owner : (m,), the number of each facet's solid
    names : of the solids by their numbers
    apart : names of solids that could not be united with the others: they are in the mesh whole,
        and no line shows where they run into others
    """

    points: Array
    faces: Numbers
    owner: Numbers
    names: tuple[str, ...]
    apart: tuple[str, ...] = ()


def united(parts: Sequence[Part]) -> United:
    """All parts as one mesh without what lies inside another.

    Boolean union in double precision by manifold3d. A part that is no closed two-sided surface
    stays apart and is named.
    """
    import manifold3d as m3

    names = tuple(part.name for part in parts)
    first = m3.Manifold.reserve_ids(max(1, len(parts)))
    solids, apart = [], []
    for number, part in enumerate(parts):
        solid = m3.Manifold(
            m3.Mesh64(
                vert_properties=np.ascontiguousarray(part.points, dtype=np.float64),
                tri_verts=np.ascontiguousarray(part.faces, dtype=np.uint64),
                run_index=np.array([0, 3 * len(part.faces)], dtype=np.uint64),
                run_original_id=np.array([first + number], dtype=np.uint32),
            )
        )
        if solid.status() == m3.Error.NoError and not solid.is_empty():
            solids.append(solid)
        else:
            apart.append(number)
    pieces = [_mesh(m3.Manifold.batch_boolean(solids, m3.OpType.Add), first)] if solids else []
    pieces += [
        (parts[k].points, parts[k].faces, np.full(len(parts[k].faces), k, dtype=np.int64))
        for k in apart
    ]
    points, faces, owner = _joined(pieces)
    return United(points, faces, owner, names, tuple(names[k] for k in apart))


def _mesh(solid: object, first: int) -> tuple[Array, Numbers, Numbers]:
    mesh = solid.to_mesh64()  # type: ignore[attr-defined]
    points = np.asarray(mesh.vert_properties, dtype=np.float64)[:, :3]
    faces = np.asarray(mesh.tri_verts, dtype=np.int64).reshape(-1, 3)
    starts = np.asarray(mesh.run_index, dtype=np.int64) // 3
    numbers = np.asarray(mesh.run_original_id, dtype=np.int64) - first
    return points, faces, np.repeat(numbers, np.diff(starts))


def _joined(pieces: list[tuple[Array, Numbers, Numbers]]) -> tuple[Array, Numbers, Numbers]:
    if not pieces:
        return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64), np.zeros(0, dtype=np.int64)
    counts = np.cumsum([0, *(len(points) for points, _, _ in pieces)])
    return (
        np.concatenate([points for points, _, _ in pieces]),
        np.concatenate([faces + k for (_, faces, _), k in zip(pieces, counts, strict=False)]),
        np.concatenate([owner for _, _, owner in pieces]),
    )
