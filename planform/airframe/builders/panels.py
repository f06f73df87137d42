"""Swing panels as solids, shut and open."""

from __future__ import annotations

from dataclasses import replace

from planform.airframe.builders.made import Made
from planform.airframe.part import Part
from planform.core.frames import about_line
from planform.core.shape import loft
from planform.design.hinges import at, hinge_frame, open_angle
from planform.design.panels import Panel


def build_panel(name: str, panel: Panel) -> Made:
    """A swing panel, shut and open."""
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
    turn, shift = about_line(start, axis, angle)
    bulge = rise / 256.0
    shut = Part(name, name, "panel", points, faces, bulge)
    return Made((shut,), (), replace(shut, points=points @ turn.T + shift), angle)
