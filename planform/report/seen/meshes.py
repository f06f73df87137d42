"""Meshes of a look: each held once by its content, as texts that a page turns into arrays."""

from __future__ import annotations

import base64
import hashlib
from collections import OrderedDict
from collections.abc import Collection

import numpy as np
from numpy.typing import NDArray

from planform.drawing.framing import CREASE
from planform.report.record import Record

Array = NDArray[np.float64]
Faces = NDArray[np.int64]

FINE = 6
"""Decimal places of a coordinate in metres: a mesh that only stands elsewhere is the same."""

MOST = 4000
"""Meshes that are kept, the last used ones; assumption."""


class Meshes:
    """Meshes by their content; what was written once is not written again.

    most : how many are kept
    """

    def __init__(self, most: int = MOST) -> None:
        self._most = most
        self._kept: OrderedDict[str, Record] = OrderedDict()

    def put(self, points: Array, faces: Faces) -> str:
        """Take a closed mesh; its name.

        points : (n, 3) [m] ; faces : (m, 3)
        """
        corners = (np.round(points, FINE) + 0.0).astype("<f4")
        sides = np.ascontiguousarray(faces, dtype="<u4")
        digest = hashlib.blake2b(digest_size=9)
        digest.update(corners.tobytes())
        digest.update(sides.tobytes())
        name = base64.urlsafe_b64encode(digest.digest()).decode("ascii")
        if name not in self._kept:
            self._kept[name] = {
                "points": _text(corners),
                "faces": _text(sides),
                "edges": _text(creases(points, faces).astype("<u4")),
            }
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
        self._kept.move_to_end(name)
        return name

    def of(self, names: Collection[str]) -> Record:
        """The meshes of these names, each once, as the page takes them."""
        return {name: self._kept[name] for name in dict.fromkeys(names)}


def _text(array: NDArray[np.generic]) -> str:
    return base64.b64encode(array.tobytes()).decode("ascii")


def creases(points: Array, faces: Faces) -> Faces:
    """The edges of a mesh where it folds sharply, and its rims, shape (k, 2)."""
    corners = points[faces]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(normal, axis=1)
    normal = normal / np.where(size > 0.0, size, 1.0)[:, None]
    pairs = np.sort(np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]]), axis=1)
    facet = np.tile(np.arange(len(faces)), 3)
    order = np.lexsort((pairs[:, 1], pairs[:, 0]))
    pairs, facet = pairs[order], facet[order]
    same = (pairs[1:] == pairs[:-1]).all(axis=1)
    shared = np.concatenate([[False], same]) | np.concatenate([same, [False]])
    first = np.flatnonzero(same)
    turn = np.einsum("ij,ij->i", normal[facet[first]], normal[facet[first + 1]])
    flat = (size[facet[first]] == 0.0) | (size[facet[first + 1]] == 0.0)
    folded = first[(turn < np.cos(np.radians(CREASE))) & ~flat]
    return np.concatenate([pairs[folded], pairs[~shared]])
