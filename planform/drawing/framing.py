"""How a scene is framed: one aim, one look and one place for each label, whoever draws it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.drawing.scene import Camera, Scene

Array = NDArray[np.float64]
Box = tuple[float, float, float, float]

GLASS = 0.3
"""Solids below this opacity are looked through: walls, ceilings."""
CREASE = 25.0
"""Folds sharper than this are drawn as edges [deg]."""
LIGHT = np.array([-0.45, 0.70, 0.55]) / np.linalg.norm([-0.45, 0.70, 0.55])
"""Toward the light: from over the left shoulder, in the picture's right, up, to-the-eye."""
INK, HAIR = "#26343b", "#87939a"
"""Edges of solids; edges of rooms."""

ROOMY = 2.2
"""A room is shown up to this many times the size of what stands in it."""
HALF_ANGLE = np.radians(13.0)
"""Half the upright angle of view of a perspective camera; assumption."""
MARGIN = 0.07
"""Free part of the picture at each side."""


@dataclass(frozen=True, eq=False)
class View:
    """A camera aimed at a scene.

    frame : array, shape (3, 3)   columns: right, up, toward the eye
    middle : array, shape (3,)    what is in the picture's middle, in that frame [m]
    half : half the height of the picture there [m]
    distance : from `middle` to the eye [m]; None for parallel projection
    size : width and height [px]
    """

    frame: Array
    middle: Array
    half: float
    distance: float | None
    size: tuple[int, int]

    def seen(self, points: Array) -> Array:
        """Points (..., 3) in parallel projection: right, down and toward the eye, all in px."""
        width, height = self.size
        local = (points @ self.frame - self.middle) * (0.5 * height / self.half)
        return local * [1.0, -1.0, 1.0] + [0.5 * width, 0.5 * height, 0.0]

    def toward_eye(self, points: Array) -> Array:
        """The way from each of points (n, 3) to the eye [m]; in parallel projection, far along."""
        if self.distance is None:
            return np.tile(100.0 * self.half * self.frame[:, 2], (len(points), 1))
        eye = self.middle + np.array([0.0, 0.0, self.distance])
        return np.asarray(self.frame @ eye - points)

    def project(self, points: Array) -> Array:
        """Where points (..., 3) come to lie in the picture [px], perspective included."""
        if self.distance is None:
            return self.seen(points)[..., :2]
        width, height = self.size
        local = points @ self.frame - self.middle
        shrink = self.distance / (self.distance - local[..., 2:])
        scale = 0.5 * height / self.half
        return local[..., :2] * shrink * [scale, -scale] + [0.5 * width, 0.5 * height]


def axes(camera: Camera) -> Array:
    """The picture's right, up and toward-the-eye as the columns of a (3, 3) array."""
    eye = camera.direction / np.linalg.norm(camera.direction)
    right = np.cross(camera.up, eye)
    right /= np.linalg.norm(right)
    return np.stack([right, np.cross(eye, right), eye], axis=1)


def aim(scene: Scene, camera: Camera, size: tuple[int, int], *, parallel: bool) -> View:
    """The view that shows everything as large as it can be.

    What is not glass is always whole in the picture. A room much larger than what stands in it
    may run out of the picture.
    """
    frame = axes(camera)
    if camera.eye is not None and not parallel:
        return _from_eye(camera.eye, camera, frame, size)
    points = _to_frame(scene) @ frame
    whole = _to_frame(scene, glass=False) @ frame
    low, high = whole.min(axis=0), whole.max(axis=0)
    middle, reach = 0.5 * (low + high), ROOMY * 0.5 * max(*(high - low)[:2], 1e-6)
    points[:, :2] = np.clip(points[:, :2], middle[:2] - reach, middle[:2] + reach)
    aspect = size[0] / size[1]
    inner = 1.0 - 2.0 * MARGIN
    if parallel:
        low, high = points.min(axis=0), points.max(axis=0)
        half = max((high[0] - low[0]) / aspect, high[1] - low[1], 1e-6) / (2.0 * inner)
        return View(frame, 0.5 * (low + high), float(half), None, size)
    # Each side plane of the pyramid of view touches the points; so the eye's place follows.
    upright = float(np.tan(HALF_ANGLE))
    eye = np.zeros(3)
    for k, slope in enumerate((upright * aspect * inner, upright * inner)):
        above = float((points[:, k] + slope * points[:, 2]).max())
        below = float((-points[:, k] + slope * points[:, 2]).max())
        eye[k] = 0.5 * (above - below)
        eye[2] = max(eye[2], (above + below) / (2.0 * slope)) if k else (above + below) / 2 / slope
    depth = 0.5 * (points[:, 2].min() + points[:, 2].max())
    distance = max(float(eye[2] - depth), 1e-6)
    return View(frame, np.array([eye[0], eye[1], depth]), distance * upright, distance, size)


