"""Whether convex blocks lie inside a closed mesh: a proof, not a sampling."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.distance import contains
from planform.core.vectors import cross

Array = NDArray[np.float64]
Faces = NDArray[np.int64]

TOUCH = 1e-9
"""How far a block and a facet may run into each other and count as touching [m]: rounding."""


def enclosed(blocks: Array, ways: Array, points: Array, faces: Faces) -> NDArray[np.bool_]:
    """For each block, whether it is proved to lie inside a closed mesh, shape (b,).

    No facet reaches into the block (a plane parts them), and its middle is inside; so all of it
    is. False where no such plane is found, which is no proof that it sticks out.

    blocks : array, shape (b, p, 3)   corners; the block is their convex hull [m]
    ways : array, shape (b, q, 3)     directions that planes are tried across, of any length but 0
    points, faces : the mesh, shapes (n, 3) [m] and (m, 3), wound all one way
    """
    triangles = points[faces]
    low, high = triangles.min(axis=1), triangles.max(axis=1)
    out = contains(points, faces, blocks.mean(axis=1))
    for k in np.flatnonzero(out):
        block = blocks[k]
        near = (low < block.max(axis=0) - TOUCH) & (high > block.min(axis=0) + TOUCH)
        out[k] = _all_parted(block, ways[k], triangles[near.all(axis=1)])
    return out


def _all_parted(block: Array, ways: Array, triangles: Array) -> bool:
    """Whether a plane parts each triangle, shape (t, 3, 3), from the hull of a block."""
    ways = ways / np.linalg.norm(ways, axis=1)[:, None]
    for sign in (1.0, -1.0):
        if not len(triangles):
            return True
        reach = sign * triangles @ ways.T
        own = (sign * block @ ways.T).max(axis=0)
        triangles = triangles[~(reach.min(axis=1) >= own - TOUCH).any(axis=1)]
    normal = cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    size = np.linalg.norm(normal, axis=1)
    flat = size < 1e-15
    normal /= np.where(flat, 1.0, size)[:, None]
    here = np.einsum("ij,ij->i", normal, triangles[:, 0])
    there = block @ normal.T
    parted = (there.max(axis=0) <= here + TOUCH) | (there.min(axis=0) >= here - TOUCH)
    return all(_edges_part(block, triangle) for triangle in triangles[~parted | flat])


def _edges_part(block: Array, triangle: Array) -> bool:
    """Whether a plane along an edge of a triangle and a line between two corners parts the two.

    That is what parts a block from a long facet of a twisted skin, whose own plane cuts it.
    """
    first, second = np.triu_indices(len(block), 1)
    edges = np.roll(triangle, -1, axis=0) - triangle
    across = cross((block[second] - block[first])[:, None], edges).reshape(-1, 3)
    size = np.linalg.norm(across, axis=1)
    across = across[size > 1e-12] / size[size > 1e-12, None]
    own, other = block @ across.T, triangle @ across.T
    over = other.min(axis=0) >= own.max(axis=0) - TOUCH
    under = other.max(axis=0) <= own.min(axis=0) + TOUCH
    return bool((over | under).any())
