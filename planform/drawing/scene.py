"""One scene description for every picture: solids, leaders, cameras; no drawing here."""

from __future__ import annotations

import json
import os
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*")


@dataclass(frozen=True, eq=False)
class Solid:
    """A closed mesh, its facets counter-clockwise seen from outside.

    points : array, shape (n, 3) [m]
    faces : array, shape (m, 3)      point numbers
    colour : '#rrggbb'
    opacity : 1.0 for solid things; below `framing.GLASS` it is a room to look through
    """

    name: str
    points: Array
    faces: NDArray[np.int64]
    colour: str
    opacity: float = 1.0

    def __post_init__(self) -> None:
        _rows_of_three("points", self.points)
        _rows_of_three("faces", self.faces)
        _colour(self.colour)
        if not 0.0 < self.opacity <= 1.0:
            raise ValueError(f"Expected opacity above 0 and up to 1, got {self.opacity}")
        if len(self.faces) and not 0 <= self.faces.min() <= self.faces.max() < len(self.points):
            raise ValueError(f"Expected faces numbered within {len(self.points)} points")


@dataclass(frozen=True, eq=False)
class Leader:
    """A dimension between two points (3,) [m], drawn over everything with its words."""

    start: Array
    end: Array
    label: str
    colour: str

    def __post_init__(self) -> None:
        _three("start", self.start)
        _three("end", self.end)
        _colour(self.colour)


@dataclass(frozen=True, eq=False)
class Camera:
    """Where the picture is taken from.

    name : the picture's file name without its ending; letters, digits, _ and -
    direction : array, shape (3,)    from the scene toward the eye, any length
    up : array, shape (3,)           what is up in the picture; not along `direction`
    parallel : parallel projection rather than perspective
    eye : array, shape (3,)          where the eye is; None: where all is in the picture
    angle : of view, upright [rad], for an eye of its own
    """

    name: str
    direction: Array
    up: Array
    parallel: bool
    title: str
    eye: Array | None = None
    angle: float = 0.0

    def __post_init__(self) -> None:
        if not _NAME.fullmatch(self.name):
            raise ValueError(f"Expected letters, digits, _ or - as camera name, got {self.name!r}")
        _three("direction", self.direction)
        _three("up", self.up)
        turn = np.linalg.norm(np.cross(self.up, self.direction))
        if turn <= 1e-9 * np.linalg.norm(self.up) * np.linalg.norm(self.direction):
            raise ValueError("Expected up across the direction, got both along one line")
        if self.eye is not None:
            _three("eye", self.eye)
            if not 0.0 < self.angle < np.pi:
                raise ValueError(f"Expected an angle of view between 0 and pi, got {self.angle}")


@dataclass(frozen=True, eq=False)
class Scene:
    """What is seen, and from where.

    extent : points (n, 3) [m] that lie in every picture, whatever is there; None for the things
        themselves, so that each picture is as large as it can be
    """

    title: str
    solids: tuple[Solid, ...]
    leaders: tuple[Leader, ...]
    cameras: tuple[Camera, ...]
    extent: Array | None = None

    def __post_init__(self) -> None:
        names = [camera.name for camera in self.cameras]
        if len(set(names)) != len(names):
            raise ValueError(f"Expected cameras of different names, got {names}")
        if self.extent is not None:
            _rows_of_three("extent", self.extent)


def _rows_of_three(what: str, rows: NDArray[Any]) -> None:
    if rows.ndim != 2 or rows.shape[1] != 3:
        raise ValueError(f"Expected {what} with shape (n, 3), got {rows.shape}")
    if not np.isfinite(rows).all():
        raise ValueError(f"Expected finite {what}")


def _three(what: str, point: Array) -> None:
    if point.shape != (3,):
        raise ValueError(f"Expected {what} with shape (3,), got {point.shape}")
    if not np.isfinite(point).all():
        raise ValueError(f"Expected finite {what}")


def _colour(colour: str) -> None:
    if not _COLOUR.fullmatch(colour):
        raise ValueError(f"Expected a colour as #rrggbb, got {colour!r}")


def save(scene: Scene, path: Path) -> None:
    """Write a scene as .npz: plain arrays and one JSON text, nothing that runs when read.

    The file appears only when it is whole.
    """
    arrays: dict[str, Any] = {}
    for k, solid in enumerate(scene.solids):
        arrays[f"points{k}"], arrays[f"faces{k}"] = solid.points, solid.faces
    about = {
        "title": scene.title,
        "solids": [[s.name, s.colour, s.opacity] for s in scene.solids],
        "leaders": [[x.start.tolist(), x.end.tolist(), x.label, x.colour] for x in scene.leaders],
        "cameras": [
            [
                c.name,
                c.direction.tolist(),
                c.up.tolist(),
                c.parallel,
                c.title,
                _listed(c.eye),
                c.angle,
            ]
            for c in scene.cameras
        ],
        "extent": _listed(scene.extent),
    }
    arrays["about"] = np.array(json.dumps(about))
    half_made = path.with_name(path.name + ".part")
    try:
        with half_made.open("wb") as file:
            np.savez(file, **arrays)
        os.replace(half_made, path)
    finally:
        half_made.unlink(missing_ok=True)


def _listed(array: Array | None) -> object:
    return None if array is None else array.tolist()


def _array(listed: object) -> Array | None:
    return None if listed is None else np.array(listed, dtype=float)


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
            Camera(name, np.array(d), np.array(up), parallel, title, _array(eye), angle)
            for name, d, up, parallel, title, eye, angle in about["cameras"]
        ),
        _array(about["extent"]),
    )
