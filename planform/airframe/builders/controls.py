"""Control surfaces, cut out of the surfaces that they are on."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.builders.made import Made
from planform.airframe.fold_hinge import chord_line
from planform.airframe.hinge import Hinge
from planform.airframe.part import Part
from planform.airframe.surfaces import Half, sided_name, sides
from planform.core.shape import loft
from planform.core.shape.parting import Cut, Plane, part_off
from planform.design.controls import Control, ControlEnd, ways
from planform.design.problems import InputError, Problem

Array = NDArray[np.float64]

NEAR = 1e-6
"""An end nearer than this to that of its panel [m] is there."""

FLIP = np.array([1.0, -1.0, 1.0])


def build_control(name: str, control: Control, *under: Half | Part) -> Made:
    """A control of one side or of both, and its host with the piece cut out.

    under : the sides of its host, and the parts of them
    Raises InputError where the control is not within one panel of its host.
    """
    halves = [one for one in under if isinstance(one, Half)]
    parts = {one.name: one for one in under if isinstance(one, Part)}
    made: list[Part] = []
    cut: list[Part] = []
    before: tuple[Part, Cut, Cut] | None = None
    for half in halves:
        if half.side not in sides(control.side):
            continue
        place = _Place.of(name, control, half)
        host = parts[place.panel]
        if before is not None and np.array_equal(host.points, before[0].points * FLIP):
            left, piece = (_mirrored(one) for one in before[1:])
        else:
            left, piece = _cut(name, host, place)
        before = host, left, piece
        cut.append(replace(host, points=left.points, faces=left.faces, caps=left.walls))
        made.append(
            Part(
                sided_name(name, control.side, half.side),
                name,
                "control",
                piece.points,
                piece.faces,
                host.bulge,
                piece.walls,
                (*host.hosts, host.name, host.group),
                place.hinge(control),
            )
        )
    return Made(tuple(made), cut=tuple(cut))


def bounds(name: str, control: Control, half: Half) -> tuple[str, tuple[Plane, ...]]:
    """The panel that a control is cut out of on one side, and the planes that it lies within.

    Raises InputError as `build_control`.
    """
    place = _Place.of(name, control, half)
    return place.panel, tuple(place.planes())


def _mirrored(cut: Cut) -> Cut:
    points, faces = loft.mirrored(cut.points, cut.faces)
    return Cut(points, faces, cut.walls)


def _cut(name: str, host: Part, place: _Place) -> tuple[Cut, Cut]:
    try:
        return part_off(host.points, host.faces, host.caps, place.planes())
    except ValueError:
        raise _refused(
            f"{name}", f"a piece of {host.name}", "allowed: one piece behind one hinge line"
        ) from None


def _refused(path: str, given: str, allowed: str) -> InputError:
    return InputError("design", [Problem(f"controls.{path}", given, allowed)])


@dataclass(frozen=True, eq=False)
class _Place:
    """Where a control is on the right side: its hinge's ends, and what bounds it there.

    hinges : shape (2, 3), inner and outer end [m] ; up, out : unit vectors at both, shape (2, 3)
    inner_open, outer_open : it ends where its panel ends
    """

    panel: str
    side: int
    hinges: Array
    up: Array
    out: Array
    inner_open: bool
    outer_open: bool

    @classmethod
    def of(cls, name: str, control: Control, half: Half) -> _Place:
        at = [_along(f"{name}.{end}", getattr(control, end), half) for end in ("inner", "outer")]
        panel, first, last = _panel(name, at, half)
        inner = first if at[0] is None else at[0]
        outer = last if at[1] is None else at[1]
        if not outer > inner + NEAR:
            raise _refused(f"{name}.outer", "no span", "allowed: farther out than the inner end")
        lines = [_chord_at(half, one) for one in (inner, outer)]
        shares = [float(getattr(control, end).hinge) for end in ("inner", "outer")]
        hinges = [a + share * (b - a) for (a, b, _, _), share in zip(lines, shares, strict=True)]
        return cls(
            panel,
            half.side,
            np.array(hinges),
            np.array([up for _, _, up, _ in lines]),
            np.array([out for _, _, _, out in lines]),
            bool(abs(inner - first) < NEAR),
            bool(abs(outer - last) < NEAR),
        )

    def planes(self) -> list[Plane]:
        """What bounds the piece, on its own side; the hinge's plane last."""
        ends = []
        if not self.inner_open:
            ends.append(Plane(self.hinges[0], self.out[0]))
        if not self.outer_open:
            ends.append(Plane(self.hinges[1], -self.out[1]))
        across = np.cross(self.hinges[1] - self.hinges[0], self.up.mean(axis=0))
        ends.append(Plane(self.hinges[0], across * (1.0 if across[0] > 0.0 else -1.0)))
        if self.side > 0:
            return ends
        return [Plane(plane.point * FLIP, plane.normal * FLIP) for plane in ends]

    def hinge(self, control: Control) -> Hinge:
        """The hinge on its own side; positive as the file counts deflections."""
        plus, minus = ways(control)
        axis = self.hinges[1] - self.hinges[0]
        axis = axis / np.linalg.norm(axis)
        aft = np.array([1.0, 0.0, 0.0])
        wanted = {
            "down": -self.up.mean(axis=0),
            "outboard": np.array([0.0, 1.0, 0.0]),
            "left": np.array([0.0, -1.0, 0.0]),
        }[plus]
        if float(np.cross(axis, aft) @ wanted) < 0.0:
            axis = -axis
        most, least = float(getattr(control, plus)), -float(getattr(control, minus))
        hinge = Hinge(self.hinges[0], axis, least, most, 0.0, control.free)
        return hinge.mirrored() if self.side < 0 else hinge


