"""Solids for a general collision library (python-fcl)."""

from __future__ import annotations

import fcl
import numpy as np


def tree(points, faces):
    """A mesh as a triangle tree."""
    model = fcl.BVHModel()
    model.beginModel(len(points), len(faces))
    model.addSubModel(np.ascontiguousarray(points), np.ascontiguousarray(faces))
    model.endModel()
    return fcl.CollisionObject(model, fcl.Transform())
