"""Checks of doors and canopies: hinge, outline, struts, stop, and the body they are cut from."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping

import numpy as np

from planform.core.shape.prism import prism
from planform.design.hinges import at, hinge_frame, strut_problems
from planform.design.panels import Panel
from planform.design.problems import Problem, unknown

HALF_TURN = math.pi + 1e-9
FLAT = 1e-6
"""Corners that span less than this across count as one line [m]; assumption."""


def check_panels(panels: Mapping[str, Panel], bodies: Iterable[str]) -> Iterator[Problem]:
    """Problems of the panels of a design; bodies : names of what has a skin."""
    for name, panel in panels.items():
        yield from _check_panel(f"panels.{name}", panel, list(bodies))


def _check_panel(path: str, panel: Panel, bodies: list[str]) -> Iterator[Problem]:
    if panel.body is not None and panel.body not in bodies:
        yield unknown(f"{path}.body", panel.body, bodies)
    yield from _angles(path, panel)
    if panel.frames is not None:  # the rest is known when the body is built
        yield from _frames(path, panel)
        return
    if panel.corners is not None:
        yield from _corners(path, panel)
    try:
        hinge_frame(panel)
    except ValueError as error:
        yield Problem(path, "this hinge", str(error))
        return
    yield from strut_problems(path, panel)


def _angles(path: str, panel: Panel) -> Iterator[Problem]:
    for field in ("open_angle", "stop"):
        angle = getattr(panel, field)
        if angle is not None and not 0.0 < angle <= HALF_TURN:
            allowed = "allowed: more than 0 and at most 180 deg, from shut"
            yield Problem(f"{path}.{field}", repr(angle.text), allowed)
    if panel.stop is not None and panel.open_angle is not None and panel.open_angle > panel.stop:
        allowed = f"allowed: at most its stop ({panel.stop.text})"
        yield Problem(f"{path}.open_angle", repr(panel.open_angle.text), allowed, (f"{path}.stop",))


def _frames(path: str, panel: Panel) -> Iterator[Problem]:
    frames = panel.frames or ()
    for k in range(1, len(frames)):
        if not frames[k].fs > frames[k - 1].fs:
            allowed = f"allowed: aft of the frame before it ({frames[k - 1].fs.text})"
            given = repr(frames[k].fs.text)
            yield Problem(f"{path}.frames[{k + 1}].fs", given, allowed, (f"{path}.frames[{k}].fs",))
    given_up = [frame.upper is not None for frame in frames]
    if any(given_up) and not all(given_up):
        k = given_up.index(False)
        allowed = "this field is needed where another frame has it; leave all out to reach the top"
        yield Problem(f"{path}.frames[{k + 1}].upper", "nothing", allowed)


def _corners(path: str, panel: Panel) -> Iterator[Problem]:
    corners = np.array([at(point) for point in panel.corners or ()])
    _, sizes, axes = np.linalg.svd(corners - corners.mean(axis=0))
    if not sizes[1] > FLAT:
        allowed = "allowed: corners that span an area, not all on one line"
        yield Problem(f"{path}.corners", f"{len(corners)} corners", allowed)
        return
    plan = corners @ axes[:2].T
    x, y = plan.T
    if float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum()) < 0.0:
        plan = plan[::-1]
    try:
        prism(plan, 0.0, 1.0)
    except ValueError:
        allowed = "allowed: corners in order round the edge, each once, sides that do not cross"
        yield Problem(f"{path}.corners", f"{len(corners)} corners", allowed)