def _panel(name: str, at: list[float | None], half: Half) -> tuple[str, float, float]:
    """The panel between joints that holds a control, by name, and where it begins and ends [m].

    at : its ends along the surface; None: where its panel ends
    """
    run = half.developed
    ends = [0, *(k for k, _ in half.joints), len(run) - 1]
    prefix = half.name.removesuffix(half.group)
    names = [half.name, *(prefix + joint for _, joint in half.joints)]
    spans = [
        (panel, float(run[first]), float(run[last]))
        for panel, first, last in zip(names, ends, ends[1:], strict=False)
        if all(one is None or run[first] - NEAR <= one <= run[last] + NEAR for one in at)
    ]
    if len(spans) == 1 or (spans and at[0] is not None):
        return spans[-1]  # of two that touch where it begins, the outer one
    if spans and at[1] is not None:
        return spans[0]
    if spans:
        allowed = "allowed: bl or along, as the surface has joints"
        raise _refused(f"{name}.inner", "neither bl nor along", allowed)
    allowed = "allowed: within one panel, between joints; write a control for each"
    raise _refused(f"{name}.outer", "a control over a joint", allowed)


def _along(path: str, end: ControlEnd, half: Half) -> float | None:
    """How far along its surface an end is [m]; None where the file gives no place."""
    run = half.developed
    if end.along is not None:
        found = float(end.along)
        if found > run[-1] + NEAR:
            raise _refused(f"{path}.along", repr(end.along.text), "allowed: within the surface")
        return found
    if end.bl is None:
        return None
    across = half.leading_edge[:, 1]
    if not np.all(np.diff(across) > NEAR):
        allowed = "allowed: along, its distance along a surface that stands upright"
        raise _refused(f"{path}.bl", repr(end.bl.text), allowed)
    if not across[0] - NEAR <= float(end.bl) <= across[-1] + NEAR:
        raise _refused(f"{path}.bl", repr(end.bl.text), "allowed: between the root and the tip")
    return float(np.interp(float(end.bl), across, run))


def _chord_at(half: Half, along: float) -> tuple[Array, Array, Array, Array]:
    """Leading edge, trailing edge, up and outward at a distance along a surface, (3,) each."""
    run = half.developed
    k = int(np.clip(np.searchsorted(run, along, side="left") - 1, 0, len(run) - 2))
    share = (along - run[k]) / (run[k + 1] - run[k])
    ends = [chord_line(half, j) for j in (k, k + 1)]
    edge, aft = (ends[0][j] + share * (ends[1][j] - ends[0][j]) for j in (0, 1))
    c, s = np.cos(half.angle[k]), np.sin(half.angle[k])
    return edge, aft, np.array([0.0, -s, c]), np.array([0.0, c, s])
