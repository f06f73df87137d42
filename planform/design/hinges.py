"""Swing panels: the frame of the hinge, and the angle the panel stands open at."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.hinge import strut_angle, strut_lengths
from planform.design.fields import Point
from planform.design.panels import Panel, Strut
from planform.design.problems import Problem
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


def _toward(panel: Panel, start: Array, middle: Array | None) -> Array:
    """From the hinge to the panel, not yet square to the hinge, shape (3,)."""
    if panel.toward is not None:
        return np.array(DIRECTIONS[panel.toward])
    if panel.corners is not None:
        middle = np.array([at(point) for point in panel.corners]).mean(axis=0)
    assert middle is not None
    return np.asarray(middle - start)


def hinge_frame(panel: Panel, middle: Array | None = None) -> tuple[Array, Array, Array, Array]:
    """Hinge point, hinge axis, unit direction to the free edge, and the way it first moves.

    middle : the middle of a panel that is cut from a body's skin, shape (3,) [m]
    The axis points so that a positive angle about it opens the panel.
    Raises ValueError where hinge line, free edge and opening direction contradict one another.
    """
    start, end = at(panel.hinge_from), at(panel.hinge_to)
    if not np.linalg.norm(end - start) > 0.0:
        raise ValueError("hinge_from and hinge_to are the same point; they must stand apart")
    axis = (end - start) / np.linalg.norm(end - start)
    toward = _toward(panel, start, middle)
    across = toward - (toward @ axis) * axis
    if not np.linalg.norm(across) > 1e-6:
        where = f"runs {panel.toward}" if panel.toward else "runs through its middle"
        raise ValueError(f"the hinge line {where}, so the free edge cannot be there")
    across /= np.linalg.norm(across)
    out = np.cross(axis, across)
    if abs(out @ np.array(DIRECTIONS[panel.opens])) < 1e-6:
        raise ValueError(f"this panel cannot open {panel.opens}; its free edge moves another way")
    if out @ np.array(DIRECTIONS[panel.opens]) < 0.0:
        axis, out = -axis, -out
    return start, axis, across, out


STOP, STRUT, GIVEN = "as far as its stop lets it", "as far as its strut lets it", "as given"
"""What ends the opening of a panel."""


def held_open(panel: Panel, middle: Array | None = None) -> tuple[float, str]:
    """The panel's opening angle [rad], and what gives it: the least of struts, stop, as given.

    Raises ValueError where a strut cannot have its length.
    """
    ways = [] if panel.stop is None else [(float(panel.stop), STOP)]
    if panel.open_angle is not None:
        ways.append((float(panel.open_angle), GIVEN))
    ways += [(strut_reach(panel, strut, middle), STRUT) for strut in panel.struts]
    return min(ways, key=lambda way: way[0])


def strut_reach(panel: Panel, strut: Strut, middle: Array | None = None) -> float:
    """Opening angle [rad] at which one strut has its length.

    Raises ValueError where its mounts do not allow that.
    """
    start, axis, across, _ = hinge_frame(panel, middle)
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


def strut_problems(path: str, panel: Panel, middle: Array | None = None) -> Iterator[Problem]:
    """Struts that cannot have the length that is written; path and middle as of the panel."""
    for field in ("strut", "second_strut"):
        strut = getattr(panel, field)
        try:
            if strut is not None:
                strut_reach(panel, strut, middle)
        except ValueError as error:
            yield Problem(f"{path}.{field}.length", repr(strut.length.text), str(error), (path,))


def open_angle(panel: Panel, middle: Array | None = None) -> float:
    """The panel's opening angle [rad]; see `held_open`."""
    return held_open(panel, middle)[0]
