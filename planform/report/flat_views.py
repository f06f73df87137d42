"""The aircraft seen flat in its own axes: from above, from the left, from ahead."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from planform.airframe.part import Part
from planform.core.vectors import Array

VIEWS = {
    "above": ("From above", np.array([[0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]])),
    "left": ("From the left", np.array([[-1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])),
    "ahead": ("From ahead", np.array([[0.0, -1.0, 0.0], [0.0, 0.0, 1.0]])),
}
"""The views by name: their words, and what lies right and up on the sheet, in aircraft axes."""


def flattened(part: Part, axes: Array) -> Part:
    """A part seen so that a view's axes lie right and up, and its depth is toward the reader."""
    depth = np.cross(axes[0], axes[1])
    return replace(part, points=part.points @ np.vstack([axes, depth]).T)
