"""Panels by their outline: a bowed rectangle, corners, or a piece cut from a body's skin."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part
from planform.core.shape import loft
from planform.core.shape.prism import prism
from planform.core.shape.section_arc import between, farthest_off, halves_of_section, spaced
from planform.design.hinges import at, hinge_frame
from planform.design.panels import Panel, PanelFrame
from planform.design.units import like

Array = NDArray[np.float64]
Faces = NDArray[np.int64]

ACROSS = 17
"""Points of a panel's skin from edge to edge."""

APART = 0.25
"""Rows of a panel's skin stand no farther apart than this [m]; assumption."""


@dataclass(frozen=True, eq=False)
class Shell:
    """A panel as built, shut.

    points : (n, 3) [m]; faces : (m, 3); bulge : how far the true panel may stand outside [m]
    edges : indices of the points along each of its edges
    """

    points: Array
    faces: Faces
    bulge: float
    edges: tuple[tuple[int, ...], ...]


def rectangle(panel: Panel) -> Shell:
    """A panel of one width along its hinge, bowed by its rise."""
    assert panel.width is not None
    start, _, across, out = hinge_frame(panel)
    rise = float(panel.rise)
    points, faces = loft.plate(
        start,
        at(panel.hinge_to),
        across * float(panel.width),
        out,
        rise,
        float(panel.thickness),
    )
    half, steps = len(points) // 2, len(points) // 4 - 1
    free = (steps, steps + 1, half + steps, half + steps + 1)
    return Shell(points, faces, rise / 256.0, (free,))


def cornered(panel: Panel) -> Shell:
    """A flat or slightly warped panel through its corners; its thickness lies inward.

    Raises ValueError where the corners cross one another or lie on one line.
    """
    assert panel.corners is not None
    corners = np.array([at(point) for point in panel.corners])
    _, _, _, out = hinge_frame(panel)
    middle = corners.mean(axis=0)
    _, sizes, axes = np.linalg.svd(corners - middle)
    if not sizes[1] > 1e-6:
        raise ValueError("its corners lie on one line; they must span an area")
    normal = axes[2] if axes[2] @ out > 0.0 else -axes[2]
    right = axes[0]
    up = np.cross(normal, right)
    plan = (corners - middle) @ np.stack([right, up], axis=1)
    x, y = plan.T
    if float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum()) < 0.0:
        corners, plan = corners[::-1], plan[::-1]
    thick = float(panel.thickness)
    _, faces = prism(plan, -thick, 0.0)
    points = np.concatenate([corners - thick * normal, corners])
    count = len(corners)
    pairs = [(k, (k + 1) % count) for k in range(count)]
    edges = tuple((a, b, a + count, b + count) for a, b in pairs)
    return Shell(points, faces.astype(np.int64), 0.0, edges)


def cut_from_skin(panel: Panel, host: Part) -> Shell:
    """A panel cut from the skin of a body, straight from frame to frame.

    Its rows are the frames, the cuts of the body between them, and more. How far the skin stands
    off between its points is measured at each row, and halfway between two rows, there doubled.
    Raises ValueError where the body has no such skin.
    """
    assert panel.frames is not None
    triangles = host.points[host.faces]
    frames = sorted(panel.frames, key=lambda frame: float(frame.fs))
    low, high = float(frames[0].fs), float(frames[-1].fs)
    inner = np.unique(host.points[:, 0])
    rows = _spread([*(float(f.fs) for f in frames), *inner[(inner > low) & (inner < high)]])
    lines = [_skin(panel, frames, triangles, station, host.name) for station in rows]
    skin = [spaced(line, ACROSS) for line in lines]
    sag = max(farthest_off(line, row) for line, row in zip(lines, skin, strict=True))
    for k, station in enumerate(0.5 * (rows[1:] + rows[:-1])):
        line = _skin(panel, frames, triangles, station, host.name)
        sag = max(sag, 2.0 * farthest_off(line, 0.5 * (skin[k] + skin[k + 1])))
    rings = np.stack(
        [
            _ring(row, station, float(panel.thickness))
            for row, station in zip(skin, rows, strict=True)
        ]
    )
    points, faces = loft.loft(rings, _strip(ACROSS))
    size = 2 * ACROSS
    first, last = 0, size * (len(rows) - 1)
    edges = (
        tuple(range(first, first + size)),
        tuple(range(last, last + size)),
        tuple(k * size + j for k in range(len(rows)) for j in (0, size - 1)),
        tuple(k * size + j for k in range(len(rows)) for j in (ACROSS - 1, ACROSS)),
    )
    return Shell(points, faces, host.bulge + sag, edges)


def _spread(stations: list[float]) -> Array:
    """The stations in order, with more between those that stand far apart [m]."""
    known = np.unique(stations)
    pieces = [
        np.linspace(a, b, int(np.ceil((b - a) / APART)), endpoint=False) for a, b in pairwise(known)
    ]
    return np.concatenate([*pieces, known[-1:]])


def _skin(
    panel: Panel, frames: list[PanelFrame], triangles: Array, station: float, body: str
) -> Array:
    """The line of the skin at a station from edge to edge of a panel, shape (n, 2) [m]."""
    at_frames = [float(frame.fs) for frame in frames]
    lower = float(np.interp(station, at_frames, [float(frame.lower) for frame in frames]))
    ups = [frame.upper for frame in frames if frame.upper is not None]
    upper = float(np.interp(station, at_frames, [float(u) for u in ups])) if ups else None
    nearest = min(frames, key=lambda frame: abs(float(frame.fs) - station))
    try:
        right, left = halves_of_section(triangles, station)
    except ValueError as error:
        ends = like(float(triangles[..., 0].min()), nearest.fs.text)
        stop = like(float(triangles[..., 0].max()), nearest.fs.text)
        raise ValueError(
            f"{error}; allowed: frames on {body}, aft of FS {ends} and ahead of FS {stop}"
        ) from None
    try:
        if panel.side != "centre":
            return between(right, lower, upper)
        over = between(right, lower, None), between(left, lower, None)
    except ValueError as error:
        ends, stop = (like(float(v), nearest.lower.text) for v in str(error).split())
        raise ValueError(
            f"no such edge at FS {like(station, nearest.fs.text)}; allowed: from WL {ends} to "
            f"WL {stop}, which {body} has there"
        ) from None
    return np.concatenate([over[0], over[1][-2::-1]])


def _ring(row: Array, station: float, thickness: float) -> Array:
    """The ring of a panel at one station: its skin, and back along its inner side."""
    run = np.gradient(row, axis=0)
    run /= np.linalg.norm(run, axis=1)[:, None]
    inner = row + thickness * np.stack([-run[:, 1], run[:, 0]], axis=1)
    ring = np.concatenate([row, inner[::-1]])
    return np.column_stack([np.full(len(ring), station), ring])


def _strip(count: int) -> Faces:
    """Triangles that fill a ring of two lines of points, there and back."""
    upper = np.arange(count)
    lower = 2 * count - 1 - upper
    return np.concatenate(
        [
            np.stack([upper[:-1], lower[1:], lower[:-1]], axis=1),
            np.stack([upper[:-1], upper[1:], lower[1:]], axis=1),
        ]
    )
