"""The airframe as files other tools read: GLB (one node per part) and STL (one solid)."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from planform.airframe.stance import Standing


def write_solids(standing: Standing, folder: Path) -> tuple[Path, Path]:
    """Write airframe.glb and airframe.stl of the aircraft as it stands, in metres.

    GLB is y-up by its standard: x aft stays, height becomes y. STL keeps the floor axes.
    """
    import trimesh

    scene = trimesh.Scene()
    y_up = np.array([[1, 0, 0, 0], [0, 0, 1, 0], [0, -1, 0, 0], [0, 0, 0, 1]], float)
    solids = []
    for part in standing.parts:
        mesh = part.trimesh()
        solids.append(mesh.copy())
        mesh.apply_transform(y_up)
        scene.add_geometry(mesh, node_name=part.name, geom_name=part.name)
    glb, stl = folder / "airframe.glb", folder / "airframe.stl"
    glb.write_bytes(_bytes(scene, "glb"))
    stl.write_bytes(_bytes(trimesh.util.concatenate(solids), "stl"))
    return glb, stl


def _bytes(thing: Any, file_type: str) -> bytes:
    return bytes(thing.export(file_type=file_type))
