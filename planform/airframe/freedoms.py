"""Ways in which a part may be built otherwise than it is drawn, each as a movement of points.

A movement is written in the drawn frame. A part that was set or built a little off takes along all
that hangs on it; what hangs on it may be off on its own as well. So movements are applied from the
outermost part inward, each as if nothing further in had moved yet.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from planform.airframe.drawn import Airframe
from planform.airframe.part import Part
from planform.airframe.surfaces import Half, spans
from planform.core.vectors import Array, cross
from planform.design.as_built import ANGLES, LENGTHS
from planform.design.kinds import OF_HOST

KINDS_IN_ORDER = (*LENGTHS, *ANGLES)
"""Of one part, lengths are applied first, then angles, in this order."""

Movement = Callable[[Array, float], Array]
"""Points (n, 3) of one side mirrored to the right, and by how much, to where they then are."""


@dataclass(frozen=True, eq=False)
class Freedom:
    """One way in which a part may differ from its drawing.

    of : the name in the design, without side ; side : 'left', 'right', or '' for the whole
    kind : 'sweep', 'fs', ... ; parts : names of the built parts that go along
    depth : how far out in the chain of hosts; what is deeper is applied first
    movement : of points on the right, or of the whole aircraft where `side` is ''
    mirrored : it moves points on the left, as `movement` does their mirror images
    """

    of: str
    side: str
    kind: str
    parts: frozenset[str]
    depth: int
    movement: Movement
    mirrored: bool = False

    @property
    def name(self) -> str:
        """As a builder says it: “left outer panel, sweep”."""
        return f"{self.side} {self.of}, {self.kind}".strip().replace("_", " ")

    @property
    def is_angle(self) -> bool:
        """Whether it is an angle [rad]; otherwise a length [m]."""
        return self.kind in ANGLES

    def displaced(self, points: Array, by: float) -> Array:
        """Where drawn points of its parts then are, shape (n, 3) [m]."""
        if not self.mirrored:
            return self.movement(points, by)
        return np.asarray(self.movement(points * MIRROR, by) * MIRROR)


MIRROR = np.array([1.0, -1.0, 1.0])
X, Y, Z = np.eye(3)


def displaced(
    freedoms: Sequence[Freedom], by: Sequence[float], parts: Sequence[str], points: Array
) -> Array:
    """Where drawn points are with each freedom taken by so much, shape (n, 3) [m].

    by : of each freedom [rad or m] ; parts : the part that each point belongs to
    """
    out = np.array(points, dtype=float)
    for k in sorted(range(len(freedoms)), key=lambda k: _turn(freedoms[k])):
        if by[k]:
            on = np.array([part in freedoms[k].parts for part in parts], dtype=bool)
            if on.any():
                out[on] = freedoms[k].displaced(out[on], by[k])
    return out


def _turn(freedom: Freedom) -> tuple[int, int]:
    """When a freedom is applied: what is deepest first."""
    return -freedom.depth, KINDS_IN_ORDER.index(freedom.kind)


def freedoms(airframe: Airframe) -> tuple[Freedom, ...]:
    """All ways in which the parts of a drawn airframe may differ; nothing else decides that."""
    out: list[Freedom] = []
    for half in airframe.halves:
        if half.role == "winglet":
            out += _of_winglet(airframe, half)
        else:
            out += _of_panels(airframe, half)
    for half in airframe.halves:
        pair = any(h.group == half.group and h.side != half.side for h in airframe.halves)
        if half.side > 0 and half.role != "winglet" and pair:
            out += _of_whole(airframe, half)
    out += _of_hull(airframe)
    lofted = {name for half in airframe.halves for name, _, _ in spans(half)}
    bodies = set(airframe.design.bodies)
    for part in airframe.parts:
        if part.name not in lofted and part.group not in bodies:
            out += _of_part(airframe, part)
    return tuple(out)


def _side(half: Half) -> str:
    """'left' or 'right' of a pair; '' of a surface that is one only and on the centre line."""
    if not half.name.startswith(("left ", "right ")):
        return ""
    return half.name.partition(" ")[0]


def carried_by(airframe: Airframe, names: Iterable[str]) -> frozenset[str]:
    """Parts by name and all that hangs on them."""
    wanted = set(names)
    return frozenset(p.name for p in airframe.parts if p.name in wanted or wanted & set(p.hosts))


def _of_panels(airframe: Airframe, half: Half) -> list[Freedom]:
    """Of the panels of one side of a lying surface, or of a fin."""
    out = []
    for name, first, last in spans(half):
        of = name.removeprefix("left ").removeprefix("right ")
        run = _Run.of(half, first, last)
        along = carried_by(airframe, [name])
        own = _own(airframe, name, along)
        depth = 10 + len(airframe.by_name[name].hosts)
        make = partial(Freedom, of, _side(half), depth=depth, mirrored=half.side < 0)
        out += [
            make("span", parts=along, movement=run.longer),
            make("chord", parts=own, movement=run.deeper),
            make("twist", parts=along, movement=run.twisted),
            make("incidence", parts=along, movement=partial(_spun, run.root, run.out)),
            make("dihedral", parts=along, movement=partial(_spun, run.root, X)),
            make("sweep", parts=along, movement=partial(_spun, run.root, -Z)),
        ]
    return out


def _of_winglet(airframe: Airframe, half: Half) -> list[Freedom]:
    """Of a winglet: about the foremost point of its root."""
    run = _Run.of(half, 0, len(half.chord) - 1)
    up = 1.0 if run.out[2] >= 0.0 else -1.0
    along = carried_by(airframe, [half.name])
    own = _own(airframe, half.name, along)
    depth = 10 + len(airframe.by_name[half.name].hosts)
    make = partial(Freedom, half.group, _side(half), depth=depth, mirrored=half.side < 0)
    return [
        make("fs", parts=along, movement=partial(_shifted, X)),
        make("span", parts=along, movement=run.longer),
        make("chord", parts=own, movement=run.deeper),
        make("toe", parts=along, movement=partial(_spun, run.root, up * run.out)),
        make("cant", parts=along, movement=partial(_spun, run.root, -up * X)),
        make("sweep", parts=along, movement=partial(_spun, run.root, cross(run.out, X))),
    ]


def _of_whole(airframe: Airframe, half: Half) -> list[Freedom]:
    """Of a surface in one piece over both sides: about the foremost point of its middle."""
    root = half.leading_edge[0] * np.array([1.0, 0.0, 1.0])
    along = carried_by(airframe, [half.group, f"left {half.group}", f"right {half.group}"])
    make = partial(Freedom, half.group, "", parts=along, depth=5)
    return [
        make("fs", movement=partial(_shifted, X)),
        make("bl", movement=partial(_shifted, Y)),
        make("wl", movement=partial(_shifted, Z)),
        make("incidence", movement=partial(_spun, root, Y)),
        make("tilt", movement=partial(_spun, root, X)),
        make("skew", movement=partial(_spun, root, -Z)),
    ]


def _of_hull(airframe: Airframe) -> list[Freedom]:
    """Bends of the fuselage ahead of the wing, with all that stands there."""
    hulls = [p for p in airframe.parts if p.role == "fuselage"]
    if not hulls:
        return []
    hull = max(hulls, key=lambda part: float(np.ptp(part.points[:, 0])))
    nose, tail = float(hull.points[:, 0].min()), float(hull.points[:, 0].max())
    wings = [half for half in airframe.halves if half.role == "wing"]
    widest = max(wings, key=lambda half: float(half.leading_edge[:, 1].max()), default=None)
    root = 0.5 * (nose + tail) if widest is None else float(widest.leading_edge[0, 0])
    if not nose < root:
        return []
    behind = carried_by(airframe, [h.group for h in wings] + [h.name for h in wings])
    along = frozenset(p.name for p in airframe.parts if p.name not in behind)
    middle = float(0.5 * (hull.points[:, 2].min() + hull.points[:, 2].max()))
    bend = _Bend(nose, root, middle)
    make = partial(Freedom, hull.group, "", parts=along, depth=0)
    return [
        make("bend_sideways", movement=bend.sideways),
        make("bend_up", movement=bend.upward),
        make("hull_twist", movement=bend.twisted),
    ]


def _of_part(airframe: Airframe, part: Part) -> list[Freedom]:
    """Of any other part: where it stands."""
    side = part.name.partition(" ")[0] if part.name.startswith(("left ", "right ")) else ""
    if part.role in OF_OTHERS:
        return []
    along = carried_by(airframe, [part.name]) | {
        other.name for other in airframe.parts if other.role in OF_HOST and part.name in other.hosts
    }
    of = part.name.removeprefix("left ").removeprefix("right ") if side else part.name
    depth = 20 + len(part.hosts)
    make = partial(Freedom, of, side, parts=along, depth=depth, mirrored=side == "left")
    return [
        make(kind, movement=partial(_shifted, axis))
        for kind, axis in (("fs", X), ("bl", Y), ("wl", Z))
    ]


OF_OTHERS = (*OF_HOST, "control", "fairing")
"""Roles of parts that go with what they belong to."""


def _own(airframe: Airframe, name: str, along: frozenset[str]) -> frozenset[str]:
    """A surface and what is cut out of it or stands inside it, without what begins at its tip."""
    lofted = {part for half in airframe.halves for part, _, _ in spans(half)}
    inside = (one for one in along - lofted if name in airframe.by_name[one].hosts[-2:])
    return frozenset([name, *inside])


def _shifted(axis: Array, points: Array, by: float) -> Array:
    return np.asarray(points + by * axis)


def _spun(pivot: Array, axis: Array, points: Array, by: float | Array) -> Array:
    """Points turned about a line by the right-hand rule; by : one angle, or (n, 1) angles [rad]."""
    arm = points - pivot
    c, s = np.cos(by), np.sin(by)
    along = (arm @ axis)[:, None] * axis
    turned = c * arm + s * cross(np.broadcast_to(axis, arm.shape), arm) + (1.0 - c) * along
    return np.asarray(pivot + turned)


@dataclass(frozen=True, eq=False)
class _Run:
    """One panel on the right: from its root to its tip.

    root, tip : foremost points of its ends [m] ; out : unit direction outward, square to x
    length : along `out` [m] ; chord : of its root and its tip [m]
    """

    root: Array
    tip: Array
    out: Array
    length: float
    chord: tuple[float, float]

    @classmethod
    def of(cls, half: Half, first: int, last: int) -> _Run:
        root, tip = half.leading_edge[first], half.leading_edge[last]
        away = (tip - root) * np.array([0.0, 1.0, 1.0])
        length = float(np.linalg.norm(away))
        chord = float(half.chord[first]), float(half.chord[last])
        return cls(root, tip, away / length, length, chord)

    def share(self, points: Array) -> Array:
        """How far out points are, 0 at the root and 1 at the tip and beyond, shape (n, 1)."""
        return np.clip((points - self.root) @ self.out / self.length, 0.0, 1.0)[:, None]

    def longer(self, points: Array, by: float) -> Array:
        """The panel longer by so much, along its leading edge."""
        return np.asarray(points + self.share(points) * (self.tip - self.root) * (by / self.length))

    def deeper(self, points: Array, by: float) -> Array:
        """Every chord longer by so much, the leading edge where it was."""
        share = self.share(points)
        chord = self.chord[0] + share[:, 0] * (self.chord[1] - self.chord[0])
        ahead = self.root[0] + share[:, 0] * (self.tip[0] - self.root[0])
        return np.asarray(points + ((points[:, 0] - ahead) / chord * by)[:, None] * X)

    def twisted(self, points: Array, by: float) -> Array:
        """Turned nose up about the leading edge by an angle that grows from the root on."""
        share = self.share(points)
        return _spun(self.root + share * (self.tip - self.root), self.out, points, share * by)


@dataclass(frozen=True, eq=False)
class _Bend:
    """The hull ahead of where the wing is joined, bent in a smooth arc or twisted evenly.

    nose, root : stations of its ends [m] ; middle : waterline of its centre line [m]
    """

    nose: float
    root: float
    middle: float

    def _share(self, points: Array) -> Array:
        """0 from the root aft, 1 at the nose, shape (n,)."""
        return np.maximum((self.root - points[:, 0]) / (self.root - self.nose), 0.0)

    def sideways(self, points: Array, by: float) -> Array:
        """The nose to the right by so much; every section stays square to the centre line."""
        share = self._share(points)
        slope = np.arctan(-2.0 * by * share / (self.root - self.nose))
        pivot = np.column_stack([points[:, 0], np.zeros((len(points), 2))])
        bent = _spun(pivot, Z, points, slope[:, None])
        return np.asarray(bent + (by * share**2)[:, None] * Y)

    def upward(self, points: Array, by: float) -> Array:
        """The nose up by so much."""
        share = self._share(points)
        slope = np.arctan(-2.0 * by * share / (self.root - self.nose))
        pivot = np.column_stack([points[:, 0], points[:, 1], np.full(len(points), self.middle)])
        bent = _spun(pivot, -Y, points, slope[:, None])
        return np.asarray(bent + (by * share**2)[:, None] * Z)

    def twisted(self, points: Array, by: float) -> Array:
        """The right side of the nose up, evenly from the root on."""
        pivot = np.array([0.0, 0.0, self.middle])
        return _spun(pivot, X, points, (by * self._share(points))[:, None])
