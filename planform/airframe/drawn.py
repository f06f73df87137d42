"""The airframe as drawn: every part a closed mesh in aircraft axes, nothing of it turned."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from planform.airframe.builders.bodies import build_body
from planform.airframe.builders.controls import build_control
from planform.airframe.builders.fittings import build_fitting
from planform.airframe.builders.gear import build_wheel
from planform.airframe.builders.lofted import build_surface, build_winglet
from planform.airframe.builders.made import Made
from planform.airframe.builders.panels import build_panel
from planform.airframe.builders.propellers import build_propeller
from planform.airframe.builders.structure import build_bulkhead, build_rib, build_spar
from planform.airframe.builders.struts import build_strut
from planform.airframe.part import Part
from planform.airframe.surfaces import (
    Half,
)
from planform.core.halting import look
from planform.core.shown import Brief, Shown
from planform.design.content import told_apart
from planform.design.kinds import KINDS, PartKind, kind_of, roles_in
from planform.design.models import Design
from planform.design.sided import differs, on_side
from planform.design.told import said

Array = NDArray[np.float64]
T = TypeVar("T")


@dataclass(frozen=True, eq=False, repr=False)
class Airframe(Shown):
    """Everything the design describes, built; stages and stances choose from it.

    moved : where points that belong to a part are as built, from where they are drawn; None where
        all is as drawn
    """

    design: Design
    halves: tuple[Half, ...]
    parts: tuple[Part, ...]
    pieces: Pieces
    moved: Callable[[str, Array], Array] | None = None

    def carried(self, part: str, point: Array) -> Array:
        """Where a drawn point of a part, or near to it, is as built, shape (3,) [m]."""
        return point if self.moved is None else self.moved(part, point[None, :])[0]

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The parts' names."""
        return tuple(part.name for part in self.parts)

    @cached_property
    def by_name(self) -> dict[str, Part]:
        """The parts by their names."""
        return {part.name: part for part in self.parts}

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

    A design with one reading moved shares all its other pieces with the one it came from, and one
    that was read again has pieces of the same content; those need not be built again.
    """

    def __init__(self, earlier: Pieces | None = None) -> None:
        self._earlier = earlier
        self._made: dict[tuple[int, ...], tuple[str, tuple[Any, ...], Any]] = {}
        self._on: dict[tuple[int, tuple[str, ...]], tuple[Part, Part]] = {}

    def of(self, make: Callable[..., T], name: str, *pieces: object) -> T:
        """`make(name, *pieces)`, or what it gave for such pieces before."""
        look()
        key = tuple(id(piece) for piece in pieces)
        made = self._before(key, name, pieces) or make(name, *pieces)
        self._made[key] = name, pieces, made
        return made

    def on(self, hosts: tuple[str, ...], part: Part) -> Part:
        """The part with what it stands on, the very same one as before where it was."""
        key = id(part), hosts
        found = self._earlier._on.get(key) if self._earlier is not None else None
        self._on[key] = found or (part, replace(part, hosts=hosts))
        return self._on[key][1]

    def _before(self, key: tuple[int, ...], name: str, pieces: tuple[object, ...]) -> Any:
        if self._earlier is None:
            return None
        if key in self._earlier._made:
            return self._earlier._made[key][2]
        return self._earlier._by_content.get((name, *map(told_apart, pieces)))

    def forget(self) -> None:
        """Let go of the earlier ones, once all is built."""
        self._earlier = None

    @cached_property
    def _by_content(self) -> dict[tuple[Hashable, ...], Any]:
        """What was made, by what its pieces hold."""
        return {
            (name, *map(told_apart, pieces)): made for name, pieces, made in self._made.values()
        }


def build_drawn(design: Design, like: Airframe | None = None) -> Airframe:
    """Build every part of a design as it is drawn.

    like : an airframe of a design that shares pieces with this one; those are taken over
    """
    pieces = Pieces(like.pieces if like else None)
    halves: list[Half] = []
    parts: list[Part] = []
    for kind in (kind for kind in KINDS if kind.roles):
        for name, item in kind.of(design).items():
            hosts = kind.hosts(design, item)
            under = _under(kind, design, hosts, parts, halves)
            drawn = [getattr(design, field) for field in kind.drawn_by]
            made = pieces.of(partial(_made, BUILDERS[kind.field]), name, item, *drawn, *under)
            halves += made.halves
            cut = {part.name: part for part in made.cut}
            parts = [cut.get(part.name, part) for part in parts]
            parts += [_standing_on(kind, hosts, parts, part, pieces) for part in made.parts]
    pieces.forget()
    return Airframe(design, tuple(halves), tuple(parts), pieces)


def _under(
    kind: PartKind,
    design: Design,
    hosts: tuple[str, ...],
    parts: list[Part],
    halves: list[Half],
) -> Sequence[object]:
    """What the shape of a piece begins at: what is written of its hosts, or their built skin."""
    if kind.inner:
        return _around(hosts, halves, parts)
    if kind.cut_out:
        on = [part for part in parts if set(hosts) & {part.name, part.group, *part.hosts}]
        return [*(half for half in halves if half.group in hosts), *on]
    if kind.laid_on:
        return [part for part in parts if part.name in hosts or part.group in hosts]
    return [kind_of(kind.shaped_by).of(design)[host] for host in hosts if kind.shaped_by]


def _around(hosts: tuple[str, ...], halves: list[Half], parts: list[Part]) -> list[object]:
    """What a piece stands in: the sides and skins of its hosts, and every body."""
    bodies = roles_in("bodies")
    sides = [half for half in halves if half.group in hosts]
    roles = {half.role for half in sides}
    skins = [
        part
        for part in parts
        if part.role in bodies
        or {part.name, part.group} & set(hosts)
        or (part.role in roles and set(part.hosts) & set(hosts))
    ]
    return [*sides, *skins]


def _made(make: Callable[..., Made], name: str, *pieces: object) -> Made:
    """What a builder makes of a part and its host; where sides differ, each side of its own."""
    if not any(map(differs, pieces)):
        return make(name, *pieces)
    right, left = (make(name, *(on_side(p, side) for p in pieces)) for side in ("right", "left"))
    pairs = zip(right.parts, left.parts, strict=True)
    parts = tuple(b if b.name.startswith("left ") else a for a, b in pairs)
    halves = tuple(b if b.side < 0 else a for a, b in zip(right.halves, left.halves, strict=True))
    cuts = tuple(
        b if b.name.startswith("left ") else a for a, b in zip(right.cut, left.cut, strict=True)
    )
    return Made(parts, halves, cuts)


def _standing_on(
    kind: PartKind, hosts: tuple[str, ...], parts: list[Part], part: Part, pieces: Pieces
) -> Part:
    """The part with what it stands on: at a surface's tip, or on the whole of what it names."""
    if not hosts or part.hosts:
        return part
    on = _tip_hosts(parts, hosts[0], part) if kind.shaped_by else hosts
    return pieces.on(on, part)


def _tip_hosts(parts: list[Part], surface: str, winglet: Part) -> tuple[str, ...]:
    """What a winglet stands on: the surface's outermost part on its side, and what carries that."""
    side = np.sign(winglet.points[:, 1].mean())
    found = [p for p in parts if surface in (p.group, *p.hosts)]
    same = [p for p in found if np.sign(p.points[:, 1].mean()) == side] or found
    outer = max(same, key=lambda p: len(p.hosts))
    return (*outer.hosts, outer.name, outer.group)


BUILDERS: dict[str, Callable[..., Made]] = {
    "lifting": build_surface,
    "winglets": build_winglet,
    "bodies": build_body,
    "spars": build_spar,
    "ribs": build_rib,
    "bulkheads": build_bulkhead,
    "propeller": build_propeller,
    "wheels": build_wheel,
    "controls": build_control,
    "panels": build_panel,
    "struts": build_strut,
    "fittings": build_fitting,
}
"""What builds one part of a kind, from its name, what is written of it, what its shape is looked up
in, and its host where its shape begins there; by the field of the design."""
