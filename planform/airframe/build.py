"""Building the airframe: every part a closed mesh in aircraft axes, panels shut or open."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planform.airframe.surfaces import (
    Half,
    halves_of_surface,
    halves_of_winglet,
    meshes,
    sided_name,
    sides,
)
from planform.core import loft
from planform.core.frames import about_line
from planform.design.hinges import at, hinge_frame, open_angle
from planform.design.models import Design, Panel

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Part:
    """One closed solid of the aircraft.

    points : (n, 3) [m] in aircraft axes; faces : (m, 3), outward
    bulge : how far the true shape may stand outside the facets [m]
    """

    name: str
    group: str
    role: str
    points: Array
    faces: NDArray[np.int64]
    bulge: float = 0.0

    def trimesh(self) -> Any:
        """The part as a trimesh.Trimesh."""
        import trimesh

        return trimesh.Trimesh(self.points, self.faces, process=False)


@dataclass(frozen=True, eq=False)
class Airframe:
    """Everything the design describes, built; stages and stances choose from it."""

    design: Design
    halves: tuple[Half, ...]
    parts: tuple[Part, ...]
    open_panels: dict[str, Part]
    open_angles: dict[str, float]

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The parts' names."""
        return tuple(part.name for part in self.parts)

    def halves_in(self, role: str) -> tuple[Half, ...]:
        """The sides of all surfaces with this role."""
        return tuple(half for half in self.halves if half.role == role)


def build(design: Design) -> Airframe:
    """Build every part of a design."""
    by_surface = {name: halves_of_surface(name, s) for name, s in design.surfaces.items()}
    by_winglet = {
        name: halves_of_winglet(name, w, by_surface[w.on]) for name, w in design.winglets.items()
    }
    halves = [half for group in (by_surface, by_winglet) for hs in group.values() for half in hs]
    parts: list[Part] = []
    for half in halves:
        for name, points, faces, bulge in meshes(half):
            group = name.removeprefix("right ").removeprefix("left ")
            if name == half.name:
                group = half.group
            parts.append(Part(name, group, half.role, points, faces, bulge))
    parts += _bodies(design)
    if design.propeller is not None:
        parts.append(_propeller(design))
    parts += _wheels(design)
    shut, opened, angles = {}, {}, {}
    for name, panel in design.panels.items():
        shut[name], opened[name], angles[name] = _panel(name, panel)
    parts += shut.values()
    return Airframe(design, tuple(halves), tuple(parts), opened, angles)


def _sided(group: str, side: str, role: str, mesh: loft.Mesh, bulge: float = 0.0) -> list[Part]:
    out = []
    for sign in sides(side):
        points, faces = mesh if sign > 0 else loft.mirrored(*mesh)
        out.append(Part(sided_name(group, side, sign), group, role, points, faces, bulge))
    return out


def _bodies(design: Design) -> list[Part]:
    out = []
    for name, body in design.bodies.items():
        column = {
            field: np.array([float(getattr(s, field)) for s in body.stations])
            for field in ("fs", "half_width", "bottom", "top", "exponent")
        }
        mesh = loft.body(
            column["fs"],
            column["half_width"],
            column["bottom"],
            column["top"],
            column["exponent"],
            float(body.bl),
        )
        out += _sided(name, body.side, body.role, mesh)
    return out


def _propeller(design: Design) -> Part:
    propeller = design.propeller
    assert propeller is not None
    centre = np.array([float(propeller.plane_fs), float(propeller.bl), float(propeller.wl)])
    half = np.array([0.5 * float(propeller.depth), 0.0, 0.0])
    mesh = loft.cylinder(centre - half, centre + half, 0.5 * float(propeller.diameter))
    return Part("propeller", "propeller", "propeller", *mesh)


def _wheels(design: Design) -> list[Part]:
    out = []
    for name, wheel in design.wheels.items():
        axle = np.array([float(wheel.fs), float(wheel.bl), float(wheel.wl)])
        half = np.array([0.0, 0.5 * float(wheel.width), 0.0])
        mesh = loft.cylinder(axle - half, axle + half, 0.5 * float(wheel.diameter))
        out += _sided(name, wheel.side, "wheel", mesh)
        if wheel.leg is not None:
            leg = loft.cylinder(axle, at(wheel.leg.top), 0.5 * float(wheel.leg.thickness), sides=12)
            out += [
                Part(part.name + " leg", part.group, "leg", part.points, part.faces)
                for part in _sided(name, wheel.side, "leg", leg)
            ]
    return out


def _panel(name: str, panel: Panel) -> tuple[Part, Part, float]:
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
    return (
        Part(name, name, "panel", points, faces, bulge),
        Part(name, name, "panel", points @ turn.T + shift, faces, bulge),
        angle,
    )
