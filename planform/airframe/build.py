"""Building the airframe: every part a closed mesh in aircraft axes, panels shut or open."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any, TypeVar

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
from planform.core.frames import about_line
from planform.core.shape import loft
from planform.core.shown import Brief, Shown
from planform.design.hinges import at, hinge_frame, open_angle
from planform.design.kinds import KINDS, PartKind, kind_of
from planform.design.models import (
    Body,
    Design,
    Panel,
    Propeller,
    Surface,
    Wheel,
    Winglet,
)
from planform.design.told import said

if TYPE_CHECKING:
    from trimesh import Trimesh

Array = NDArray[np.float64]
T = TypeVar("T")


@dataclass(frozen=True, eq=False)
class Part:
    """One closed solid of the aircraft.

    points : (n, 3) [m] in aircraft axes; faces : (m, 3), outward
    bulge : how far the true shape may stand outside the facets [m]
    caps : how many of the last faces close the ends of a lofted surface
    hosts : names and groups of the parts that it stands on, and of what those stand on
    """

    name: str
    group: str
    role: str
    points: Array
    faces: NDArray[np.int64]
    bulge: float = 0.0
    caps: int = 0
    hosts: tuple[str, ...] = ()

    def skin(self) -> float:
        """Area of a lofted part without its flat end caps [m2]."""
        corners = self.points[self.faces[: len(self.faces) - self.caps]]
        cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        return float(0.5 * np.linalg.norm(cross, axis=1).sum())

    def trimesh(self) -> Trimesh:
        """The part as a trimesh.Trimesh."""
        import trimesh

        return trimesh.Trimesh(self.points, self.faces, process=False)


@dataclass(frozen=True, eq=False, repr=False)
class Airframe(Shown):
    """Everything the design describes, built; stages and stances choose from it."""

    design: Design
    halves: tuple[Half, ...]
    parts: tuple[Part, ...]
    open_panels: dict[str, Part]
    open_angles: dict[str, float]
    pieces: Pieces

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The parts' names."""
        return tuple(part.name for part in self.parts)

    def halves_in(self, role: str) -> tuple[Half, ...]:
        """The sides of all surfaces with this role."""
        return tuple(half for half in self.halves if half.role == role)

    def brief(self) -> Brief:
        """How many parts there are, and how large they are together."""
        points = np.concatenate([part.points for part in self.parts])
        sizes = zip(("length", "span", "height"), np.ptp(points, axis=0), strict=True)
        units = self.design.units
        rows = tuple((what, said(float(size), "length", units)) for what, size in sizes)
        count = ("parts", str(len(self.parts)))
        return Brief(f"{self.design.name}, every part on", (*rows, count))


class Pieces:
    """What was built from each piece of a design, kept with the piece itself.

    A design with one reading moved shares all its other pieces with the one it came from; those
    need not be built again.
    """

    def __init__(self, earlier: Pieces | None = None) -> None:
        self._earlier = earlier._made if earlier else {}
        self._made: dict[tuple[int, ...], tuple[tuple[Any, ...], Any]] = {}

    def of(self, make: Callable[..., T], name: str, *pieces: object) -> T:
        """`make(name, *pieces)`, or what it gave for the very same pieces before."""
        key = tuple(id(piece) for piece in pieces)
        found = self._earlier.get(key) or (pieces, make(name, *pieces))
        self._made[key] = found
        return found[1]


@dataclass(frozen=True, eq=False)
class Made:
    """What is built from one piece of a design.

    turned, angle : of a part that opens, the part open, and how far it opens [rad]
    """

    parts: tuple[Part, ...]
    halves: tuple[Half, ...] = ()
    turned: Part | None = None
    angle: float = 0.0


def build(design: Design, like: Airframe | None = None) -> Airframe:
    """Build every part of a design.

    like : an airframe of a design that shares pieces with this one; those are taken over
    """
    pieces = Pieces(like.pieces if like else None)
    halves: list[Half] = []
    parts: list[Part] = []
    opened, angles = {}, {}
    for kind in (kind for kind in KINDS if kind.roles):
        for name, item in kind.of(design).items():
            hosts = kind.hosts(design, item)
            under = [kind_of(kind.shaped_by).of(design)[host] for host in hosts if kind.shaped_by]
            made = pieces.of(BUILDERS[kind.field], name, item, *under)
            halves += made.halves
            parts += [_standing_on(kind, hosts, parts, part) for part in made.parts]
            if made.turned is not None:
                opened[name] = _standing_on(kind, hosts, parts, made.turned)
                angles[name] = made.angle
    return Airframe(design, tuple(halves), tuple(parts), opened, angles, pieces)


