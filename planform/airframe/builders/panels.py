"""Swing panels as solids, shut, with the hinge that they open about."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from planform.airframe.builders.made import Made
from planform.airframe.builders.skin_panels import Shell, cornered, cut_from_skin, rectangle
from planform.airframe.hinge import Hinge
from planform.airframe.part import Part
from planform.airframe.surfaces import sided_name, sides
from planform.core.shape import loft
from planform.core.shape.hinge import off_line
from planform.design.hinges import hinge_frame, open_angle, strut_problems
from planform.design.panels import Panel
from planform.design.problems import InputError, Problem


def build_panel(name: str, panel: Panel, *hosts: Part) -> Made:
    """A swing panel, shut, or one on each side; its hinge stops where it stands open.

    hosts : the body whose skin it is cut from, where it is
    Raises InputError where there is no such skin, or the panel cannot open so.
    """
    try:
        shell = _shell(panel, hosts)
        middle = shell.points.mean(axis=0)
        start, axis, _, _ = hinge_frame(panel, middle)
    except ValueError as error:
        raise InputError("design", [Problem(f"panels.{name}", "this panel", str(error))]) from None
    problems = list(strut_problems(f"panels.{name}", panel, middle))
    if problems:
        raise InputError("design", problems)
    angle = open_angle(panel, middle)
    off = off_line(start, axis, shell.points)
    rim = max(shell.edges, key=lambda edge: float(off[list(edge)].mean()))
    right = Hinge(start, axis, 0.0, math.pi, angle, rim=rim)
    out = []
    for sign in sides(panel.side):
        mesh = shell.points, shell.faces
        points, faces = mesh if sign > 0 else loft.mirrored(*mesh)
        hinge = right if sign > 0 else right.mirrored()
        own = sided_name(name, panel.side, sign)
        out.append(Part(own, name, "panel", points, faces, shell.bulge, hinge=hinge))
    return Made(tuple(out))


def _shell(panel: Panel, hosts: tuple[Part, ...]) -> Shell:
    if panel.corners is not None:
        return cornered(panel)
    if panel.frames is None:
        return rectangle(panel)
    if not hosts:
        raise ValueError("frames of no body; allowed: body, the name of the one it is cut from")
    hosts = tuple(p for p in hosts if panel.body in (p.name, p.group)) or hosts
    host = max(hosts, key=lambda part: float(part.points[:, 1].mean()))
    if panel.side == "left" and len(hosts) > 1:
        host = min(hosts, key=lambda part: float(part.points[:, 1].mean()))
    mirror = np.array([1.0, -1.0 if panel.side == "left" else 1.0, 1.0])
    return cut_from_skin(panel, replace(host, points=host.points * mirror))
