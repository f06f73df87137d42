"""One scene description for every picture: solids, leaders, cameras; no drawing here."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Solid:
    """A closed mesh with its colour; points (n, 3) [m], faces (m, 3)."""

    name: str
    points: Array
    faces: NDArray[np.int64]
    colour: str
    opacity: float = 1.0


@dataclass(frozen=True, eq=False)
class Leader:
    """A dimension between two points (3,) [m], drawn over everything with its words."""

    start: Array
    end: Array
    label: str
    colour: str


@dataclass(frozen=True, eq=False)
class Camera:
    """Where the picture is taken from: direction (3,) from the scene toward the eye."""

    name: str
    direction: Array
    up: Array
    parallel: bool
    title: str


@dataclass(frozen=True, eq=False)
class Scene:
    """What is seen, and from where."""

    title: str
    solids: tuple[Solid, ...]
    leaders: tuple[Leader, ...]
    cameras: tuple[Camera, ...]


def save(scene: Scene, path: Path) -> None:
    """Write a scene as .npz: plain arrays and one JSON text, nothing that runs when read."""
    arrays: dict[str, Any] = {}
    for k, solid in enumerate(scene.solids):
        arrays[f"points{k}"], arrays[f"faces{k}"] = solid.points, solid.faces
    about = {
        "title": scene.title,
        "solids": [[s.name, s.colour, s.opacity] for s in scene.solids],
        "leaders": [[x.start.tolist(), x.end.tolist(), x.label, x.colour] for x in scene.leaders],
        "cameras": [
            [c.name, c.direction.tolist(), c.up.tolist(), c.parallel, c.title]
            for c in scene.cameras
        ],
    }
    arrays["about"] = np.array(json.dumps(about))
    np.savez(path, **arrays)


def load(path: Path) -> Scene:
    """Read a scene that `save` wrote."""
    with np.load(path, allow_pickle=False) as arrays:
        about = json.loads(str(arrays["about"]))
        solids = tuple(
            Solid(name, arrays[f"points{k}"], arrays[f"faces{k}"], colour, opacity)
            for k, (name, colour, opacity) in enumerate(about["solids"])
        )
    return Scene(
        about["title"],
        solids,
        tuple(Leader(np.array(a), np.array(b), t, c) for a, b, t, c in about["leaders"]),
        tuple(
            Camera(name, np.array(d), np.array(up), parallel, title)
            for name, d, up, parallel, title in about["cameras"]
        ),
    )
