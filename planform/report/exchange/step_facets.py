"""A closed mesh as solids of plane faces with straight edges, after ISO 10303-42."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from planform.report.exchange.solids import PartSolid
from planform.report.exchange.step_text import Entities, listed, reals, string

Array = NDArray[np.float64]
Index = NDArray[np.int64]

FINE = 16
"""Decimal places of a direction."""
FLAT = 1e-9
"""A facet less high than this is a line [mm]."""


def solids_in(out: Entities, part: PartSolid) -> list[str]:
    """Write a part as MANIFOLD_SOLID_BREP, one for each of its connected pieces."""
    vertices = _vertices(out, part.points)
    edges, number, forward = edges_of(part.faces)
    curves = _curves(out, part.points, edges, vertices)
    faces = _faces(out, part, vertices, (curves, number, forward))
    solids = []
    for piece in pieces_of(part.faces, len(part.points)):
        shell = out.put(f"CLOSED_SHELL('',{listed(faces[k] for k in piece)})")
        solids.append(out.put(f"MANIFOLD_SOLID_BREP({string(part.name)},{shell})"))
    return solids


def edges_of(faces: Index) -> tuple[Index, Index, NDArray[np.bool_]]:
    """The edges (e, 2) of faces, each once; and of every face its edges' numbers and senses.

    Numbers and senses have shape (m, 3): the edge that leaves corner 0, 1, 2, and whether the face
    runs along it as it is written.
    """
    ends = np.stack([faces, np.roll(faces, -1, axis=1)], axis=2)
    low = np.sort(ends.reshape(-1, 2), axis=1)
    edges, number = np.unique(low, axis=0, return_inverse=True)
    return edges, number.reshape(-1, 3), ends[:, :, 0] < ends[:, :, 1]


def pieces_of(faces: Index, count: int) -> list[Index]:
    """The faces of each connected piece, by the lowest point that a piece has.

    count : of points
    """
    least = np.arange(count)
    while True:
        of_face = least[faces].min(axis=1)
        new = least.copy()
        for k in range(3):
            np.minimum.at(new, faces[:, k], of_face)
        new = new[new]
        if np.array_equal(new, least):
            break
        least = new
    label = least[faces[:, 0]] if len(faces) else np.zeros(0, np.int64)
    return [np.flatnonzero(label == one) for one in np.unique(label)]


def _vertices(out: Entities, points: Array) -> list[tuple[str, str]]:
    """The point and the vertex of each point."""
    found = []
    for point in points.tolist():
        at = out.put(f"CARTESIAN_POINT('',{reals(point)})")
        found.append((at, out.put(f"VERTEX_POINT('',{at})")))
    return found


def _unit(vectors: Array) -> Array:
    return np.asarray(vectors / np.linalg.norm(vectors, axis=1, keepdims=True))


def _normals(along: Array, other: Array) -> Array:
    """Square to two sides each; where they run along one line, square to that line."""
    square = np.cross(along, other)
    flat = np.linalg.norm(square, axis=1) < FLAT
    aside = np.eye(3)[np.abs(along[flat]).argmin(axis=1)]
    square[flat] = np.cross(along[flat], aside)
    return _unit(square)


def _curves(
    out: Entities, points: Array, edges: Index, vertices: list[tuple[str, str]]
) -> list[str]:  # fmt: skip
    """The edges as EDGE_CURVE on lines."""
    along = _unit(points[edges[:, 1]] - points[edges[:, 0]])
    curves = []
    for (a, b), direction in zip(edges.tolist(), along.tolist(), strict=True):
        way = out.put(f"DIRECTION('',{reals(direction, FINE)})")
        vector = out.put(f"VECTOR('',{way},1.)")
        line = out.put(f"LINE('',{vertices[a][0]},{vector})")
        curves.append(out.put(f"EDGE_CURVE('',{vertices[a][1]},{vertices[b][1]},{line},.T.)"))
    return curves


def _faces(
    out: Entities,
    part: PartSolid,
    vertices: list[tuple[str, str]],
    around: tuple[list[str], Index, NDArray[np.bool_]],
) -> list[str]:
    """The facets as ADVANCED_FACE on planes, whose normals point outward."""
    curves, number, forward = around
    corners = part.corners()
    along = _unit(corners[:, 1] - corners[:, 0])
    normal = _normals(along, corners[:, 2] - corners[:, 0])
    rows: Iterator[tuple[int, ...]] = zip(*part.faces.T.tolist(), strict=True)
    faces = []
    for k, (face, x, z) in enumerate(zip(rows, along.tolist(), normal.tolist(), strict=True)):
        senses = zip(number[k].tolist(), forward[k].tolist(), strict=True)
        sides = [
            out.put(f"ORIENTED_EDGE('',*,*,{curves[e]},{'.T.' if as_written else '.F.'})")
            for e, as_written in senses
        ]
        loop = out.put(f"EDGE_LOOP('',({','.join(sides)}))")
        bound = out.put(f"FACE_OUTER_BOUND('',{loop},.T.)")
        up = out.put(f"DIRECTION('',{reals(z, FINE)})")
        ahead = out.put(f"DIRECTION('',{reals(x, FINE)})")
        axes = out.put(f"AXIS2_PLACEMENT_3D('',{vertices[face[0]][0]},{up},{ahead})")
        plane = out.put(f"PLANE('',{axes})")
        faces.append(out.put(f"ADVANCED_FACE('',({bound}),{plane},.T.)"))
    return faces
