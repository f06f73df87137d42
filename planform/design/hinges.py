"""Swing panels: the frame of the hinge, and the angle the panel stands open at."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.hinge import strut_angle, strut_lengths
from planform.design.fields import Point
from planform.design.panels import Panel
from planform.design.units import like

Array = NDArray[np.float64]

DIRECTIONS = {
    "left": (0.0, -1.0, 0.0),
    "right": (0.0, 1.0, 0.0),
    "ahead": (-1.0, 0.0, 0.0),
    "aft": (1.0, 0.0, 0.0),
    "up": (0.0, 0.0, 1.0),
    "down": (0.0, 0.0, -1.0),
}


def at(point: Point) -> Array:
    """A point of the file as an array, shape (3,) [m]."""
    return np.array([float(point.fs), float(point.bl), float(point.wl)])


def hinge_frame(panel: Panel) -> tuple[Array, Array, Array, Array]:
    """Hinge point, hinge axis, unit direction to the free edge, and the way it first moves.

    The axis points so that a positive angle about it opens the panel.
    Raises ValueError where hinge line, free edge and opening direction contradict one another.
    """
    start, end = at(panel.hinge_from), at(panel.hinge_to)
    if not np.linalg.norm(end - start) > 0.0:
        raise ValueError("hinge_from and hinge_to are the same point; they must stand apart")
    axis = (end - start) / np.linalg.norm(end - start)
    toward = np.array(DIRECTIONS[panel.toward])
    across = toward - (toward @ axis) * axis
    if not np.linalg.norm(across) > 1e-6:
        raise ValueError(f"the hinge line runs {panel.toward}, so the free edge cannot be there")
    across /= np.linalg.norm(across)
    out = np.cross(axis, across)
    if abs(out @ np.array(DIRECTIONS[panel.opens])) < 1e-6:
        raise ValueError(f"this panel cannot open {panel.opens}; its free edge moves another way")
    if out @ np.array(DIRECTIONS[panel.opens]) < 0.0:
        axis, out = -axis, -out
    return start, axis, across, out


def open_angle(panel: Panel) -> float:
    """The panel's opening angle [rad], as given or from its gas strut."""
    if panel.strut is None:
        assert panel.open_angle is not None
        return float(panel.open_angle)
    start, axis, across, _ = hinge_frame(panel)
    strut = panel.strut
    frame, mount = at(strut.frame_mount), at(strut.panel_mount)
    half_turn = np.linspace(0.0, np.pi, 721)
    lengths = strut_lengths(start, axis, across, frame, mount, half_turn)
    shut, most = float(lengths[0]), float(lengths.max())
    if not shut < strut.length <= most + 1e-6:
        low, high = (like(length, strut.length.text) for length in (shut, most))
        raise ValueError(
            f"allowed: longer than its mounts are apart with the panel shut ({low}), and at most "
            f"{high}; is it the length with the panel open?"
        )
    longest = min(float(strut.length), most)
    return strut_angle(start, axis, across, frame, mount, longest)
