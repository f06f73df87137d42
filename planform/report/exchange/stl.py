"""STL, the binary form: the facets of all parts, without names; readers take it as millimetres."""

from __future__ import annotations

import numpy as np

from planform.report.exchange.solids import SolidSet

ENDING = "stl"
ABOUT = "all facets, millimetres, no names"

HEAD = b"planform, binary STL, millimetres"
"""The first bytes; must not be `solid`, by which readers tell the text form."""
FACET = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def content(solids: SolidSet) -> bytes:
    """The bytes of the file."""
    corners = np.concatenate([np.zeros((0, 3, 3)), *(part.corners() for part in solids.parts)])
    square = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    length = np.linalg.norm(square, axis=1, keepdims=True)
    facets = np.zeros(len(corners), FACET)
    facets["normal"] = square / np.where(length > 0.0, length, 1.0)
    facets["corners"] = corners
    return HEAD.ljust(80) + len(facets).to_bytes(4, "little") + bytes(facets.tobytes())