def _from_eye(eye: Array, camera: Camera, frame: Array, size: tuple[int, int]) -> View:
    """The view from where the camera says that the eye is."""
    distance = float(np.linalg.norm(camera.direction))
    middle = eye @ frame - np.array([0.0, 0.0, distance])
    return View(frame, middle, distance * float(np.tan(0.5 * camera.angle)), distance, size)


def _to_frame(scene: Scene, *, glass: bool = True) -> Array:
    """The points that must lie in the picture; a unit cube's corner where there are none."""
    if scene.extent is not None:
        return scene.extent
    groups = [s.points[np.unique(s.faces)] for s in scene.solids if glass or s.opacity >= GLASS]
    groups += [np.stack([x.start, x.end]) for x in scene.leaders]
    groups = [g for g in groups if len(g)]
    if groups:
        return np.concatenate(groups)
    return np.array([[0.0, 0, 0], [1, 1, 1]]) if glass else _to_frame(scene)


def letter_size(size: tuple[int, int]) -> float:
    """Height of a label's letters [px]."""
    return max(9.0, 0.0245 * min(size[1], 0.75 * size[0]))


def plates(ends: Array, labels: list[str], size: tuple[int, int]) -> list[Box]:
    """A place for each leader's label: beside its line, in the picture, off the other labels.

    ends : array, shape (n, 2, 2)   the projected ends of the leaders [px]
    Returns left, top, width, height of each label's plate [px].
    """
    letter = letter_size(size)
    taken: list[Box] = [_around(pair, 0.5 * letter) for pair in ends]
    out: list[Box] = []
    for pair, label in zip(ends, labels, strict=True):
        width, height = (_breadth(label) + 1.2) * letter, 1.9 * letter
        found: list[tuple[float, Box]] = []
        for step, (dx, dy) in enumerate(_directions(pair)):
            far = 1.6 * letter * (1 + step // 8)
            x, y = pair.mean(axis=0) + far * np.array([dx, dy])
            left = x - width * (0.5 - 0.5 * dx)
            top = y - height * (0.5 - 0.5 * dy)
            left = float(np.clip(left, 4.0, max(4.0, size[0] - width - 4.0)))
            top = float(np.clip(top, 4.0, max(4.0, size[1] - height - 4.0)))
            box = (left, top, width, height)
            found.append((sum(_overlap(box, other) for other in taken) + step, box))
        best = min(found, key=lambda one: one[0])[1]
        taken.append(best)
        out.append(best)
    return out


def _breadth(label: str) -> float:
    """About how long bold words are, in letter heights; assumption, from a common sans serif."""
    return sum(
        0.42 if c in " .,:;'\"!|/()[]-ijlftrI1" else 0.98 if c in "mwMW@%" else 0.7 for c in label
    )


def _directions(pair: Array) -> list[tuple[float, float]]:
    """Ways off the line's middle, best first: across the line, then all around, then farther."""
    along = pair[1] - pair[0]
    flat = abs(along[0]) > abs(along[1])
    first = [(0.0, -1.0), (0.0, 1.0)] if flat else [(1.0, 0.0), (-1.0, 0.0)]
    rest = [(0.7, -0.7), (-0.7, -0.7), (0.7, 0.7), (-0.7, 0.7)]
    last = [(1.0, 0.0), (-1.0, 0.0)] if flat else [(0.0, -1.0), (0.0, 1.0)]
    return (first + rest + last) * 4


def _around(pair: Array, margin: float) -> Box:
    low, high = pair.min(axis=0) - margin, pair.max(axis=0) + margin
    return float(low[0]), float(low[1]), float(high[0] - low[0]), float(high[1] - low[1])


def _overlap(a: Box, b: Box) -> float:
    wide = min(a[0] + a[2], b[0] + b[2]) - max(a[0], b[0])
    tall = min(a[1] + a[3], b[1] + b[3]) - max(a[1], b[1])
    return max(wide, 0.0) * max(tall, 0.0)
