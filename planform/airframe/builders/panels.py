"""Swing panels as solids, shut, with the hinge that they open about."""

from __future__ import annotations

import math

from planform.airframe.builders.made import Made
from planform.airframe.hinge import Hinge
from planform.airframe.part import Part
from planform.core.shape import loft
from planform.design.hinges import at, hinge_frame, open_angle
from planform.design.panels import Panel


def build_panel(name: str, panel: Panel) -> Made:
    """A swing panel, shut; its hinge stops where it stands open."""
    start, axis, across, out = hinge_frame(panel)
    rise = float(panel.rise)
    points, faces = loft.plate(
        start,
        at(panel.hinge_to),
        across * float(panel.width),
        out,
        rise,
        float(panel.thickness),
    )
    angle = open_angle(panel)
    hinge = Hinge(start, axis, 0.0, math.pi, angle)
    bulge = rise / 256.0
    return Made((Part(name, name, "panel", points, faces, bulge, hinge=hinge),))