def _standing_on(kind: PartKind, hosts: tuple[str, ...], parts: list[Part], part: Part) -> Part:
    """The part with what it stands on: at a surface's tip, or on the whole of what it names."""
    if not hosts:
        return part
    on = _tip_hosts(parts, hosts[0], part) if kind.shaped_by else hosts
    return replace(part, hosts=on)


def _surface(name: str, surface: Surface) -> Made:
    return _lofted(halves_of_surface(name, surface))


def _winglet(name: str, winglet: Winglet, host: Surface) -> Made:
    return _lofted(halves_of_winglet(name, winglet, halves_of_surface(winglet.on, host)))


def _lofted(halves: list[Half]) -> Made:
    parts = []
    for half in halves:
        hosts: tuple[str, ...] = ()
        for name, points, faces, bulge, caps in meshes(half):
            group = half.group
            if name != half.name:
                group = name.removeprefix("right ").removeprefix("left ")
            parts.append(Part(name, group, half.role, points, faces, bulge, caps, hosts))
            hosts = (*hosts, name, group)
    return Made(tuple(parts), tuple(halves))


def _tip_hosts(parts: list[Part], surface: str, winglet: Part) -> tuple[str, ...]:
    """What a winglet stands on: the surface's outermost part on its side, and what carries that."""
    side = np.sign(winglet.points[:, 1].mean())
    found = [p for p in parts if surface in (p.group, *p.hosts)]
    same = [p for p in found if np.sign(p.points[:, 1].mean()) == side] or found
    outer = max(same, key=lambda p: len(p.hosts))
    return (*outer.hosts, outer.name, outer.group)


def _sided(group: str, side: str, role: str, mesh: loft.Mesh, bulge: float = 0.0) -> list[Part]:
    out = []
    for sign in sides(side):
        points, faces = mesh if sign > 0 else loft.mirrored(*mesh)
        out.append(Part(sided_name(group, side, sign), group, role, points, faces, bulge))
    return out


def _body(name: str, body: Body) -> Made:
    column = {
        field: np.array([float(getattr(s, field)) for s in body.cuts])
        for field in ("fs", "half_width", "bottom", "top", "boxiness")
    }
    mesh = loft.body(
        column["fs"],
        column["half_width"],
        column["bottom"],
        column["top"],
        column["boxiness"],
        float(body.bl),
    )
    return Made(tuple(_sided(name, body.side, body.role, mesh)))


def _propeller(name: str, propeller: Propeller) -> Made:
    centre = np.array([float(propeller.disc_fs), float(propeller.bl), float(propeller.wl)])
    half = np.array([0.5 * float(propeller.depth), 0.0, 0.0])
    mesh = loft.cylinder(centre - half, centre + half, 0.5 * float(propeller.diameter))
    return Made((Part(name, name, "propeller", *mesh),))


def _wheel(name: str, wheel: Wheel) -> Made:
    axle = np.array([float(wheel.fs), float(wheel.bl), float(wheel.wl)])
    half = np.array([0.0, 0.5 * float(wheel.width), 0.0])
    mesh = loft.cylinder(axle - half, axle + half, 0.5 * float(wheel.diameter))
    out = _sided(name, wheel.side, "wheel", mesh)
    if wheel.leg is not None:
        leg = loft.cylinder(axle, at(wheel.leg.top), 0.5 * float(wheel.leg.thickness), sides=12)
        out += [
            Part(part.name + " leg", part.group, "leg", part.points, part.faces)
            for part in _sided(name, wheel.side, "leg", leg)
        ]
    return Made(tuple(out))


def _panel(name: str, panel: Panel) -> Made:
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


BUILDERS: dict[str, Callable[..., Made]] = {
    "lifting": _surface,
    "winglets": _winglet,
    "bodies": _body,
    "propeller": _propeller,
    "wheels": _wheel,
    "panels": _panel,
}
"""What builds one part of a kind, from its name, what is written of it, and its host where its
shape begins there; by the field of the design."""
